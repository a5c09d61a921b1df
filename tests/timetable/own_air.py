"""The air of a shop and how fast coats dry in it, worked out anew: shares nothing with the program's climate."""

from __future__ import annotations

import math
from bisect import bisect_right
from datetime import UTC, date, datetime, timedelta
from functools import cache, cached_property
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from finplan.catalogue import Catalogue, Finish
from finplan.inputs import Shop

STEP = timedelta(minutes=15)
_STEP_H = 0.25
_HOUR = timedelta(hours=1)
_DAY = timedelta(days=1)
_A_DAY = _DAY // STEP
_DAYS: dict[tuple[str, date], list[tuple[float, float]]] = {}  # the air of a day, by climate; most plans share both
DEW_MARGIN_C = 3.0  # ISO 8502-4:2017: a surface to be coated is at least 3 °C above the dew point


@cache
def vapour_hpa(temperature_c: float) -> float:
    """Saturation pressure over water, valid 0 to 374 °C. [hPa]

    Source: Wagner and Pruß, International Equations for the Saturation Properties of Ordinary Water Substance (1993),
    as in IAPWS SR1-86.
    """
    kelvin = temperature_c + 273.15
    tau = 1 - kelvin / 647.096
    series = (
        -7.85951783 * tau
        + 1.84408259 * tau**1.5
        - 11.7866497 * tau**3
        + 22.6807411 * tau**3.5
        - 15.9618719 * tau**4
        + 1.80122502 * tau**7.5
    )
    return 220640.0 * math.exp(647.096 / kelvin * series)


def is_dewy(temperature_c: float, humidity_pct: float) -> bool:
    """Whether dew forms on what is DEW_MARGIN_C colder; what is within 0.05 °C of that does not count."""
    return humidity_pct / 100 * vapour_hpa(temperature_c) > vapour_hpa(temperature_c - DEW_MARGIN_C + 0.05)


@cache
def wet_bulb_c(temperature_c: float, humidity_pct: float) -> float:
    """Temperature of what is wet with water in moving air, valid 0 to 60 °C. [°C]

    Source: the psychrometer equation of WMO-No. 8, annex 4.B, A = 6.53e-4 · (1 + 0.000944 · t') / K, solved by halving.
    """
    vapour = vapour_hpa(temperature_c) * humidity_pct / 100
    low, high = -20.0, temperature_c
    for _ in range(50):
        middle = (low + high) / 2
        gap = vapour_hpa(middle) - 6.53e-4 * (1 + 0.000944 * middle) * 1013.25 * (temperature_c - middle)
        low, high = (low, middle) if gap > vapour else (middle, high)
    return (low + high) / 2


def _gap_hpa(temperature_c: float, humidity_pct: float) -> float:
    return vapour_hpa(wet_bulb_c(temperature_c, humidity_pct)) - vapour_hpa(temperature_c) * humidity_pct / 100


def law_of(finish: Finish, phase: str, catalogue: Catalogue) -> str:
    """By which law a phase of a finish goes, as drying.yaml and finishes.yaml say."""
    if phase == "surface":
        return finish.surface_drying or finish.drying
    return (catalogue.drying[finish.drying].hardens_by if phase == "hardening" else None) or finish.drying


def rate(law: str, catalogue: Catalogue, temperature_c: float, humidity_pct: float) -> float:
    """How fast it goes by a law against 23 °C and 50 %."""
    pace = catalogue.drying[law]
    left = 1.0
    if pace.fades_c is not None:
        left = min(1.0, max(0.0, (temperature_c - pace.fades_c.low) / (pace.fades_c.high - pace.fades_c.low)))
    if pace.doubling is not None:
        return left * float(2 ** ((temperature_c - 23) / pace.doubling))
    joules = 1e3 * (pace.enthalpy_kj_mol or pace.energy_kj_mol or 0.0)
    if joules:
        return left * math.exp(joules / 8.314462618 * (1 / 296.15 - 1 / (temperature_c + 273.15)))
    return left * max(_gap_hpa(temperature_c, humidity_pct), 0.0) / _gap_hpa(23.0, 50.0)


