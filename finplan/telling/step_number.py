"""What a step is called at the bench."""

from __future__ import annotations

from finplan.timetable import TimetableStep


def step_number(row: TimetableStep) -> str:
    """Return the short number of a row's step, as it stands on everything that is printed; empty where it has none."""
    return "" if row.number is None else str(row.number)
