"""When a coat put on at some time reaches a stage: the rate over the real air, added up to the nominal hours."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable

from finplan.catalogue import Catalogue, Finish
from finplan.climate.air import saturation_pressure
from finplan.climate.air_table import AirTable
from finplan.climate.pace import drying_rate, time_by_thickness
from finplan.climate.runs import Runs
from finplan.climate.weather import Air
from finplan.reading import Span

_SAME_H = 1e-9
"""Sums of hours that differ by less are the same; else a coat dry at dusk would be dry next morning."""
MIN_DEW_MARGIN_C = 3.0
# Source: ISO 8502-4:2017, guidance: a surface to be coated is at least 3 °C above the dew point.


class Drying:
    """The drying of one finish in the air of a table. Minutes are counted from the table's start.

    The piece is taken to be as warm as the air. Thin wood follows the air within about an hour; heating a room adds no
    moisture to it, so that in the morning, while the wood is still cold, the dew point is still that of the night.

    A *thickness_factor* says how many times as heavy as nominal a coat is (``time_by_thickness``).
    """

    def __init__(self, finish: Finish, catalogue: Catalogue, table: AirTable) -> None:
        pace = catalogue.drying[finish.drying]
        airs = set(table.air)
        rates = {air: drying_rate(finish, pace, air) for air in airs}
        limits = finish.apply
        outside = {air for air in airs if _outside(limits.temperature_c, limits.humidity_pct, air)}
        cold = {air for air in airs if air.temperature_c < limits.temperature_c.low}
        dewy = {air for air in airs if _is_dewy(air)}
        self.finish = finish
        self._table = table
        self._from_min = (*table.from_min, table.end_min)
        gained_h = [0.0]
        for begins, ends, air in table.pieces():
            gained_h.append(gained_h[-1] + rates[air] * (ends - begins) / 60)
        self._gained_h = tuple(gained_h)
        self._outside = _runs(table, outside)
        self._cold = _runs(table, cold)
        self._dewy = _runs(table, dewy)

    def reached(self, start_min: float, nominal_h: float, thickness_factor: float = 1.0) -> float | None:
        """Return the minute at which a coat left to dry at *start_min* has dried for *nominal_h* hours of standard air.

        None where that lies beyond the table.
        """
        wanted_h = self._gained_by(start_min) + nominal_h * time_by_thickness(thickness_factor)
        piece = bisect_left(self._gained_h, wanted_h - _SAME_H)
        if piece == len(self._gained_h):
            return None
        if piece == 0:
            return start_min
        before_h, after_h = self._gained_h[piece - 1], self._gained_h[piece]
        begins, ends = self._from_min[piece - 1], self._from_min[piece]
        return max(start_min, begins + min((wanted_h - before_h) / (after_h - before_h), 1.0) * (ends - begins))

    def reached_many(
        self, starts_min: Iterable[float], nominal_h: float, thickness_factor: float = 1.0
    ) -> list[float | None]:
        """Return ``reached`` for every one of many starts."""
        return [self.reached(start_min, nominal_h, thickness_factor) for start_min in starts_min]

    def _gained_by(self, minute: float) -> float:
        piece = min(max(bisect_right(self._from_min, minute) - 1, 0), len(self._gained_h) - 2)
        begins, ends = self._from_min[piece], self._from_min[piece + 1]
        share = min(max((minute - begins) / (ends - begins), 0.0), 1.0)
        return self._gained_h[piece] + share * (self._gained_h[piece + 1] - self._gained_h[piece])

    def stands_still(self, start_min: float, end_min: float) -> bool:
        """Return whether the air is at some time too cold for the finish to dry."""
        cold = self._cold.next_from(start_min)
        return cold is not None and cold[0] < end_min

    def objection(self, start_min: float, end_min: float | None = None, thickness_factor: float = 1.0) -> str | None:
        """Return why the finish must not be put on from *start_min* to *end_min*, or None where it may be.

        The air has to be within the finish's limits all that time, at the start alone where no end is given. From the
        start until dust no longer sticks, the air has to be MIN_DEW_MARGIN_C above its dew point.
        """
        end_min = start_min if end_min is None else end_min
        outside = self._outside_limits(start_min, end_min)
        if outside is not None:
            return self._why_outside(max(start_min, outside[0]), start_min)
        dewy = self._dew(start_min, end_min, thickness_factor)
        return None if dewy is None else self._why_dewy(max(start_min, dewy[0]))

    def may_start(
        self, starts_min: Iterable[float], duration_min: float = 0.0, thickness_factor: float = 1.0
    ) -> list[bool]:
        """Return for each of many starts whether nothing objects to putting it on from there for *duration_min*."""
        return [self._refused_until(start, start + duration_min, thickness_factor) is None for start in starts_min]

    def refused(self, step_min: int, duration_min: float = 0.0, thickness_factor: float = 1.0) -> list[tuple[int, int]]:
        """Return the steps of time from which it must not be put on for *duration_min*: from one until before another.

        They come in order and may overlap; a step that is in none of them is one from which ``may_start``.
        """
        found: list[tuple[int, int]] = []
        for begins, ends in self._outside.stretches():
            first = math.ceil(begins / step_min)
            if duration_min:
                first = min(first, math.floor((begins - duration_min) / step_min) + 1)
            found.append((first, math.ceil(ends / step_min)))
        before = 0

        def meets(step: int) -> bool:
            dust_free_min = self._dust_free_min(step * step_min + duration_min, thickness_factor)
            return dust_free_min is None or dust_free_min > begins

        for begins, ends in self._dewy.stretches():
            # The later it is put on the later it is dust-free: from some step on the dew of this stretch finds it wet.
            first = bisect_left(range(before, math.ceil(begins / step_min)), True, key=meets) + before
            before = math.ceil(ends / step_min)
            found.append((first, before))
        return sorted(found)

    def next_allowed(self, minute: float, duration_min: float = 0.0, thickness_factor: float = 1.0) -> float:
        """Return the first minute from *minute* on at which nothing objects to putting it on; inf for never.

        What objects to a start objects to every later one until it is over, so each cause is skipped whole.
        """
        while minute < self._table.end_min:
            until_min = self._refused_until(minute, minute + duration_min, thickness_factor)
            if until_min is None:
                return minute
            minute = until_min
        return math.inf

    def _refused_until(self, start_min: float, end_min: float, thickness_factor: float) -> float | None:
        found = self._outside_limits(start_min, end_min) or self._dew(start_min, end_min, thickness_factor)
        return None if found is None else found[1]

    def _outside_limits(self, start_min: float, end_min: float) -> tuple[float, float] | None:
        """Return when, during a coat, the air is first outside the finish's limits."""
        run = self._outside.next_from(start_min)
        return run if run is not None and (run[0] <= start_min or run[0] < end_min) else None

    def _dew(self, start_min: float, end_min: float, thickness_factor: float) -> tuple[float, float] | None:
        """Return when, before a coat is dust-free, dew first threatens."""
        run = self._dewy.next_from(start_min)
        if run is None or run[0] <= start_min:
            return run
        dust_free_min = self._dust_free_min(end_min, thickness_factor)
        return run if dust_free_min is None or run[0] < dust_free_min else None

    def _dust_free_min(self, end_min: float, thickness_factor: float) -> float | None:
        return self.reached(end_min, self.finish.surface_dry_h, thickness_factor)

    def _why_outside(self, minute: float, start_min: float) -> str:
        air, limits = self._table.at(minute), self.finish.apply
        when = "" if minute <= start_min else " before it is on"
        low, high = limits.temperature_c.low, limits.temperature_c.high
        if not limits.temperature_c.holds(air.temperature_c):
            return f"{air.temperature_c:g} °C{when} is outside {low:g} to {high:g} °C"
        low, high = limits.humidity_pct.low, limits.humidity_pct.high
        return f"{air.humidity_pct:g} % humidity{when} is outside {low:g} to {high:g} %"

    def _why_dewy(self, minute: float) -> str:
        margin_c = self._table.at(minute).dew_margin_c
        return f"the air comes within {margin_c:.1f} °C of its dew point before the coat is dust-free"


def _is_dewy(air: Air) -> bool:
    # The dew point is within the margin where the air, so much colder, could not hold its vapour; that is quicker.
    vapour_hpa = saturation_pressure(air.temperature_c) * air.humidity_pct / 100
    return vapour_hpa > saturation_pressure(air.temperature_c - MIN_DEW_MARGIN_C)


def _outside(temperature_c: Span, humidity_pct: Span, air: Air) -> bool:
    return not (temperature_c.holds(air.temperature_c) and humidity_pct.holds(air.humidity_pct))


def _runs(table: AirTable, airs: set[Air]) -> Runs:
    return Runs.of((begins, ends) for begins, ends, air in table.pieces() if air in airs)
