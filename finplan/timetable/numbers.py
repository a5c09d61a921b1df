"""Short numbers of the steps, to be said at the bench and ticked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from finplan.timetable.timetable import TimetableStep


def numbered(rows: Iterable[TimetableStep], kept: Mapping[str, int]) -> tuple[TimetableStep, ...]:
    """Return the rows of a timetable with the short number of their step: 1, 2, 3 … in the order in which they begin.

    Parameters
    ----------
    rows
        In order of time
    kept
        What steps are called on paper already, by id: a step keeps its number, and what is new gets one above all

    Notes
    -----
    What dries has the number of the coat that dries, and a step that a break interrupts has one for all its stretches.
    """
    listed = list(rows)
    numbers = dict(kept)
    last = max(numbers.values(), default=0)
    for row in listed:
        if row.work not in numbers:
            last += 1
            numbers[row.work] = last
    return tuple(replace(row, number=numbers[row.work]) for row in listed)
