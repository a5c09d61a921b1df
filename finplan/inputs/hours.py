"""Working hours as they are written: ``{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}``."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta
from functools import partial
from itertools import pairwise
from typing import Annotated

from finplan import moments
from finplan.problems import did_you_mean, shown
from finplan.reading import (
    Form,
    GivenDate,
    Reads,
    check_all,
    fail,
)

_FULL_NAMES = tuple(name.lower() for name in moments.WEEKDAYS)
WEEKDAYS = tuple(name[:3] for name in _FULL_NAMES)
_CLOCK = re.compile(r"([01]?\d|2[0-4]):([0-5]\d)")
MINUTES_PER_DAY = 24 * 60
MAX_DAYS = 500
"""Single days on which somebody has other hours than usual."""


@dataclass(frozen=True, slots=True, order=True)
class Shift:
    """A stretch of working time, in minutes after the midnight before it; the end may lie on the next day."""

    start_min: int
    end_min: int

    @property
    def minutes(self) -> tuple[int, int]:
        """Its beginning and its end, in minutes after midnight."""
        return self.start_min, self.end_min

    @property
    def length_min(self) -> int:
        """How long it is."""
        return self.end_min - self.start_min


Week = tuple[tuple[Shift, ...], ...]
"""The shifts of Monday to Sunday."""


def worked_min(shifts: Iterable[Shift]) -> int:
    """Return how long somebody works in some shifts."""
    return sum(shift.length_min for shift in shifts)


def days_through(first: date, last: date) -> list[date]:
    """Return all days from one to another, both counted.

    >>> days_through(date(2027, 2, 28), date(2027, 3, 1))
    [datetime.date(2027, 2, 28), datetime.date(2027, 3, 1)]
    """
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]


def clock_minutes(text: str) -> int:
    """Return a time of day such as 8:00 in minutes after midnight.

    Raises
    ------
    ValueError
        It is no time of day.
    """
    match = _CLOCK.fullmatch(text.strip())
    if match is None or int(match.group(1)) * 60 + int(match.group(2)) > MINUTES_PER_DAY:
        msg = f"'{text[:20]}' is not a time of day"
        raise ValueError(msg)
    return int(match.group(1)) * 60 + int(match.group(2))


def _clock(value: object) -> time:
    if isinstance(value, time):
        return value
    try:
        minutes = clock_minutes(str(value))
    except ValueError:
        fail(f"'{str(value)[:20]}' is not a time of day", "expected 8:00 or 17:30")
    return time(minutes // 60 % 24, minutes % 60)


_CLOCK_SCHEMA = {"type": "string", "pattern": r"^([01]?\d|2[0-4]):[0-5]\d$"}
ClockTime = Annotated[time, Reads(_clock), Form("a time of day: 8:00", _CLOCK_SCHEMA)]


def _shift(text: object, path: tuple[str | int, ...]) -> Shift:
    expected = "expected a stretch such as 8:00-12:00"
    parts = text.split("-") if isinstance(text, str) else []
    if len(parts) != 2:
        fail(f"'{str(text)[:30]}' is not a stretch of time", expected, path)
    try:
        start, end = (clock_minutes(part) for part in parts)
    except ValueError as error:
        fail(str(error), expected, path)
    if start == end:
        fail(f"{shown(text)} has no length", expected, path)
    return Shift(start, end if end > start else end + MINUTES_PER_DAY)


def _days(key: str) -> list[int]:
    days: list[int] = []
    for piece in key.lower().replace(" ", "").split(","):
        first, dash, last = piece.partition("-")
        start = _weekday(first, key)
        end = _weekday(last, key) if dash else start
        days += [day % 7 for day in range(start, end + 1 if end >= start else end + 8)]
    return days


def _weekday(name: str, key: str) -> int:
    days = [day for day, full in enumerate(_FULL_NAMES) if full.startswith(name)]
    if len(name) < 3 or not days:
        fail(f"'{name[:20]}' is not a day of the week", did_you_mean(name, WEEKDAYS), (key,), at_key=True)
    return days[0]


def _week(value: object) -> Week:
    if isinstance(value, tuple):
        return value
    if not isinstance(value, dict) or not value:
        fail("these are not working hours", "expected days with stretches such as {mon-fri: 8:00-16:00}")
    week: list[list[Shift]] = [[] for _ in WEEKDAYS]

    def add(key: str, stretches: object) -> None:
        listed = stretches if isinstance(stretches, list) else [stretches]
        days = _days(key)
        for index, text in enumerate(listed):
            shift = _shift(text, (key, index) if isinstance(stretches, list) else (key,))
            for day in days:
                week[day].append(shift)

    check_all(*(partial(add, key, stretches) for key, stretches in value.items()))
    for shifts in week:
        shifts.sort()
    check_all(*(partial(_no_overlap, week, day) for day in range(len(WEEKDAYS))))
    return tuple(tuple(shifts) for shifts in week)


def _no_overlap(week: list[list[Shift]], day: int) -> None:
    """Fail where stretches of a day overlap, or where its night runs into the next day."""
    for before, after in pairwise(week[day]):
        if after.start_min < before.end_min:
            fail(f"stretches on {WEEKDAYS[day]} overlap", "expected stretches that follow one another")
    tomorrow = (day + 1) % 7
    if week[day] and week[tomorrow] and week[tomorrow][0].start_min < week[day][-1].end_min - MINUTES_PER_DAY:
        wrong = f"the night of {WEEKDAYS[day]} runs into the hours of {WEEKDAYS[tomorrow]}"
        fail(wrong, "expected stretches that follow one another")


_STRETCH_SCHEMA = {"type": "string", "pattern": r"^\s*\d{1,2}:\d{2}\s*-\s*\d{1,2}:\d{2}\s*$"}
_STRETCHES_SCHEMA = {"anyOf": [_STRETCH_SCHEMA, {"type": "array", "items": _STRETCH_SCHEMA}]}
_WEEK_FORM = "days of the week with stretches: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}"
_WEEK_SCHEMA = {
    "type": "object",
    "propertyNames": {"pattern": f"^({'|'.join(WEEKDAYS)})", "examples": ["mon-fri"]},
    "additionalProperties": _STRETCHES_SCHEMA,
}
WeekField = Annotated[Week, Reads(_week), Form(_WEEK_FORM, _WEEK_SCHEMA)]


def written_shifts(hours: object) -> Iterator[tuple[tuple[str | int, ...], Shift]]:
    """Give every stretch of hours as they stand in a file that was found sound, with its place in them."""
    for key, stretches in hours.items() if isinstance(hours, dict) else ():
        listed = stretches if isinstance(stretches, list) else [stretches]
        for index, text in enumerate(listed):
            path = (str(key), index) if isinstance(stretches, list) else (str(key),)
            yield path, _shift(text, path)


def _single_days(value: object) -> dict[date, tuple[Shift, ...]]:
    """Return the hours of single days."""
    if not isinstance(value, dict) or not value:
        fail("these are not hours of single days", "expected days with stretches such as {2027-03-06: 8:00-12:00}")
    if len(value) > MAX_DAYS:
        fail(f"{len(value)} days are too many", f"expected at most {MAX_DAYS}")
    days: dict[date, tuple[Shift, ...]] = {}

    def add(key: str, stretches: object) -> None:
        try:
            day = GivenDate.parse(key)
        except ValueError:
            day = None
        if day is None or day.clock is not None:
            fail(f"{shown(key)} is not a day", "expected 2027-03-06 or 6 Mar 2027", (key,), at_key=True)
        if day.day in days:
            fail(f"{shown(key)} is named twice", "name each day once", (key,), at_key=True)
        listed = stretches if isinstance(stretches, list) else [stretches]
        shifts = [
            _shift(text, (key, index) if isinstance(stretches, list) else (key,)) for index, text in enumerate(listed)
        ]
        days[day.day] = tuple(sorted(shifts))
        if any(after.start_min < before.end_min for before, after in pairwise(days[day.day])):
            fail(f"stretches on {key} overlap", "expected stretches that follow one another", (key,))

    check_all(*(partial(add, str(key), stretches) for key, stretches in value.items()))
    return days


_DAYS_FORM = "days with stretches, or none of a day off: {2027-03-06: 8:00-12:00, 2027-03-08: []}"
_DAYS_SCHEMA = {"type": "object", "additionalProperties": _STRETCHES_SCHEMA}
DaysField = Annotated[dict[date, tuple[Shift, ...]], Reads(_single_days), Form(_DAYS_FORM, _DAYS_SCHEMA)]
"""Hours of single days, in place of those of the week; none of a day off."""
