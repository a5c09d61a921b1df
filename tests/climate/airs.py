"""Tables of air, made by hand."""

from __future__ import annotations

from datetime import UTC, datetime

from finplan.climate import Air, AirTable

START = datetime(2027, 3, 1, tzinfo=UTC)
DAY_MIN = 24 * 60


def steady(air: Air, days: int = 10) -> AirTable:
    return AirTable(START, (0.0,), (air,), days * DAY_MIN)


def day_and_night(day: Air, night: Air, *, day_h: float = 12, days: int = 10) -> AirTable:
    """So many hours of day and the rest of night, the day first: a square wave."""
    starts = [minute for day in range(days) for minute in (day * DAY_MIN, day * DAY_MIN + day_h * 60)]
    return AirTable(START, tuple(map(float, starts)), (day, night) * days, days * DAY_MIN)
