"""Writing a plan as a calendar file."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from finplan.calendar import plan_calendar
from finplan.cli.output import refuse_what_does_not_fit, write_bytes
from finplan.planning import Plan


def write_calendar(plan: Plan, output: Path, made: datetime, issue: int) -> str:
    """Write the calendar of a plan and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        It cannot be written.
    """
    refuse_what_does_not_fit(plan, output)
    return write_bytes(plan_calendar(plan, made, issue), output)
