"""Reading a held plan: made of the files as they are now, with what was known then and the timetable that is held."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from typing import Protocol

from finplan.inputs import LeadTest
from finplan.ledger import HeldPlan, Ledger, RepairEntry, plan_numbered, repairs_of, ticks_of
from finplan.planning import Plan, with_stages
from finplan.record.aired import Aired, with_air
from finplan.record.asked import Asked
from finplan.record.film_tested import NOTHING_TESTED, results_of
from finplan.record.frozen import HeldOtherwiseError, measures_thawed, thawed
from finplan.record.known import with_known
from finplan.record.readable import begun_from, repairs_known
from finplan.timetable import Timetable


class Making(Protocol):
    """Makes a plan of which nothing is reckoned yet."""

    def __call__(
        self,
        asked: Asked,
        *,
        now: datetime | None,
        done: Mapping[str, datetime],
        numbers: Mapping[str, int],
        repairs: Sequence[RepairEntry] = (),
        results: Mapping[str, LeadTest] = NOTHING_TESTED,
    ) -> Plan:
        """Return it.

        Parameters
        ----------
        asked
            What is asked of it
        now
            The earliest moment at which work may start; None for this moment, or what is asked
        done
            What has been done, beside what is asked
        numbers
            What steps are called already
        repairs
            What of its coats went wrong and is mended
        results
            What tests of an old coating came to, by the ids of their steps
        """


def read_plan(ledger: Ledger, held: HeldPlan, make: Making) -> Plan | None:
    """Return a plan as it is held, of the files as they are now; None where it cannot be read."""
    asked = replace(Asked.of(held.made.wishes), done=())
    learn = not asked.catalogue_only
    now = begun_from(held.made)
    knew = repairs_of(ledger, held.job, only=repairs_known(held.made))
    tested = results_of(ticks_of(ledger, held.job, up_to=held.made.last_tick))
    plan = make(asked, now=now, done=held.made.done, numbers={}, repairs=knew, results=tested)
    plan = with_air(plan, Aired.of(held.made.answer))
    try:
        timetable = thawed(held.made, plan.shop.time_zone)
    except HeldOtherwiseError:
        return None
    named = {row.piece for row in timetable.steps} | {times.piece for times in timetable.pieces}
    if not named <= {piece.name for piece in plan.pieces}:
        return None  # its rows are of another job than its files
    plan = with_known(plan, ledger, up_to_tick=held.made.last_tick, up_to_event=held.made.last_event, learn=learn)
    return with_number(ledger, held, plan, timetable)


def with_number(ledger: Ledger, held: HeldPlan, plan: Plan, timetable: Timetable) -> Plan:
    """Return a plan with its number, its timetable, and that of the plan whose place it took."""
    before = plan_numbered(ledger, held.job, held.number - 1)
    replaced = measured = None
    if before is not None:
        measured = measures_thawed(before.made.answer)
        with suppress(HeldOtherwiseError):
            replaced = thawed(before.made, plan.shop.time_zone)
    numbered_plan = replace(
        plan, number=held.number, held_since=held.made.at, replaced=replaced, measured_before=measured
    )
    return with_stages(numbered_plan, timetable=timetable)
