"""When a coat may be put on: the finish's limits and the dew."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Finish, bundled_catalogue
from finplan.climate import Air, AirTable, Drying, FilmFails, NearDewPoint, OutsideLimits, dew_point
from tests.climate.airs import DAY_MIN, START, day_and_night, steady

CATALOGUE = bundled_catalogue()
OIL = CATALOGUE.finishes["oil-polyurethane"]  # 13 to 30 °C, 30 to 75 % humidity


def refused(drying: Drying, step_min: int, duration_min: float = 0.0, factor: float = 1.0) -> set[int]:
    """Return the steps of time from which it must not be put on."""
    return {step for first, end in drying.refused(step_min, duration_min, factor) for step in range(max(first, 0), end)}


@pytest.mark.parametrize(
    ("air", "against"),
    [
        (Air(23.0, 50.0), None),
        (Air(13.0, 50.0), None),
        (Air(12.0, 50.0), OutsideLimits("temperature", 12.0, 13.0, 30.0, later=False)),
        (Air(31.0, 50.0), OutsideLimits("temperature", 31.0, 13.0, 30.0, later=False)),
        (Air(20.0, 80.0), OutsideLimits("humidity", 80.0, 30.0, 75.0, later=False)),
        (Air(20.0, 20.0), OutsideLimits("humidity", 20.0, 30.0, 75.0, later=False)),
    ],
)
def test_limits(air: Air, against: OutsideLimits | None) -> None:
    drying = Drying(OIL, CATALOGUE, steady(air))
    assert drying.objection(0.0) == against
    assert any(first <= 6 < end for first, end in drying.refused(5)) is (against is not None)


def test_limits_hold_until_the_coat_is_on() -> None:
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(12.0, 50.0)))
    # It gets cold at 12 h: a coat of two hours may begin at 10 h, not a minute later.
    assert drying.objection(10 * 60, 12 * 60) is None
    against = drying.objection(10 * 60 + 1, 12 * 60 + 1)
    assert against == OutsideLimits("temperature", 12.0, 13.0, 30.0, later=True)
    assert drying.objection(10 * 60 + 1) is None
    assert (10 * 60 + 1, DAY_MIN) in drying.refused(1, 120)
    # No warm stretch is long enough.
    assert not set(range(9 * DAY_MIN)) - refused(drying, 1, 13 * 60)


def test_dew_before_it_is_dust_free() -> None:
    # ISO 8502-4: three degrees above the dew point. At 14 °C and 85 % dew forms at 11.5 °C: 2.5 degrees are too few.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(20.0, 60.0), Air(14.0, 85.0)))
    assert drying.objection(11.5 * 60) == NearDewPoint(2.5)
    # At 20 °C the time until it is dust-free is 2^0.3 times the nominal: put on so long before the damp, it is in time.
    dust_free_h = OIL.surface_dry_h * 2**0.3
    assert drying.objection((12 - dust_free_h) * 60 - 0.1) is None
    assert drying.objection((12 - dust_free_h) * 60 + 0.1) is not None
    # A coat that is being put on for an hour dries from its end on.
    assert drying.objection((11 - dust_free_h) * 60 + 0.1, (12 - dust_free_h) * 60 + 0.1) is not None
    # A third as heavy again takes 16/9 times as long.
    assert drying.objection((12 - 16 / 9 * dust_free_h) * 60 + 0.1, None, 4 / 3) is not None
    assert drying.objection((12 - 16 / 9 * dust_free_h) * 60 - 0.1, None, 4 / 3) is None


WATER = CATALOGUE.finishes["waterborne-polyurethane"]


def test_a_film_has_to_form_before_it_gets_cold() -> None:
    # It forms from 10 °C, and four hours of standard air make it through-dry: at eight of the twelve warm hours it may
    # still be put on before a night of 9.9 °C, and before one of 13 °C at any time.
    assert WATER.film is not None
    assert WATER.film.through_dry_h.typical == 4
    cold = Drying(WATER, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(9.9, 50.0)))
    assert cold.objection(DAY_MIN + 8 * 60) is None
    assert cold.objection(DAY_MIN + 8 * 60 + 1) == FilmFails(9.9, 10.0)
    assert any(first == (DAY_MIN + 8 * 60) // 5 + 1 and last == 2 * DAY_MIN // 5 for first, last in cold.refused(5))
    mild = Drying(WATER, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(13.0, 50.0)))
    assert mild.objection(DAY_MIN + 11 * 60) is None
    # A heavier coat takes the square as long: 4 · 1.2^2 = 5.76 h.
    assert cold.objection(DAY_MIN + (12 - 5.76) * 60 - 0.1, None, 1.2) is None
    assert cold.objection(DAY_MIN + (12 - 5.76) * 60 + 0.1, None, 1.2) is not None


def test_of_what_is_made_for_the_cold_a_plan_warns() -> None:
    enamel = CATALOGUE.finishes["acrylic-enamel"]
    drying = Drying(enamel, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(9.0, 50.0)))
    assert drying.objection(10 * 60) is None
    assert drying.film_fails(10 * 60)
    assert not drying.film_fails(5 * 60)
    assert not Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(9.0, 50.0))).film_fails(10 * 60)


AIR = st.builds(Air, st.integers(8, 33).map(float), st.integers(25, 90).map(float))


@pytest.mark.parametrize("finish", [OIL, WATER], ids=lambda finish: finish.title)
@given(
    airs=st.lists(AIR, min_size=2, max_size=8),
    step_h=st.integers(1, 9),
    duration=st.integers(0, 300),
    factor=st.floats(1, 1.5),
)
def test_what_is_refused_is_what_is_objected_to(
    finish: Finish, airs: list[Air], step_h: int, duration: int, factor: float
) -> None:
    table = AirTable(START, tuple(60.0 * step_h * n for n in range(len(airs))), tuple(airs), 60 * step_h * len(airs))
    drying = Drying(finish, CATALOGUE, table)
    steps = range(table.end_min // 15)
    never = refused(drying, 15, duration, factor)
    may = [drying.objection(15.0 * step, 15.0 * step + duration, factor) is None for step in steps]
    assert [step not in never for step in steps] == may


@given(start=st.floats(0, 5 * DAY_MIN), duration=st.floats(0, 300))
def test_a_coat_that_passes_is_within_the_rule_all_along(start: float, duration: float) -> None:
    table = day_and_night(Air(21.0, 62.0), Air(14.5, 84.0), day_h=9.8)
    drying = Drying(OIL, CATALOGUE, table)
    if drying.objection(start, start + duration) is not None:
        return
    dust_free = drying.reached(start + duration, "surface", OIL.surface_dry_h)
    assert dust_free is not None
    minute = start
    while minute < dust_free:
        air = table.at(minute)
        assert air.temperature_c - dew_point(air.temperature_c, air.humidity_pct) >= 3.0 - 1e-6
        if minute < start + duration:
            assert OIL.apply.temperature_c.holds(air.temperature_c)
            assert OIL.apply.humidity_pct.holds(air.humidity_pct)
        minute += 1.0
