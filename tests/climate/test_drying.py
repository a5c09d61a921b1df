"""When a coat is dry, against closed forms."""

from __future__ import annotations

from datetime import UTC, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.climate import Air, AirTable, Drying, Weather, air_table
from finplan.inputs import Climate

CATALOGUE = bundled_catalogue()
START = datetime(2027, 3, 1, tzinfo=UTC)
STEPS_A_DAY = 96
OIL = CATALOGUE.finishes["oil-polyurethane"]  # from 13 °C, 30 to 75 % humidity
WATER = CATALOGUE.finishes["waterborne-polyurethane"]


def steady(air: Air, days: int = 10) -> AirTable:
    return AirTable(START, (air,) * (STEPS_A_DAY * days))


def day_and_night(day: Air, night: Air, days: int = 10) -> AirTable:
    """Twelve hours of each, the day first: a square wave."""
    half = STEPS_A_DAY // 2
    return AirTable(START, ((day,) * half + (night,) * half) * days)


@pytest.mark.parametrize(
    ("temperature_c", "nominal_h", "expected_h"),
    [
        (23.0, 8.0, 8.0),  # the air for which the time is stated
        (15.0, 16.0, 27.86),  # 16 · 2^0.8, the 10 °C rule
        (18.0, 16.0, 22.63),  # 16 · 2^0.5
        (13.0, 8.0, 16.0),  # ten degrees colder: twice as long
    ],
)
def test_steady_air(temperature_c: float, nominal_h: float, expected_h: float) -> None:
    reached = Drying(OIL, CATALOGUE, steady(Air(temperature_c, 50.0))).reached(0.0, nominal_h)
    assert reached is not None
    assert reached / 60 == pytest.approx(expected_h, abs=0.005)


def test_day_and_night() -> None:
    # 23 °C by day counts 1, 13 °C by night 1/2: twelve hours give 12 by day, 6 by night. 20 h of drying from the
    # morning: 12 in the day, 6 in the night, 2 the next morning, so 26 hours.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(13.0, 50.0)))
    assert drying.reached(0.0, 20.0) == pytest.approx(26 * 60)
    # From noon: 6 by day, 6 by night, 8 the next day: 6 + 12 + 8 hours.
    assert drying.reached(6 * 60, 20.0) == pytest.approx((6 + 26) * 60)


def test_it_stands_still_in_the_cold() -> None:
    # At 12 °C, below its 13 °C, the night counts nothing: 20 h take 12 by day, a night, and 8 more.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(12.0, 50.0)))
    assert drying.reached(0.0, 20.0) == pytest.approx(32 * 60)
    assert drying.stands_still(0.0, 32 * 60)
    assert not drying.stands_still(0.0, 11 * 60)


def test_humid_air_holds_water_back() -> None:
    # (1 - 0.5) / (1 - 0.7): two thirds longer.
    assert Drying(WATER, CATALOGUE, steady(Air(23.0, 70.0))).reached(0.0, 3.0) == pytest.approx(5 * 60)


@pytest.mark.parametrize(
    ("air", "words"),
    [
        (Air(23.0, 50.0), None),
        (Air(12.0, 50.0), "12 °C is outside 13 to 30 °C"),
        (Air(31.0, 50.0), "31 °C is outside"),
        (Air(20.0, 80.0), "80 % humidity is outside"),
        (Air(20.0, 20.0), "20 % humidity is outside"),
    ],
)
def test_limits(air: Air, words: str | None) -> None:
    said = Drying(OIL, CATALOGUE, steady(air)).objection(0.0)
    assert (said is None) if words is None else (said is not None and words in said)


def test_dew_before_it_is_dust_free() -> None:
    # ISO 8502-4: three degrees above the dew point. At 14 °C and 85 % dew forms at 11.5 °C: 2.5 degrees are too few.
    said = Drying(OIL, CATALOGUE, day_and_night(Air(20.0, 60.0), Air(14.0, 85.0))).objection(11.5 * 60)
    assert said is not None
    assert "dew point" in said


@given(
    start=st.integers(0, 3 * 24 * 60),
    later=st.integers(0, 24 * 60),
    nominal_h=st.floats(0.1, 40),
    more_h=st.floats(0, 10),
    night_c=st.floats(5, 23),
)
def test_later_or_more_is_never_earlier(
    start: int, later: int, nominal_h: float, more_h: float, night_c: float
) -> None:
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(night_c, 50.0), days=20))
    first, second = drying.reached(start, nominal_h), drying.reached(start + later, nominal_h + more_h)
    assert first is not None
    assert first >= start
    if second is not None:
        assert second >= first - 1e-6


def test_weather_follows_the_clock_on_the_wall() -> None:
    # The night before 28 March 2027 is an hour short in London: 8:00 there is 8:00 universal time before, 7:00 after.
    from zoneinfo import ZoneInfo

    day = {"from": "8:00", "to": "18:00", "temperature": "19 degC", "humidity": "50 %"}
    climate = Climate.model_validate({"day": day, "night": {"temperature": "11 degC", "humidity": "65 %"}})
    table = air_table(Weather(climate, ZoneInfo("Europe/London")), datetime(2027, 3, 27, tzinfo=UTC), 2)
    warm = [step for step, air in enumerate(table.air) if air.temperature_c == 19.0]
    assert warm[0] * 15 == 8 * 60
    assert next(step for step in warm if step >= STEPS_A_DAY) * 15 == 24 * 60 + 7 * 60
    assert climate.day is not None
    assert climate.day.from_ == time(8)
