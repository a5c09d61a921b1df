"""Working hours as they are written: ``{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import time
from itertools import pairwise
from typing import Annotated

from pydantic import PlainValidator

from finplan.problems import did_you_mean
from finplan.reading import fail

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_CLOCK = re.compile(r"([01]?\d|2[0-4]):([0-5]\d)")
_MINUTES_PER_DAY = 24 * 60


@dataclass(frozen=True, slots=True, order=True)
class Shift:
    """A stretch of working time, in minutes after the midnight before it; the end may lie on the next day."""

    start_min: int
    end_min: int


Week = tuple[tuple[Shift, ...], ...]
"""The shifts of Monday to Sunday."""


def clock_minutes(text: str) -> int:
    """Return a time of day such as 8:00 in minutes after midnight.

    Raises
    ------
    ValueError
        It is no time of day.
    """
    found = _CLOCK.fullmatch(text.strip())
    if found is None or int(found.group(1)) * 60 + int(found.group(2)) > _MINUTES_PER_DAY:
        msg = f"'{text[:20]}' is not a time of day"
        raise ValueError(msg)
    return int(found.group(1)) * 60 + int(found.group(2))


def _clock(value: object) -> time:
    if isinstance(value, time):
        return value
    try:
        minutes = clock_minutes(str(value))
    except ValueError:
        fail(f"'{str(value)[:20]}' is not a time of day", "expected 8:00 or 17:30")
    return time(minutes // 60 % 24, minutes % 60)


Clock = Annotated[time, PlainValidator(_clock)]


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
        fail(f"'{text}' has no length", expected, path)
    return Shift(start, end if end > start else end + _MINUTES_PER_DAY)


def _days(key: str) -> list[int]:
    days: list[int] = []
    for piece in key.lower().replace(" ", "").split(","):
        first, _, last = piece.partition("-")
        for name in filter(None, (first, last)):
            if name[:3] not in WEEKDAYS:
                fail(f"'{name[:20]}' is not a day of the week", did_you_mean(name, WEEKDAYS), (key,), at_key=True)
        start = WEEKDAYS.index(first[:3])
        end = WEEKDAYS.index(last[:3]) if last else start
        days += [day % 7 for day in range(start, end + 1 if end >= start else end + 8)]
    return days


def _week(value: object) -> Week:
    if isinstance(value, tuple):
        return value
    if not isinstance(value, dict) or not value:
        fail("these are not working hours", "expected days with stretches such as {mon-fri: 8:00-16:00}")
    week: list[list[Shift]] = [[] for _ in WEEKDAYS]
    for key, stretches in value.items():
        listed = stretches if isinstance(stretches, list) else [stretches]
        shifts = [_shift(text, (key, i) if isinstance(stretches, list) else (key,)) for i, text in enumerate(listed)]
        for day in _days(key):
            week[day] += shifts
    for day, shifts in enumerate(week):
        shifts.sort()
        for before, after in pairwise(shifts):
            if after.start_min < before.end_min:
                fail(f"stretches on {WEEKDAYS[day]} overlap", "expected stretches that follow one another")
    return tuple(tuple(shifts) for shifts in week)


WeekField = Annotated[Week, PlainValidator(_week)]
