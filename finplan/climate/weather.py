"""The air of the shop over time, from what the shop file says."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from functools import cache
from itertools import islice, pairwise
from zoneinfo import ZoneInfo

from finplan.climate.air import dew_point
from finplan.inputs import Climate, DayAir, DayAndNight, NightAir, Reading

_PIECE_MIN = 15
"""Between two readings of a logger the air goes along a straight line, taken in pieces no longer than this. Even where
it changes by 10 °C in an hour, the rate of drying in the middle of a piece is within 0.2 % of the mean over it."""
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Air:
    """Temperature in °C, relative humidity in %."""

    temperature_c: float
    humidity_pct: float

    @property
    def dew_point_c(self) -> float:
        """The temperature of a surface on which dew forms. [°C]"""
        return dew_point(self.temperature_c, self.humidity_pct)

    @property
    def dew_margin_c(self) -> float:
        """How far the air is above its dew point. [K]"""
        return self.temperature_c - self.dew_point_c


STANDARD = Air(23.0, 50.0)
"""The air for which nominal drying times hold. Source: ISO 3270:1984, standard atmosphere 23 °C and 50 %."""


@dataclass(frozen=True, slots=True)
class Weather:
    """The air of a shop, by wall-clock time."""

    climate: Climate
    zone: ZoneInfo

    def pieces(self, start: datetime, end: datetime) -> Iterator[tuple[datetime, Air]]:
        """Give the pieces of unchanging air from *start* to *end*: when each begins, in universal time, and its air.

        The first begins at *start* or before. Where the clock goes back or forward, a piece may begin before the one
        before it; it then counts from there on.

        Day and night, and months, change at their wall-clock times. Before its first row a log stands for its first
        reading; after its last row its last 24 hours repeat, by the clock on the wall.
        """
        if self.climate.log is None:
            return self._daily(start, end)
        return self._logged(self.climate.log, start, end)

    def _daily(self, start: datetime, end: datetime) -> Iterator[tuple[datetime, Air]]:
        day = start.astimezone(self.zone).date()
        last = end.astimezone(self.zone).date()
        changes = cache(lambda month: _changes(self._of(month)))
        while day <= last:
            for clock, air in changes(day.month):
                yield self._moment(datetime.combine(day, clock)), air
            day += _DAY

    def _of(self, month: int) -> DayAndNight:
        climate = self.climate
        if climate.months is not None:
            return climate.months[month]
        if climate.day is None or climate.night is None:
            msg = "a climate without months and log has day and night"
            raise ValueError(msg)
        return DayAndNight.model_construct(day=climate.day, night=climate.night)

    def _moment(self, wall_clock: datetime) -> datetime:
        return wall_clock.replace(tzinfo=self.zone).astimezone(UTC)

    def _logged(self, log: tuple[Reading, ...], start: datetime, end: datetime) -> Iterator[tuple[datetime, Air]]:
        last = log[-1].when
        yield from _recorded(log, start, min(end, last))
        last_day = [
            (max(begins, last - _DAY).astimezone(self.zone).replace(tzinfo=None), air)
            for begins, air in _recorded(log, last - _DAY, last)
        ]
        days = max(1, (start - last) // _DAY)
        as_if_utc = [(wall_clock.replace(tzinfo=UTC), air) for wall_clock, air in last_day]
        while last + (days - 1) * _DAY < end:
            later = days * _DAY
            first, final = (
                (wall_clock + later).replace(tzinfo=self.zone) for wall_clock, _ in (last_day[0], last_day[-1])
            )
            if first.utcoffset() == final.utcoffset():  # no clock change: of thousands of pieces none is asked of alone
                later -= first.utcoffset() or timedelta(0)
                yield from ((begins + later, air) for begins, air in as_if_utc)
            else:
                yield from ((self._moment(wall_clock + later), air) for wall_clock, air in last_day)
            days += 1


def _changes(air: DayAndNight) -> list[tuple[time, Air]]:
    """Return what the air of a day is from which time on."""
    return [(clock, _at(air.day, air.night, clock)) for clock in sorted({time(0), air.day.from_, air.day.to})]


def _at(day: DayAir, night: NightAir, clock: time) -> Air:
    from_, to = day.from_, day.to  # 0:00 to 24:00, as any other time to itself, is all day
    is_day = from_ <= clock < to if from_ < to else clock >= from_ or clock < to
    return Air(day.temperature_c, day.humidity_pct) if is_day else Air(night.temperature_c, night.humidity_pct)


def _recorded(log: tuple[Reading, ...], start: datetime, end: datetime) -> Iterator[tuple[datetime, Air]]:
    """Give the pieces of a log between two moments, the second no later than its last row."""
    if start < log[0].when:
        yield start.astimezone(UTC), Air(log[0].temperature_c, log[0].humidity_pct)
    first = max(0, bisect_right(log, start, key=lambda row: row.when) - 1)
    for before, after in pairwise(islice(log, first, None)):
        if before.when >= end:
            return
        gap = after.when - before.when
        count = math.ceil(gap / timedelta(minutes=_PIECE_MIN))
        for number in range(count):
            yield before.when.astimezone(UTC) + number * gap / count, air_between(before, after, (number + 0.5) / count)


def air_between(before: Reading, after: Reading, share: float) -> Air:
    """Return the air a share of the way from one reading to the next."""
    # No logger measures finer than this, and what repeats need be worked out only once.
    return Air(
        round(before.temperature_c + share * (after.temperature_c - before.temperature_c), 2),
        round(before.humidity_pct + share * (after.humidity_pct - before.humidity_pct), 1),
    )
