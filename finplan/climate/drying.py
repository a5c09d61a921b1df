"""When a coat put on at some time reaches a stage: the rate over the real air, added up to the nominal hours."""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from finplan.catalogue import Catalogue, Finish
from finplan.climate.pace import drying_rate
from finplan.climate.weather import Air, Weather

STEP_MIN = 15
MIN_DEW_MARGIN_C = 3.0
# Source: ISO 8502-4:2017, guidance: a surface to be coated is at least 3 °C above the dew point.


@dataclass(frozen=True, slots=True)
class AirTable:
    """The air of the shop in steps of STEP_MIN from *start* on; times are minutes after it."""

    start: datetime
    air: tuple[Air, ...]

    @property
    def end_min(self) -> int:
        """Where the table ends. [min]"""
        return len(self.air) * STEP_MIN

    def at(self, minute: float) -> Air:
        """Return the air at a minute after the start; beyond the ends, that of the end."""
        return self.air[min(max(int(minute // STEP_MIN), 0), len(self.air) - 1)]


def air_table(weather: Weather, start: datetime, days: int) -> AirTable:
    """Return the air for so many days from *start* on."""
    start = start.astimezone(UTC)
    steps = range(days * 24 * 60 // STEP_MIN)
    return AirTable(start, tuple(weather.at(start + timedelta(minutes=STEP_MIN * step)) for step in steps))


def _next_step(table: AirTable, wanted: dict[Air, bool]) -> list[float]:
    """Return for every step of the table the first one from it on whose air is wanted; inf for none."""
    following = math.inf
    steps: list[float] = []
    for step in range(len(table.air) - 1, -1, -1):
        following = step if wanted[table.air[step]] else following
        steps.append(following)
    return steps[::-1]


class Drying:
    """The drying of one finish in the air of a table. Minutes are counted from the table's start."""

    def __init__(self, finish: Finish, catalogue: Catalogue, table: AirTable) -> None:
        pace = catalogue.drying[finish.drying]
        rates = {air: drying_rate(finish, pace, air) for air in set(table.air)}
        self.finish = finish
        self._table = table
        self._gained_h = [0.0]
        for air in table.air:
            self._gained_h.append(self._gained_h[-1] + rates[air] * STEP_MIN / 60)
        limits = finish.apply
        allowed = {
            air: limits.temperature_c.holds(air.temperature_c) and limits.humidity_pct.holds(air.humidity_pct)
            for air in rates
        }
        self._next_allowed = _next_step(table, allowed)
        self._next_dewy = _next_step(table, {air: air.dew_margin_c < MIN_DEW_MARGIN_C for air in rates})

    def next_allowed(self, minute: float) -> float:
        """Return the first minute from *minute* on at which the air is within the finish's limits; inf for never."""
        step = min(max(int(minute // STEP_MIN), 0), len(self._next_allowed) - 1)
        return max(minute, self._next_allowed[step] * STEP_MIN)

    def reached(self, start_min: float, nominal_h: float) -> float | None:
        """Return the minute at which a coat put on at *start_min* has dried for *nominal_h* hours of standard air.

        None where that lies beyond the table.
        """
        wanted = self._gained_by(start_min) + nominal_h
        if wanted > self._gained_h[-1]:
            return None
        step = bisect_left(self._gained_h, wanted)
        if step == 0:
            return start_min
        before, after = self._gained_h[step - 1], self._gained_h[step]
        share = (wanted - before) / (after - before) if after > before else 1.0
        return max(start_min, (step - 1 + share) * STEP_MIN)

    def _gained_by(self, minute: float) -> float:
        step = min(int(minute // STEP_MIN), len(self._gained_h) - 2)
        share = minute / STEP_MIN - step
        return self._gained_h[step] + share * (self._gained_h[step + 1] - self._gained_h[step])

    def stands_still(self, start_min: float, end_min: float) -> bool:
        """Return whether the air is at some time too cold for the finish to dry."""
        low = self.finish.apply.temperature_c.low
        steps = range(int(start_min // STEP_MIN), int(end_min // STEP_MIN) + 1)
        return any(self._table.at(step * STEP_MIN).temperature_c < low for step in steps)

    def objection(self, start_min: float) -> str | None:
        """Return why the finish must not be put on at *start_min*, or None where it may be.

        The air has to be within the finish's limits at the start, and stay MIN_DEW_MARGIN_C above its dew point until
        dust no longer sticks; the piece is taken to be as warm as the air.
        """
        air = self._table.at(start_min)
        limits = self.finish.apply
        if not limits.temperature_c.holds(air.temperature_c):
            return (
                f"{air.temperature_c:g} °C is outside {limits.temperature_c.low:g} to {limits.temperature_c.high:g} °C"
            )
        if not limits.humidity_pct.holds(air.humidity_pct):
            low, high = limits.humidity_pct.low, limits.humidity_pct.high
            return f"{air.humidity_pct:g} % humidity is outside {low:g} to {high:g} %"
        dry_min = self.reached(start_min, self.finish.surface_dry_h)
        dewy_step = self._next_dewy[min(int(start_min // STEP_MIN), len(self._next_dewy) - 1)]
        if dewy_step * STEP_MIN <= (math.inf if dry_min is None else dry_min) and dewy_step < len(self._table.air):
            margin = self._table.air[int(dewy_step)].dew_margin_c
            return f"the air comes within {margin:.1f} °C of its dew point before the coat is dust-free"
        return None
