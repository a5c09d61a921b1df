"""What is read of a plan that is held, and whether all of a record can be."""

from __future__ import annotations

from datetime import datetime

from finplan.catalogue import bundled_catalogue
from finplan.ledger import (
    Ledger,
    Made,
    every_plan,
    read_back_as,
    read_whole,
    repairs_of,
    ticks_of,
    zoned,
)
from finplan.record.aired import Aired
from finplan.record.asked import Asked
from finplan.record.known import learnt_of, paces_of


def begun_from(made: Made) -> datetime:
    """Return the moment from which on work of a plan could begin.

    Raises
    ------
    LedgerError
        None is written.
    """
    with read_back_as("time"):
        return zoned(made.answer["now"])


def repairs_known(made: Made) -> tuple[int, ...]:
    """Return the ids of the repairs that a plan knew.

    Raises
    ------
    LedgerError
        What is written are none.
    """
    with read_back_as("repair"):
        return tuple(int(repair) for repair in made.answer.get("repairs", ()))


def check_readable(ledger: Ledger) -> None:
    """Read all of a record as commands do, so that what they could not read is refused before.

    Raises
    ------
    LedgerError
        Something in it is not what it should be.
    """
    read_whole(ledger)
    for plan in every_plan(ledger):
        Asked.of(plan.made.wishes)
        Aired.of(plan.made.answer)
        begun_from(plan.made)
        repairs_of(ledger, plan.job, only=repairs_known(plan.made))
    ticks, catalogue = ticks_of(ledger), bundled_catalogue()
    learnt_of(ticks, catalogue, ())
    paces_of(ticks, catalogue, ())