class OwnAir:
    """The air of a shop over some time, in quarters of an hour, and the drying in it.

    Days and nights have to begin on whole quarters.
    """

    def __init__(self, shop: Shop, catalogue: Catalogue, first: datetime, last: datetime) -> None:
        self._shop = shop
        self._catalogue = catalogue
        first = first.astimezone(UTC)
        midnight = first.replace(hour=0, minute=0, second=0, microsecond=0)
        skipped = (first - midnight) // STEP
        self.first = midnight + skipped * STEP
        count = math.ceil((last - self.first) / STEP)
        climate = f"{shop.time_zone} {shop.climate}"
        days = (self._air_of_day(climate, midnight + n * _DAY) for n in range((skipped + count) // _A_DAY + 1))
        self.steps = list(chain.from_iterable(days))[skipped : skipped + count]
        self._dried_h: dict[str, NDArray[np.float64]] = {}

    def _air_of_day(self, climate: str, midnight: datetime) -> list[tuple[float, float]]:
        """Return the air of a day in universal time."""
        known = (climate, midnight.date())
        if known not in _DAYS:
            _DAYS[known] = [self._air(midnight + n * STEP) for n in range(_A_DAY)]
        return _DAYS[known]

    def _air(self, moment: datetime) -> tuple[float, float]:
        climate = self._shop.climate
        if climate.log is not None:
            return self._logged(moment)
        local = moment.astimezone(self._shop.time_zone)
        pair = None if climate.months is None else climate.months[local.month]
        day, night = (climate.day, climate.night) if pair is None else (pair.day, pair.night)
        assert day is not None
        assert night is not None
        minute = local.hour * 60 + local.minute
        opens, closes = day.from_.hour * 60 + day.from_.minute, day.to.hour * 60 + day.to.minute
        warm = opens <= minute < closes if opens < closes else minute >= opens or minute < closes
        air = day if warm else night
        return air.temperature_c, air.humidity_pct

    def _logged(self, moment: datetime) -> tuple[float, float]:
        """A straight line between readings, in quarters of an hour; for a log with readings on whole quarters."""
        log, zone = self._shop.climate.log or (), self._shop.time_zone
        last = log[-1].when
        while moment >= last:  # its last day repeats by the clock on the wall
            days = max(1, (moment - last) // _DAY)
            moment = (moment.astimezone(zone).replace(tzinfo=None) - days * _DAY).replace(tzinfo=zone).astimezone(UTC)
        middle = moment - timedelta(minutes=moment.minute % 15) + timedelta(minutes=7.5)
        place = bisect_right(log, middle, key=lambda row: row.when)
        if place == 0:
            return log[0].temperature_c, log[0].humidity_pct
        before, after = log[place - 1], log[place]
        share = (middle - before.when) / (after.when - before.when)
        return (
            before.temperature_c + share * (after.temperature_c - before.temperature_c),
            before.humidity_pct + share * (after.humidity_pct - before.humidity_pct),
        )

    def between(self, start: datetime, end: datetime) -> list[tuple[float, float]]:
        """Return the air of every step that touches a stretch of time; of one moment where they are the same."""
        first = math.floor((start - self.first) / STEP)
        last = max(first + 1, math.ceil((end - self.first) / STEP))
        return self.steps[first:last]

    def tolerance(self, finish: Finish) -> float:
        """How far the program's hours may be from ours, as a share: its vapour pressures and its log are rounded."""
        if self._catalogue.drying[finish.drying].by == "water-evaporation":
            return 2e-2  # two equations of the psychrometer
        return 2e-3 if self._shop.climate.log is not None else 1e-6

    def reached(self, finish: Finish, phase: str, start: datetime, hours: float) -> datetime | None:
        """Return when so many hours of standard air have passed; None where that is beyond what is looked at."""
        gained = self._gained(finish, phase)
        wanted = self._at(gained, start) + hours * (1 - self.tolerance(finish))
        place = int(np.searchsorted(gained, wanted))
        if place >= len(gained):
            return None
        if place == 0:
            return start
        share = float((wanted - gained[place - 1]) / (gained[place] - gained[place - 1]))
        return max(start, self.first + (place - 1 + share) * STEP)

    def closes(self, finish: Finish, start: datetime) -> datetime | None:
        """Return until when a coat may be recoated: the low end of its limit, at the warmest of the wait if that is
        warmer than 23 °C, found quarter by quarter; None for ever, or beyond what is looked at."""
        if finish.recoat_limit_h is None:
            return None
        law, allowed = law_of(finish, "hardening", self._catalogue), finish.recoat_limit_h.low * _HOUR
        place = math.floor((start - self.first) / STEP)
        fastest, last = 1.0, start
        for number in range(place, len(self.steps)):
            fastest = max(fastest, rate(law, self._catalogue, *self.steps[number]))
            if start + allowed / fastest <= last:
                return last
            last = min(start + allowed / fastest, self.first + (number + 1) * STEP)
            if last < self.first + (number + 1) * STEP:
                return last
        return None

    def pot_life(self, finish: Finish) -> timedelta:
        """Return how long a mix can be worked: the label's time at 23 °C, halved by ten degrees more, at the warmest
        air of the shop in which it may be put on."""
        assert finish.mix is not None
        climate, limits = self._shop.climate, finish.apply.temperature_c
        warmest = [one.temperature_c for one in (climate.day, climate.night, *(climate.log or ())) if one is not None]
        for pair in (climate.months or {}).values():
            warmest += [pair.day.temperature_c, pair.night.temperature_c]
        mixed_c = min(max(*warmest, limits.low), limits.high)
        return timedelta(hours=finish.mix.pot_life_h.low * 2 ** ((23 - mixed_c) / 10))

    @cached_property
    def _alike(self) -> tuple[list[tuple[float, float]], NDArray[np.intp]]:
        """Return every air that there is once, and for each step which it has: most are alike."""
        airs = list(dict.fromkeys(self.steps))
        numbers = {air: number for number, air in enumerate(airs)}
        return airs, np.array([numbers[air] for air in self.steps])

    def _gained(self, finish: Finish, phase: str) -> NDArray[np.float64]:
        """Return the hours of standard air that have passed by the beginning of each step and the end of the last."""
        name = f"{finish.title} {phase}"
        if name not in self._dried_h:
            law = law_of(finish, phase, self._catalogue)
            airs, places = self._alike
            rates = np.array([rate(law, self._catalogue, *air) for air in airs])[places]
            if phase == "through":  # never faster than the label, and warmth counts when it has lasted an hour
                before = np.concatenate((np.repeat(rates[0], 4), rates))
                rates = np.minimum(1.0, np.lib.stride_tricks.sliding_window_view(before, 5).min(axis=1))
            self._dried_h[name] = np.concatenate(([0.0], np.cumsum(rates * _STEP_H)))
        return self._dried_h[name]

    def _at(self, gained: NDArray[np.float64], moment: datetime) -> float:
        place = (moment - self.first) / STEP
        index = min(max(int(place), 0), len(gained) - 2)
        return float(gained[index] + (place - index) * (gained[index + 1] - gained[index]))
