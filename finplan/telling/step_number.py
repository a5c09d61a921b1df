"""What a step is called at the bench."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.telling.sets import numbers_words
from finplan.timetable import TimetableStep


def step_number(row: TimetableStep) -> str:
    """Return the short number of a row's step, as it stands on everything that is printed; empty where it has none."""
    return "" if row.number is None else str(row.number)


def step_numbers(go: Sequence[TimetableStep]) -> str:
    """Return the short numbers of several steps that are told in one line."""
    return numbers_words(sorted({row.number for row in go if row.number is not None}))
