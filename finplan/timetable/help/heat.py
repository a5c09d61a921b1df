"""More heat: warmer nights, and where they are not enough a shop that is never colder than so much."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from finplan.climate import STANDARD
from finplan.inputs import Climate, DayAir, DayAndNight, NightAir
from finplan.timetable.help.change import Change, Way
from finplan.timetable.job import Job
from finplan.timetable.remedy import NeverColder, WarmerNights


def more_heat(job: Job) -> Iterator[Way]:
    """Give warmer nights degree by degree up to the day's temperature, then degree by degree no air that is colder.

    The warmest that is thought of is 23 °C, in which the catalogue's times of drying are told.
    """
    steps = [*_nights(job), *_never_colder(job)]
    if steps:
        yield Way(tuple((step,) for step in steps), each_helps_more=True)


# --- warmer nights --------------------------------------------------------------------------------------------------


def _nights(job: Job) -> Iterator[Change]:
    night = job.shop.climate.night
    for degrees in range(1, _degrees_to_day(job.shop.climate) + 1):
        remedy = WarmerNights(degrees, None if night is None else night.temperature_c + degrees, job.shop.units)
        yield Change(remedy, "heat", _heated(job, _with_nights(job.shop.climate, degrees)))


def _heated(job: Job, climate: Climate) -> Callable[[], Job]:
    return lambda: replace(job, shop=job.shop.model_copy(update={"climate": climate}))


def _degrees_to_day(climate: Climate) -> int:
    return max((int(pair.day.temperature_c - pair.night.temperature_c) for pair in _pairs(climate)), default=0)


def _pairs(climate: Climate) -> list[DayAndNight]:
    if climate.day is not None and climate.night is not None:
        return [DayAndNight.model_construct(day=climate.day, night=climate.night)]
    return list((climate.months or {}).values())


def _with_nights(climate: Climate, degrees: int) -> Climate:
    """Return air whose nights are so much warmer, but no warmer than the days, with no more moisture."""
    night = None if climate.night is None or climate.day is None else warmer_night(climate.day, climate.night, degrees)
    months = climate.months and {
        number: DayAndNight.model_construct(day=pair.day, night=warmer_night(pair.day, pair.night, degrees))
        for number, pair in climate.months.items()
    }
    return Climate.model_construct(day=climate.day, night=night, months=months, log=climate.log)


def warmer_night(day: DayAir, night: NightAir, degrees: int) -> NightAir:
    """Return the air of a night that is so much warmer, but no warmer than the day, with no more moisture."""
    temperature_c = max(night.temperature_c, min(night.temperature_c + degrees, day.temperature_c))
    # Heating dries the air at most to what it is by day.
    humidity_pct = night.humidity_pct if temperature_c < day.temperature_c else day.humidity_pct
    return NightAir.model_construct(temperature_c=temperature_c, humidity_pct=min(humidity_pct, night.humidity_pct))


# --- never colder than so much --------------------------------------------------------------------------------------


def _never_colder(job: Job) -> Iterator[Change]:
    climate = job.shop.climate
    air = [half.temperature_c for pair in _pairs(climate) for half in (pair.day, pair.night)]
    days = [pair.day.temperature_c for pair in _pairs(climate)]
    logged = [reading.temperature_c for reading in climate.log or ()]
    # Up to the day's temperature it is the nights that are warmed, where they are told apart.
    lowest = min(logged, default=min(days, default=STANDARD.temperature_c))
    first = math.floor(lowest if _degrees_to_day(climate) or logged else min(air)) + 1
    for temperature_c in range(first, math.floor(STANDARD.temperature_c) + 1):
        yield Change(
            NeverColder(temperature_c, job.shop.units), "heat", _heated(job, _at_least(climate, temperature_c))
        )


def _at_least(climate: Climate, lowest_c: float) -> Climate:
    """Return air that is never colder, as humid as it is."""

    def heated(air: DayAir | NightAir) -> DayAir | NightAir:
        return air.model_copy(update={"temperature_c": max(air.temperature_c, lowest_c)})

    return climate.model_copy(
        update={
            "day": climate.day and heated(climate.day),
            "night": climate.night and heated(climate.night),
            "months": climate.months
            and {
                number: pair.model_copy(update={"day": heated(pair.day), "night": heated(pair.night)})
                for number, pair in climate.months.items()
            },
            "log": climate.log
            and tuple(replace(reading, temperature_c=max(reading.temperature_c, lowest_c)) for reading in climate.log),
        }
    )
