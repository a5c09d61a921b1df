"""How far a job is: its steps, and which of them are done."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from finplan.planning import Plan, steps_before
from finplan.record.finished import completed
from finplan.timetable import clean_ups, owed_clean_ups


def steps_of_job(plan: Plan) -> set[str]:
    """Return the ids of all steps of a job, with those that only its plan has, and tools that are cleaned already."""
    cleaned = {cleaning.id for piece in plan.pieces for cleaning in clean_ups(piece.operations)} & set(plan.done)
    return {*steps_before(plan.pieces), *cleaned, *(row.id for row in plan.timetable.steps if row.kind == "attended")}


def steps_done(plan: Plan, done: Mapping[str, datetime]) -> set[str]:
    """Return the steps of a job that are done: those that are ticked, and what comes before them.

    Nothing waits for a tool to be cleaned: that counts as done where it is ticked, or the tool was cleaned later.

    Parameters
    ----------
    plan
        The plan, as it is held
    done
        When steps were done, by id, as they were ticked
    """
    steps = {*completed(plan, done), *(steps_of_job(plan) & set(done))}
    operations = [operation for piece in plan.pieces for operation in piece.operations]
    owed = {operation.id for operation in owed_clean_ups(operations, completed(plan, done))}
    cleaned = {
        operation.clean_up.id for operation in operations if operation.clean_up is not None and operation.id in steps
    }
    return steps | ((cleaned - owed) & steps_of_job(plan))
