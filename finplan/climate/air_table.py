"""The air of a stretch of time, in pieces within which it does not change."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property, lru_cache
from typing import TypeVar
from zoneinfo import ZoneInfo

from finplan.climate.measured import Measured
from finplan.climate.weather import Air, Weather
from finplan.inputs import Climate
from finplan.itself import Itself

Told = TypeVar("Told")
_MINUTE, _DAY = timedelta(minutes=1), timedelta(days=1)


@dataclass(frozen=True)
class AirTable:
    """The air of the shop in pieces within which it does not change; times are minutes after *start*."""

    start: datetime
    from_min: tuple[float, ...]
    """Where each piece begins: the first at 0."""
    air: tuple[Air, ...]
    end_min: int
    """Where the last piece ends."""
    before: tuple[tuple[float, Air], ...] = ()
    """The pieces of the day before *start*, by when each begins: what lies in the shop has that air in it still."""

    def at(self, minute: float) -> Air:
        """Return the air at a minute after the start; beyond the ends, that of the end."""
        return self.air[max(bisect_right(self.from_min, minute) - 1, 0)]

    @cached_property
    def kinds(self) -> tuple[tuple[Air, ...], tuple[int, ...]]:
        """Each air that there is, once, and which of them that of every piece is: few of thousands of pieces differ."""
        place = {air: number for number, air in enumerate(dict.fromkeys(self.air))}
        return tuple(place), tuple(map(place.__getitem__, self.air))

    def of_each(self, told: Callable[[Air], Told]) -> list[Told]:
        """Return what is told of the air of every piece; asked once of each air that there is."""
        airs, which = self.kinds
        of_kind = [told(air) for air in airs]
        return [of_kind[kind] for kind in which]

    def pieces(self) -> Iterator[tuple[float, float, Air]]:
        """Give every piece: from which minute, until before which, and its air."""
        return zip(self.from_min, (*self.from_min[1:], self.end_min), self.air, strict=True)


def air_table(weather: Weather, start: datetime, days: int, measured: Iterable[Measured] = ()) -> AirTable:
    """Return the air for so many days from *start* on; what was *measured* of it as it was, the last word counting.

    One shop is planned in again and again, to see what helps: for the same climate it is the same table.
    """
    return _table(Itself(weather.climate), weather.zone, start.astimezone(UTC), days, tuple(measured))


@lru_cache(maxsize=16)
def _table(
    climate: Itself[Climate], zone: ZoneInfo, start: datetime, days: int, measured: tuple[Measured, ...]
) -> AirTable:
    end = start + timedelta(days=days)
    from_min: list[float] = []
    airs: list[Air] = []
    weather = Weather(climate.it, zone)
    early = weather.pieces(start - _DAY, start)
    before = tuple((minute, air) for begins, air in early if (minute := (begins - start) / _MINUTE) < 0)
    for begins, air in weather.pieces(start, end):
        if begins >= end:
            break
        minute = max((begins - start) / _MINUTE, 0.0)
        while from_min and from_min[-1] >= minute:  # what was over before the start, or what a clock change skipped
            from_min.pop()
            airs.pop()
        if not airs or (air is not airs[-1] and air != airs[-1]):
            from_min.append(minute)
            airs.append(air)
    for reading in measured:
        _lay_over(from_min, airs, reading, start)
    return AirTable(start, tuple(from_min), tuple(airs), days * 24 * 60, before)


def _lay_over(from_min: list[float], airs: list[Air], measured: Measured, start: datetime) -> None:
    """Put air that was measured in the place of what was there; what was not measured of it stays."""
    begins, ends = ((moment - start) / _MINUTE for moment in (measured.begins, measured.ends))
    begins = max(begins, 0.0)
    if begins >= ends:
        return
    _cut(from_min, airs, begins)
    _cut(from_min, airs, ends)
    for index in range(bisect_left(from_min, begins), bisect_left(from_min, ends)):
        air = airs[index]
        airs[index] = Air(
            air.temperature_c if measured.temperature_c is None else measured.temperature_c,
            air.humidity_pct if measured.humidity_pct is None else measured.humidity_pct,
        )


def _cut(from_min: list[float], airs: list[Air], minute: float) -> None:
    index = bisect_right(from_min, minute)
    if from_min[index - 1] != minute:
        from_min.insert(index, minute)
        airs.insert(index, airs[index - 1])
