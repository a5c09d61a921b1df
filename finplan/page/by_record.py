"""A piece as the workshop's record knows it: what was done, learnt and bought; and its plan held there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from finplan.ledger import open_or_read_ledger, read_ledger
from finplan.place import ledger_beside, names_from
from finplan.planning import Plan, PlannedPiece
from finplan.record import Asked, kept_plan, plan_by_record, plan_maker
from finplan.timetable import Progress


def plan_now(pieces: Sequence[PlannedPiece], file: Path, moment: datetime, progress: Progress | None = None) -> Plan:
    """Return the plan of a piece file from this moment on; its timetable is known where it is held. Writes nothing.

    Raises
    ------
    LedgerError
        There is a record that cannot be read.
    """
    make = plan_maker(pieces, moment, progress=progress)
    ledger_file = ledger_beside([file], None)
    if ledger_file is not None:
        with read_ledger(ledger_file) as ledger:
            if ledger is not None:
                return plan_by_record(ledger, names_from([file], ledger_file), make, moment)
    return make(Asked(), now=None, done={}, numbers={})


def held_plan(pieces: Sequence[PlannedPiece], file: Path, moment: datetime) -> Plan:
    """Return the plan of a piece file as the record holds it; where it holds none, one is made and held.

    Where the folder is no workshop it is made and held nowhere.

    Raises
    ------
    LedgerError
        There is a record that cannot be read or written.
    """
    make = plan_maker(pieces, moment)
    ledger_file = ledger_beside([file], None)
    if ledger_file is None:
        return make(Asked(), now=None, done={}, numbers={})
    with open_or_read_ledger(ledger_file) as ledger:
        names = names_from([file], ledger_file)
        return kept_plan(ledger, names, Asked(), make, made=moment, say=lambda _: None)
