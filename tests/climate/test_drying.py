"""When a coat is dry, against closed forms."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.climate import Air, AirTable, Drying
from tests.climate.airs import DAY_MIN, START, day_and_night, steady

CATALOGUE = bundled_catalogue()
OIL = CATALOGUE.finishes["oil-polyurethane"]  # by oxygen, from 13 °C
WATER = CATALOGUE.finishes["waterborne-polyurethane"]  # by evaporation, film forms from 13 °C
LACQUER = CATALOGUE.finishes["nitrocellulose-lacquer"]  # by solvent, from 18 °C
REACTIVE = CATALOGUE.finishes["catalysed-lacquer"]  # by its hardener


@pytest.mark.parametrize(
    ("temperature_c", "nominal_h", "expected_h"),
    [
        (23.0, 8.0, 8.0),  # the air for which the time is stated
        (15.0, 16.0, 27.86),  # 16 · 2^0.8, the 10 °C rule
        (18.0, 16.0, 22.63),  # 16 · 2^0.5
        (13.0, 8.0, 16.0),  # ten degrees colder: twice as long
    ],
)
def test_steady_air_and_oxygen(temperature_c: float, nominal_h: float, expected_h: float) -> None:
    reached = Drying(OIL, CATALOGUE, steady(Air(temperature_c, 50.0))).reached(0.0, nominal_h)
    assert reached is not None
    assert reached / 60 == pytest.approx(expected_h, abs=0.005)


def test_steady_air_and_a_hardener() -> None:
    # 28 °C, half of ten degrees warmer: 4 / 2^0.5.
    assert Drying(REACTIVE, CATALOGUE, steady(Air(28.0, 50.0))).reached(0.0, 4.0) == pytest.approx(
        2.8284 * 60, rel=1e-4
    )


def test_steady_air_and_solvent() -> None:
    # Clausius-Clapeyron with 40 kJ/mol: exp(40000 / 8.314462618 · (1/291.15 - 1/296.15)) = exp(0.278977) = 1.32178.
    reached = Drying(LACQUER, CATALOGUE, steady(Air(18.0, 50.0))).reached(0.0, 1.0)
    assert reached == pytest.approx(1.32178 * 60, rel=1e-5)


@pytest.mark.parametrize(
    ("air", "times_as_long"),
    [
        # Drive: saturation pressure · (1 - RH). Pressures of saturated steam tables: 20 °C 2.3392 kPa, 23 °C 2.811,
        # 30 °C 4.2469. Humidity alone: (1 - 0.5) / (1 - 0.7).
        (Air(23.0, 70.0), 5 / 3),
        (Air(20.0, 50.0), 2.811 / 2.3392),
        (Air(30.0, 60.0), 2.811 * 0.5 / (4.2469 * 0.4)),
    ],
)
def test_steady_air_and_water(air: Air, times_as_long: float) -> None:
    reached = Drying(WATER, CATALOGUE, steady(air)).reached(0.0, 3.0)
    assert reached == pytest.approx(3 * 60 * times_as_long, rel=5e-4)


def test_an_arrhenius_law_of_a_shop() -> None:
    # exp(50000 / 8.314462618 · (1/288.15 - 1/296.15)) · 16 h = 28.12 h.
    pace = CATALOGUE.drying["oxidation"].model_copy(update={"by": "arrhenius", "energy_kj_mol": 50.0})
    drying = {**CATALOGUE.drying, "oxidation": pace}
    catalogue = type(CATALOGUE)(
        **{name.replace("-", "_"): named for name, named in CATALOGUE.kinds().items()} | {"drying": drying}
    )
    reached = Drying(OIL, catalogue, steady(Air(15.0, 50.0))).reached(0.0, 16.0)
    assert reached is not None
    assert reached / 60 == pytest.approx(28.12, abs=0.005)


def test_day_and_night() -> None:
    # 23 °C by day counts 1, 13 °C by night 1/2: twelve hours give 12 by day, 6 by night. 20 h of drying from the
    # morning: 12 in the day, 6 in the night, 2 the next morning, so 26 hours.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(13.0, 50.0)))
    assert drying.reached(0.0, 20.0) == pytest.approx(26 * 60)
    # From noon: 6 by day, 6 by night, 8 the next day: 6 + 12 + 8 hours.
    assert drying.reached(6 * 60, 20.0) == pytest.approx((6 + 26) * 60)


@given(
    day_c=st.floats(13, 30),
    night_c=st.floats(13, 30),
    day_h=st.floats(1, 23),
    start_min=st.floats(0, 3 * DAY_MIN),
    whole_days=st.integers(1, 5),
)
def test_a_square_wave_repeats(day_c: float, night_c: float, day_h: float, start_min: float, whole_days: int) -> None:
    # Closed form: a day gives G = day_h · 2^((day_c - 23)/10) + (24 - day_h) · 2^((night_c - 23)/10) hours, at whatever
    # hour it begins; so n · G hours take n days exactly.
    given_h = day_h * 2 ** ((day_c - 23) / 10) + (24 - day_h) * 2 ** ((night_c - 23) / 10)
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(day_c, 50.0), Air(night_c, 50.0), day_h=day_h))
    assert drying.reached(start_min, whole_days * given_h) == pytest.approx(start_min + whole_days * DAY_MIN, abs=1e-4)


def test_it_stands_still_in_the_cold() -> None:
    # At 12 °C, below its 13 °C, the night counts nothing: 20 h take 12 by day, a night, and 8 more.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(12.0, 50.0)))
    assert drying.reached(0.0, 20.0) == pytest.approx(32 * 60)
    assert drying.stands_still(0.0, 32 * 60)
    assert not drying.stands_still(0.0, 12 * 60)
    # What is dry at dusk is dry, and not next morning.
    assert drying.reached(0.0, 12.0) == pytest.approx(12 * 60)
    assert drying.reached(7.3 * 60, 4.7) == pytest.approx(12 * 60)
    # Put on in the night, it starts to dry in the morning.
    assert drying.reached(15 * 60, 1.0) == pytest.approx(25 * 60)


def test_beyond_what_is_known_it_is_not_said() -> None:
    drying = Drying(OIL, CATALOGUE, steady(Air(23.0, 50.0), days=1))
    assert drying.reached(20 * 60, 4.0) == pytest.approx(24 * 60)
    assert drying.reached(20 * 60, 4.1) is None
    assert Drying(OIL, CATALOGUE, steady(Air(5.0, 50.0))).reached(0.0, 0.5) is None


def test_a_heavy_coat_takes_the_square() -> None:
    # Twice as thick: four times as long. A thin one is not counted on to be quicker.
    drying = Drying(OIL, CATALOGUE, steady(Air(23.0, 50.0)))
    assert drying.reached(0.0, 8.0, 2.0) == pytest.approx(32 * 60)
    assert drying.reached(0.0, 8.0, 1.5) == pytest.approx(18 * 60)
    assert drying.reached(0.0, 8.0, 0.5) == pytest.approx(8 * 60)


NIGHT = st.floats(5, 23)
START_MIN = st.floats(0, 3 * DAY_MIN)
NOMINAL_H = st.floats(0, 40)


def wave(night_c: float) -> AirTable:
    return day_and_night(Air(23.0, 50.0), Air(night_c, 50.0), days=20)


@given(start=START_MIN, later=st.floats(0, DAY_MIN), nominal_h=NOMINAL_H, more_h=st.floats(0, 10), night_c=NIGHT)
def test_later_or_more_is_never_earlier(
    start: float, later: float, nominal_h: float, more_h: float, night_c: float
) -> None:
    drying = Drying(OIL, CATALOGUE, wave(night_c))
    first, second = drying.reached(start, nominal_h), drying.reached(start + later, nominal_h + more_h)
    assert first is not None
    assert first >= start
    assert second is None or second >= first - 1e-6


@pytest.mark.parametrize("finish", [OIL, WATER, REACTIVE, LACQUER], ids=lambda finish: finish.title)
@given(start=START_MIN, nominal_h=st.floats(0, 10), night_c=NIGHT, warmer=st.floats(0, 7))
def test_warmer_is_never_slower(finish: object, start: float, nominal_h: float, night_c: float, warmer: float) -> None:
    cold = Drying(finish, CATALOGUE, wave(night_c)).reached(start, nominal_h)  # type: ignore[arg-type]
    warm = Drying(finish, CATALOGUE, wave(night_c + warmer)).reached(start, nominal_h)  # type: ignore[arg-type]
    assert cold is not None
    assert warm is not None
    assert warm <= cold + 1e-6


@given(start=START_MIN, nominal_h=st.floats(0, 10), night_c=NIGHT, factor=st.floats(0.1, 2), more=st.floats(0, 1))
def test_thicker_is_never_faster(start: float, nominal_h: float, night_c: float, factor: float, more: float) -> None:
    drying = Drying(OIL, CATALOGUE, wave(night_c))
    thin, thick = drying.reached(start, nominal_h, factor), drying.reached(start, nominal_h, factor + more)
    assert thin is not None
    assert thick is None or thick >= thin - 1e-6


def test_many_at_once() -> None:
    drying = Drying(OIL, CATALOGUE, wave(12.0))
    starts = [5.0 * step for step in range(600)]
    assert drying.reached_many(starts, 6.0, 1.2) == [drying.reached(start, 6.0, 1.2) for start in starts]


def test_between_readings_the_rate_is_added_up_along_the_line() -> None:
    # From 13 to 23 °C in 10 h, in steps of 15 min: the rate goes from 1/2 to 1 as 2^(t/10 h)/2, and its integral is
    # 10 h · (1 - 1/2) / ln 2 = 7.2135 h.
    steps = 40
    airs = tuple(Air(13 + 10 * (step + 0.5) / steps, 50.0) for step in range(steps))
    drying = Drying(OIL, CATALOGUE, AirTable(START, tuple(15.0 * step for step in range(steps)), airs, 600))
    assert drying.reached(0.0, 7.213) == pytest.approx(600, abs=0.1)
    # Half way: 10 h · (2^0.5 / 2 - 1/2) / ln 2 = 2.98793 h.
    assert drying.reached(0.0, 2.98793) == pytest.approx(300, abs=0.1)


def test_the_figure_of_solvent_is_what_the_comment_says() -> None:
    assert exp(40000 / 8.314462618 * (1 / 291.15 - 1 / 296.15)) == pytest.approx(1.32178, rel=1e-5)
