"""Working hours that were probably written by a clock of twelve hours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from finplan.inputs.hours import MINUTES_PER_DAY, Shift, written_shifts
from finplan.problems import Finding, shown

_HOUR, _NOON = 60, 12 * 60
_EARLIEST, _LATEST_END = 1 * _HOUR, 8 * _HOUR
"""Nobody begins between one and six at night and is done by eight in the morning."""
_BEGINS_BEFORE = 6 * _HOUR
_LONGEST = 12 * _HOUR
"""Nobody works on for so long."""


def doubtful_hours(fields: Mapping[str, Any]) -> Iterator[Finding]:
    """Give a warning for every stretch of work that another half of the day would make an ordinary one.

    Parameters
    ----------
    fields
        Of a shop file that was found sound
    """
    people = fields.get("people")
    for index, person in enumerate(people if isinstance(people, (list, tuple)) else ()):
        for field in ("hours", "days"):
            for path, shift in written_shifts(person.get(field)):
                meant = _meant(shift)
                if meant is not None:
                    wrong = f"{shown(_written(shift))} is at night"
                    if shift.end_min > MINUTES_PER_DAY:
                        wrong = f"{shown(_written(shift))} lasts until the next day"
                    expected = f"times are of 24 hours: did you mean {_written(meant)}?"
                    place = ("people", index, field, *path)
                    yield Finding(place, wrong, expected, severity="warning", name="twelve-hour-times")


def _meant(shift: Shift) -> Shift | None:
    """Return the stretch that was probably meant; None where the one that is written may be."""
    start, end = shift.minutes
    if _EARLIEST <= start < _BEGINS_BEFORE and end <= _LATEST_END:
        return Shift(start + _NOON, end + _NOON)
    afternoon = end - MINUTES_PER_DAY + _NOON
    if end > MINUTES_PER_DAY and end - start > _LONGEST and start < afternoon <= MINUTES_PER_DAY:
        return Shift(start, afternoon)
    return None


def _written(shift: Shift) -> str:
    """Return a stretch as a file writes it.

    >>> _written(Shift(13 * 60, 17 * 60 + 30))
    '13:00-17:30'
    """
    return "-".join(f"{minutes // 60 % 24}:{minutes % 60:02d}" for minutes in shift.minutes)
