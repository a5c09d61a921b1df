"""When a coat put on at some time reaches a stage: the pace over the real air, added up to the nominal hours."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from finplan.catalogue import DRYING_PHASES, Catalogue, DryingPhase, FilmFormation, Finish
from finplan.climate.added_up import dried_in, rates_in
from finplan.climate.air import saturation_pressure
from finplan.climate.air_table import AirTable
from finplan.climate.dried import Dried
from finplan.climate.objection import FilmFails, NearDewPoint, Objection, OutsideLimits
from finplan.climate.pace import time_by_thickness
from finplan.climate.runs import Runs
from finplan.climate.weather import Air
from finplan.itself import Itself
from finplan.reading import Span

if TYPE_CHECKING:
    from finplan.climate.dried import Minutes


@dataclass(frozen=True, slots=True)
class _Danger:
    """Air that spoils a coat until it has come so far."""

    runs: Runs
    until: DryingPhase
    hours: float
    """How long it takes to be safe, in standard air. [h]"""
    why: Callable[[Air], Objection]


class Drying:
    """The drying of one finish in the air of a table. Minutes are counted from the table's start.

    Each phase goes by a law of its own (``Finish.law``), at a pace of its own:

    - ``surface``, until dust no longer sticks, and ``hardening``, until light use and cure: by the air of the moment.
    - ``through``, until the next coat may go on and until it can be handled: never faster than the label says,
      however warm and dry the air, and by the slowest pace of the last hour or so, for the piece has to follow the
      air first.

    The recoat limit (``recoat_closes``) is the other way about. Coats are never put on in air outside the finish's
    limits; what is on dries on in the cold, as slowly as its law says.

    A *thickness_factor* says how many times as heavy as nominal a coat is (``time_by_thickness``).
    """

    def __init__(self, finish: Finish, catalogue: Catalogue, table: AirTable) -> None:
        self.finish = finish
        self._table, self._catalogue = table, catalogue
        self._laws = {phase: finish.law(phase, catalogue.drying) for phase in DRYING_PHASES}
        self._dried: Callable[[DryingPhase], Dried] = cache(self._add_up)
        self._pace = catalogue.drying[finish.drying]
        self._shop_air = catalogue.shop_air["common"]
        still_c = -math.inf if self._pace.stands_still_c is None else self._pace.stands_still_c
        limits = finish.apply
        self._outside = self._runs(lambda air: _outside(limits.temperature_c, limits.humidity_pct, air))
        self._cold = self._runs(lambda air: air.temperature_c < limits.temperature_c.low)
        self._still = self._runs(lambda air: air.temperature_c <= still_c)
        self._hot = self._hot_stretches()
        self._dangers = [_Danger(self._runs(self._is_dewy), "surface", finish.surface_dry_h, _why_dewy)]
        self._unformed = None if finish.film is None else self._unformed_in(finish.film)
        if finish.film is not None and self._unformed is not None and finish.film.otherwise == "refuse":
            self._dangers.append(self._unformed)

    def _unformed_in(self, film: FilmFormation) -> _Danger:
        # Evaporation cools the film only while there is much water in it; as it closes it is as warm as the air.
        cold = self._runs(lambda air: air.temperature_c < film.above_c)
        hours = film.through_dry_h.typical
        return _Danger(cold, "through", hours, lambda air: FilmFails(air.temperature_c, film.above_c))

    def _add_up(self, phase: DryingPhase) -> Dried:
        return dried_in(self._table, self._catalogue, self._laws[phase], at_its_slowest=phase == "through")

    def _runs(self, holds: Callable[[Air], bool]) -> Runs:
        holding = self._table.of_each(holds)
        return Runs.of(
            (begins, ends) for (begins, ends, _), held in zip(self._table.pieces(), holding, strict=True) if held
        )

    def _is_dewy(self, air: Air) -> bool:
        # The dew point is within the margin where the air, so much colder, could not hold its vapour; that is quicker.
        vapour_hpa = saturation_pressure(air.temperature_c) * air.humidity_pct / 100
        return vapour_hpa > saturation_pressure(air.temperature_c - self._shop_air.above_dew_point_k)

    def _hot_stretches(self) -> tuple[tuple[float, float, float], ...]:
        """Return the stretches in which it hardens faster than in standard air: from, to, and how many times."""
        if self.finish.recoat_limit_h is None:
            return ()
        rates = rates_in(self._table, self._catalogue, self._laws["hardening"])
        stretches = zip(self._table.pieces(), rates, strict=True)
        return tuple((begins, ends, rate) for (begins, ends, _), rate in stretches if rate > 1)

    # --- when it has come so far ------------------------------------------------------------------------------------

    def reached(
        self, start_min: float, phase: DryingPhase, nominal_h: float, thickness_factor: float = 1.0
    ) -> float | None:
        """Return the minute at which a coat left to dry at *start_min* has dried for *nominal_h* hours of standard air.

        Parameters
        ----------
        start_min
            When it was on
        phase
            What the hours lead to, and so by which law they pass
        nominal_h
            What the label says. [h]
        thickness_factor
            How many times as heavy as nominal the coat is

        Returns
        -------
        float | None
            None where that lies beyond the table
        """
        return self._dried(phase).reached(start_min, nominal_h * time_by_thickness(thickness_factor))

    def reached_each(
        self, starts_min: Minutes, phase: DryingPhase, nominal_h: Minutes, thickness_factor: float = 1.0
    ) -> Minutes:
        """Return ``reached`` for every one of many starts, each with hours of its own; infinite beyond the table."""
        return self._dried(phase).reached_each(starts_min, nominal_h * time_by_thickness(thickness_factor))

    def reached_in_turn(
        self, start_min: float, step_min: float, count: int, phase: DryingPhase, nominal_h: float, times_as_thick: float
    ) -> Minutes:
        """Return ``reached`` for so many starts, each a step after the one before; infinite beyond the table."""
        hours = nominal_h * time_by_thickness(times_as_thick)
        return self._dried(phase).reached_in_turn(start_min, step_min, count, hours)

    def passed_h(self, start_min: float, end_min: float, phase: DryingPhase) -> float:
        """Return how many hours of standard air a coat has dried for from one minute to another, in a phase. [h]"""
        dried = self._dried(phase)
        return dried.by(end_min) - dried.by(start_min)

    def recoat_closes(self, start_min: float) -> float | None:
        """Return until which minute the next coat may go on without abrading first; None for any, or beyond the table.

        The shortest time that the label says, and shorter in proportion where at any time of the wait it is so warm
        that it hardens faster; never longer, for cold does not keep dirt and moisture off a coat.

        Notes
        -----
        By the warmest air of the wait: UFGS 09971, table of recoat windows, chooses them by the highest temperature
        between two coats, and has none longer in the cold than at 22 to 27 °C for polyurethane over polyurethane.
        """
        limit = self.finish.recoat_limit_h
        if limit is None:
            return None
        closes, fastest = start_min + limit.low * 60, 1.0
        first = bisect_right(self._hot, start_min, key=lambda stretch: stretch[1])
        for begins, _, rate in self._hot[first:]:
            if begins >= closes:
                break
            if rate > fastest:
                fastest = rate
                closes = max(begins, start_min + limit.low * 60 / fastest)
        return closes if closes <= self._table.end_min else None

    def is_cold(self, start_min: float, end_min: float) -> bool:
        """Return whether the air is at some time colder than that in which the finish may be put on."""
        cold = self._cold.next_from(start_min)
        return cold is not None and cold[0] < end_min

    def stands_still(self, start_min: float, end_min: float) -> bool:
        """Return whether the air is at some time so cold that a coat does not dry at all."""
        still = self._still.next_from(start_min)
        return still is not None and still[0] < end_min

    def film_fails(self, end_min: float, thickness_factor: float = 1.0) -> bool:
        """Return whether a coat that is on at *end_min* gets too cold for its film to form before it is through-dry."""
        return self._unformed is not None and self._met(self._unformed, end_min, end_min, thickness_factor) is not None

    @property
    def still_below_c(self) -> float | None:
        """Below which temperature a coat does not dry at all; None where it always does. [°C]"""
        return self._pace.stands_still_c

    # --- whether it may be put on -----------------------------------------------------------------------------------

    def objection(
        self, start_min: float, end_min: float | None = None, thickness_factor: float = 1.0
    ) -> Objection | None:
        """Return why the finish must not be put on from *start_min* to *end_min*, or None where it may be.

        The air has to be within the finish's limits all that time, at the start alone where no end is given. From the
        start until dust no longer sticks, the air has to be so much above its dew point; and until it is
        through-dry, warm enough for its film to form, where the finish asks that of a plan.
        """
        end_min = start_min if end_min is None else end_min
        outside = self._outside_limits(start_min, end_min)
        if outside is not None:
            return self._why_outside(max(start_min, outside[0]), start_min)
        for danger in self._dangers:
            met = self._met(danger, start_min, end_min, thickness_factor)
            if met is not None:
                return danger.why(self._table.at(max(start_min, met[0])))
        return None

    def refused(self, step_min: int, duration_min: float = 0.0, thickness_factor: float = 1.0) -> list[tuple[int, int]]:
        """Return the steps of time from which it must not be put on for *duration_min*: from one until before another.

        They come in order and may overlap; to a step that is in none of them there is no ``objection``.
        """
        refused: list[tuple[int, int]] = []
        for begins, ends in self._outside.stretches():
            first = math.ceil(begins / step_min)
            if duration_min:
                first = min(first, math.floor((begins - duration_min) / step_min) + 1)
            refused.append((first, math.ceil(ends / step_min)))
        for danger in self._dangers:
            refused += self._endangered(danger, step_min, duration_min, thickness_factor)
        return sorted(refused)

    def _outside_limits(self, start_min: float, end_min: float) -> tuple[float, float] | None:
        """Return when, during a coat, the air is first outside the finish's limits."""
        run = self._outside.next_from(start_min)
        return run if run is not None and (run[0] <= start_min or run[0] < end_min) else None

    def _endangered(
        self, danger: _Danger, step_min: int, duration_min: float, thickness_factor: float
    ) -> Iterator[tuple[int, int]]:
        """Give the steps of time from which a coat would meet each stretch of a danger."""
        before = 0

        def meets(step: int) -> bool:
            safe_min = self._safe_min(danger, step * step_min + duration_min, thickness_factor)
            return safe_min is None or safe_min > begins

        for begins, ends in danger.runs.stretches():
            # The later it is put on the later it is safe: from some step on this stretch finds it wet.
            first = bisect_left(range(before, math.ceil(begins / step_min)), True, key=meets) + before
            before = math.ceil(ends / step_min)
            yield first, before

    def _met(self, danger: _Danger, start_min: float, end_min: float, thickness: float) -> tuple[float, float] | None:
        """Return when, before a coat is safe from it, a danger first comes."""
        run = danger.runs.next_from(start_min)
        if run is None or run[0] <= start_min:
            return run
        safe_min = self._safe_min(danger, end_min, thickness)
        return run if safe_min is None or run[0] < safe_min else None

    def _safe_min(self, danger: _Danger, end_min: float, thickness_factor: float) -> float | None:
        return self.reached(end_min, danger.until, danger.hours, thickness_factor)

    def _why_outside(self, minute: float, start_min: float) -> OutsideLimits:
        air, limits, later = self._table.at(minute), self.finish.apply, minute > start_min
        warmth, damp = limits.temperature_c, limits.humidity_pct
        if not warmth.holds(air.temperature_c):
            return OutsideLimits("temperature", air.temperature_c, warmth.low, warmth.high, later)
        return OutsideLimits("humidity", air.humidity_pct, damp.low, damp.high, later)


def drying_in(table: AirTable, finish: Finish, catalogue: Catalogue) -> Drying:
    """Return the drying of a finish in the air of a table, which is worked out once for all who ask."""
    return _drying_in(Itself(table), Itself(finish), Itself(catalogue))


@lru_cache(maxsize=64)
def _drying_in(table: Itself[AirTable], finish: Itself[Finish], catalogue: Itself[Catalogue]) -> Drying:
    return Drying(finish.it, catalogue.it, table.it)


def _why_dewy(air: Air) -> NearDewPoint:
    return NearDewPoint(round(air.dew_margin_c, 1))


def _outside(temperature_c: Span, humidity_pct: Span, air: Air) -> bool:
    return not (temperature_c.holds(air.temperature_c) and humidity_pct.holds(air.humidity_pct))
