"""The air of the shop at any moment, from what the shop file says."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from finplan.climate.air import dew_point
from finplan.inputs.climate import Climate, DayAir, DayAndNight, NightAir


@dataclass(frozen=True, slots=True)
class Air:
    """Temperature in °C, relative humidity in %."""

    temperature_c: float
    humidity_pct: float

    @property
    def dew_margin_c(self) -> float:
        """How far the air is above its dew point. [K]"""
        return self.temperature_c - dew_point(self.temperature_c, max(self.humidity_pct, 1.0))


STANDARD = Air(23.0, 50.0)
"""The air for which nominal drying times hold. Source: ISO 3270:1984, standard atmosphere 23 °C and 50 %."""


@dataclass(frozen=True, slots=True)
class Weather:
    """The air of a shop, by wall-clock time."""

    climate: Climate
    zone: ZoneInfo

    def at(self, moment: datetime) -> Air:
        """Return the air at *moment*, which knows its time zone.

        Before its first row a log stands for its first reading, after its last row for its last day, repeated.
        """
        local = moment.astimezone(self.zone).replace(tzinfo=None)
        if self.climate.log is not None:
            return self._logged(local)
        if self.climate.months is not None:
            return _of_day(self.climate.months[local.month], local)
        day, night = self.climate.day, self.climate.night
        return _of(day, night, local)

    def _logged(self, local: datetime) -> Air:
        rows = self.climate.log or ()
        first, last = rows[0].when, rows[-1].when
        if local > last:  # the same time of the last logged day
            days_after = (local - last).days + 1
            local = local.fromordinal(local.toordinal() - days_after).replace(hour=local.hour, minute=local.minute)
        if local <= first:
            return Air(rows[0].temperature_c, rows[0].humidity_pct)
        index = bisect_right(rows, local, key=lambda row: row.when)
        if index >= len(rows):
            return Air(rows[-1].temperature_c, rows[-1].humidity_pct)
        before, after = rows[index - 1], rows[index]
        share = (local - before.when) / (after.when - before.when)
        return Air(
            before.temperature_c + share * (after.temperature_c - before.temperature_c),
            before.humidity_pct + share * (after.humidity_pct - before.humidity_pct),
        )


def _of_day(pair: DayAndNight, local: datetime) -> Air:
    return _of(pair.day, pair.night, local)


def _of(day: DayAir | None, night: NightAir | None, local: datetime) -> Air:
    if day is None or night is None:
        msg = "a climate without day and night has months or a log"
        raise ValueError(msg)
    start, end, now = day.from_, day.to, local.time()
    is_day = start <= now < end if start <= end else now >= start or now < end
    return Air(day.temperature_c, day.humidity_pct) if is_day else Air(night.temperature_c, night.humidity_pct)
