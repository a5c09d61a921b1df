"""Working hours that were probably written by a clock of twelve hours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from finplan.inputs.hours import MINUTES_PER_DAY, Shift, written_shifts
from finplan.inputs.plausible_sizes import HoursBounds
from finplan.problems import Finding, shown

_NOON_MIN = MINUTES_PER_DAY // 2


def doubtful_hours(fields: Mapping[str, Any], bounds: HoursBounds) -> Iterator[Finding]:
    """Give a warning for every stretch of work that another half of the day would make an ordinary one.

    Parameters
    ----------
    fields
        Of a shop file that was found sound
    bounds
        What hardly anybody's hours are
    """
    people = fields.get("people")
    for index, person in enumerate(people if isinstance(people, (list, tuple)) else ()):
        for field in ("hours", "days"):
            for path, shift in written_shifts(person.get(field)):
                meant = _meant(shift, bounds)
                if meant is not None:
                    wrong = f"{shown(_written(shift))} is at night"
                    if shift.end_min > MINUTES_PER_DAY:
                        wrong = f"{shown(_written(shift))} lasts until the next day"
                    expected = f"times are of 24 hours: did you mean {_written(meant)}?"
                    place = ("people", index, field, *path)
                    yield Finding(place, wrong, expected, severity="warning", name="twelve-hour-times")


def _meant(shift: Shift, bounds: HoursBounds) -> Shift | None:
    """Return the stretch that was probably meant; None where the one that is written may be."""
    start, end = shift.minutes
    if bounds.at_night(start, end):
        return Shift(start + _NOON_MIN, end + _NOON_MIN)
    afternoon = end - MINUTES_PER_DAY + _NOON_MIN
    if end > MINUTES_PER_DAY and end - start > bounds.longest_h * 60 and start < afternoon <= MINUTES_PER_DAY:
        return Shift(start, afternoon)
    return None


def _written(shift: Shift) -> str:
    """Return a stretch as a file writes it.

    >>> _written(Shift(13 * 60, 17 * 60 + 30))
    '13:00-17:30'
    """
    return "-".join(f"{minutes // 60 % 24}:{minutes % 60:02d}" for minutes in shift.minutes)
