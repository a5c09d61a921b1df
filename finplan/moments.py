"""How days and times of day are told, in English whatever the machine's language."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_STEP = timedelta(minutes=5)


def show_day(day: date) -> str:
    """Return a day in short.

    >>> show_day(date(2027, 3, 2))
    'Tue 2 Mar'
    """
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"


def show_year_day(day: date) -> str:
    """Return a day in short, with its year.

    >>> show_year_day(date(2027, 3, 2))
    'Tue 2 Mar 2027'
    """
    return f"{show_day(day)} {day.year}"


def show_day_seen_from(day: date, today: date) -> str:
    """Return a day in short, with its year where that is not today's.

    >>> show_day_seen_from(date(2027, 3, 2), date(2027, 1, 4)), show_day_seen_from(date(2028, 3, 2), date(2027, 1, 4))
    ('Tue 2 Mar', 'Thu 2 Mar 2028')
    """
    return show_day(day) if day.year == today.year else show_year_day(day)


def show_long_day(day: date) -> str:
    """Return a day in full.

    >>> show_long_day(date(2027, 3, 2))
    'Tuesday 2 March 2027'
    """
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def show_clock(moment: datetime) -> str:
    """Return the time of day.

    >>> show_clock(datetime(2027, 3, 2, 8, 5))
    '08:05'
    """
    return f"{moment.hour:02d}:{moment.minute:02d}"


def show_clock_min(minutes: int) -> str:
    """Return the time of day so many minutes after a midnight, also of the next day.

    >>> show_clock_min(485), show_clock_min(24 * 60 + 30)
    ('08:05', '00:30')
    """
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


MinuteSpan = tuple[int, int]
"""From when until when, in minutes after midnight."""


def show_stretches(stretches: Iterable[MinuteSpan]) -> str:
    """Return stretches of a day.

    >>> show_stretches([(480, 720), (750, 1020)])
    '08:00–12:00, 12:30–17:00'
    """
    return ", ".join(f"{show_clock_min(start)}–{show_clock_min(end)}" for start, end in stretches)


def show_week(week: Sequence[Sequence[MinuteSpan]]) -> str:
    """Return the hours of a week from Monday on, days that are alike together.

    >>> show_week([[(480, 1020)]] * 4 + [[(480, 780)], [], []])
    'Mon–Thu 08:00–17:00; Fri 08:00–13:00'
    """
    texts = []
    for hours, days in groupby(enumerate(week), key=lambda day: day[1]):
        numbers = [number for number, _ in days]
        first, last = (WEEKDAYS[number][:3] for number in (numbers[0], numbers[-1]))
        if hours:
            texts.append(f"{first if first == last else f'{first}–{last}'} {show_stretches(hours)}")
    return "; ".join(texts)


def show_moment(moment: datetime) -> str:
    """Return day and time of day.

    >>> show_moment(datetime(2027, 3, 2, 8, 5))
    'Tue 2 Mar 08:05'
    """
    return f"{show_day(moment.date())} {show_clock(moment)}"


def not_before(moment: datetime) -> datetime:
    """Return a moment rounded up to the next five minutes, so that nothing is touched too early.

    >>> not_before(datetime(2027, 3, 2, 8, 5, 1))
    datetime.datetime(2027, 3, 2, 8, 10)
    """
    down = not_after(moment)
    return down if down == moment else down + _STEP


def not_after(moment: datetime) -> datetime:
    """Return a moment rounded down to five minutes, so that nothing is done too late."""
    return moment.replace(minute=moment.minute // 5 * 5, second=0, microsecond=0)
