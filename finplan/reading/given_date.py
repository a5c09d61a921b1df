"""A date as a person writes it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time

from finplan.moments import MONTHS

FIRST_YEAR, LAST_YEAR = 1970, 2199
"""Far enough for any delivery, and well within what clocks and calendars can count."""

_TIME = r"(?:[T ]++(?P<hour>\d{1,2}):(?P<minute>\d{2})(?: ?(?P<half>[AaPp][Mm]))?)?"
_IN_FIGURES = re.compile(r"(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})" + _TIME)
_DAY_FIRST = re.compile(r"(?P<day>\d{1,2})\.?+ ++(?P<month>[A-Za-z]{3,9})\.?+,?+ ++(?P<year>\d{4})" + _TIME)
_MONTH_FIRST = re.compile(r"(?P<month>[A-Za-z]{3,9})\.?+ ++(?P<day>\d{1,2}),?+ ++(?P<year>\d{4})" + _TIME)
_LETTERS = 3
"""So many tell every month from the others."""
DATE_FORM = "2027-03-12 or 12 Mar 2027, and a time of day where it matters: 2027-03-12 15:00"


@dataclass(frozen=True, slots=True)
class GivenDate:
    """A date, and the time of day where one was given."""

    day: date
    clock: time | None = None

    @classmethod
    def parse(cls, value: object) -> GivenDate:
        """Return the date that a person wrote: 2027-03-12, 12 Mar 2027 or March 12, 2027, with or without a time.

        A month in figures stands in the middle of a date that begins with the year, so that no day is taken for it.

        Raises
        ------
        ValueError
            It is not of that form, or there is no such day or time.

        Examples
        --------
        >>> str(GivenDate.parse("29 Jan 2027 15:00")), str(GivenDate.parse("September 3, 2027 3:00 pm"))
        ('2027-01-29 15:00', '2027-09-03 15:00')
        """
        text = str(value).strip()
        match = _IN_FIGURES.fullmatch(text) or _DAY_FIRST.fullmatch(text) or _MONTH_FIRST.fullmatch(text)
        try:
            if match is None:
                raise ValueError
            day = date(int(match["year"]), _month(match["month"]), int(match["day"]))
            clock = time(_hour(match["hour"], match["half"]), int(match["minute"])) if match["hour"] else None
        except ValueError:
            msg = f"'{text[:40]}' is not a date"
            raise ValueError(msg) from None
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            msg = f"'{text[:40]}' is not a date from {FIRST_YEAR} to {LAST_YEAR}"
            raise ValueError(msg)
        return cls(day, clock)

    def __str__(self) -> str:
        return self.day.isoformat() + (f" {self.clock:%H:%M}" if self.clock else "")


def _hour(text: str, half: str | None) -> int:
    """Return the hour of a day of 24, of which *half* may be named.

    Raises
    ------
    ValueError
        A half of a day has no such hour.
    """
    hour = int(text)
    if half is None:
        return hour
    if not 1 <= hour <= 12:
        msg = f"'{text} {half}' is no hour"
        raise ValueError(msg)
    return hour % 12 + (12 if half.lower() == "pm" else 0)


def _month(text: str) -> int:
    """Return the number of a month that is written in figures or by its name.

    Raises
    ------
    ValueError
        No month is called so.
    """
    number = int(text) if text.isdigit() else month_number(text)
    if number is None:
        msg = f"'{text}' is not a month"
        raise ValueError(msg)
    return number


def month_number(name: str) -> int | None:
    """Return the number of a month that is called by its English name, or by three letters of it or more.

    >>> month_number("Sept"), month_number("ju"), month_number("May")
    (9, None, 5)
    """
    begun = name.lower()
    numbers = [number for number, month in enumerate(MONTHS, start=1) if month.lower().startswith(begun)]
    return numbers[0] if numbers and len(name) >= _LETTERS else None
