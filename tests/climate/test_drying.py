"""When a coat is dry, against closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import DRYING_PHASES, DryingPhase, Finish, bundled_catalogue
from finplan.climate import Air, AirTable, Drying
from finplan.climate.added_up import dried_in
from tests.climate.airs import DAY_MIN, START, day_and_night, steady

CATALOGUE = bundled_catalogue()
OIL = CATALOGUE.finishes["oil-polyurethane"]  # by oxygen; put on from 13 °C
WATER = CATALOGUE.finishes["waterborne-polyurethane"]  # by evaporation; put on from 13 °C
LACQUER = CATALOGUE.finishes["nitrocellulose-lacquer"]  # by solvent, from 18 °C
REACTIVE = CATALOGUE.finishes["catalysed-lacquer"]  # by its hardener, and dust-free by solvent


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
    reached = Drying(OIL, CATALOGUE, steady(Air(temperature_c, 50.0))).reached(0.0, "hardening", nominal_h)
    assert reached is not None
    assert reached / 60 == pytest.approx(expected_h, abs=0.005)


def test_steady_air_and_a_hardener() -> None:
    # 28 °C, half of ten degrees warmer: 4 / 2^0.5.
    assert Drying(REACTIVE, CATALOGUE, steady(Air(28.0, 50.0))).reached(0.0, "hardening", 4.0) == pytest.approx(
        2.8284 * 60, rel=1e-4
    )


def test_steady_air_and_solvent() -> None:
    # Clausius-Clapeyron with 40 kJ/mol: exp(40000 / 8.314462618 · (1/291.15 - 1/296.15)) = exp(0.278977) = 1.32178.
    reached = Drying(LACQUER, CATALOGUE, steady(Air(18.0, 50.0))).reached(0.0, "through", 1.0)
    assert reached == pytest.approx(1.32178 * 60, rel=1e-5)


@pytest.mark.parametrize(
    ("air", "depression_k"),
    [
        # Wet-bulb depressions by the psychrometer equation of WMO-No. 8, annex 4.B; at 23 °C and 50 % it is 6.69 K. By
        # the heat balance of a wet thing the gap of vapour pressure is as the depression.
        (Air(23.0, 70.0), 3.81),
        (Air(20.0, 50.0), 6.16),
        (Air(30.0, 60.0), 6.13),
        (Air(10.0, 70.0), 2.58),
    ],
)
def test_steady_air_and_water(air: Air, depression_k: float) -> None:
    reached = Drying(WATER, CATALOGUE, steady(air)).reached(0.0, "surface", 3.0)
    assert reached == pytest.approx(3 * 60 * 6.69 / depression_k, rel=0.01)


def test_an_arrhenius_law_of_a_shop() -> None:
    # exp(50000 / 8.314462618 · (1/288.15 - 1/296.15)) · 16 h = 28.12 h.
    pace = CATALOGUE.drying["oxidation"].model_copy(update={"by": "arrhenius", "energy_kj_mol": 50.0})
    drying = {**CATALOGUE.drying, "oxidation": pace}
    catalogue = replace(CATALOGUE, drying=drying)
    reached = Drying(OIL, catalogue, steady(Air(15.0, 50.0))).reached(0.0, "hardening", 16.0)
    assert reached is not None
    assert reached / 60 == pytest.approx(28.12, abs=0.005)


def test_day_and_night() -> None:
    # 23 °C by day counts 1, 13 °C by night 1/2: twelve hours give 12 by day, 6 by night. 20 h of drying from the
    # morning: 12 in the day, 6 in the night, 2 the next morning, so 26 hours.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(13.0, 50.0)))
    assert drying.reached(0.0, "hardening", 20.0) == pytest.approx(26 * 60)
    # From noon: 6 by day, 6 by night, 8 the next day: 6 + 12 + 8 hours.
    assert drying.reached(6 * 60, "hardening", 20.0) == pytest.approx((6 + 26) * 60)


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
    assert drying.reached(start_min, "hardening", whole_days * given_h) == pytest.approx(
        start_min + whole_days * DAY_MIN, abs=1e-4
    )


def test_the_law_goes_on_below_what_it_may_be_put_on_at() -> None:
    # From 13.1 to 12.9 °C, where it may no longer be put on, a night of twelve hours counts 1.4 % less, not nothing:
    # 20 h take 12 by day, a night of 12 h · 2^(-10.1/10) = 5.96 h, and 2.04 h more.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(12.9, 50.0)))
    assert drying.reached(0.0, "hardening", 20.0) == pytest.approx((24 + 2.0414) * 60, abs=0.1)
    assert drying.is_cold(0.0, 26 * 60)
    assert not drying.is_cold(0.0, 12 * 60)
    assert not drying.stands_still(0.0, 26 * 60)


@pytest.mark.parametrize(("night_c", "counted"), [(5.0, 1.0), (2.5, 0.5), (1.0, 0.2), (0.0, 0.0), (-10.0, 0.0)])
def test_the_rate_falls_off_to_nothing_between_five_and_zero(night_c: float, counted: float) -> None:
    # 30 h: 24 h in two days, and 6 h of three nights at least, where anything of them counts.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(night_c, 50.0)))
    a_night_h = 12 * counted * 2 ** ((night_c - 23) / 10)
    assert drying.reached(0.0, "hardening", 24 + 2 * a_night_h) == pytest.approx((36 if counted == 0 else 48) * 60)
    assert drying.stands_still(0.0, DAY_MIN) is (counted == 0)
    assert drying.still_below_c == 0


def test_it_stands_still_in_the_frost() -> None:
    # At 0 °C the night counts nothing: 20 h take 12 by day, a night, and 8 more.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(0.0, 50.0)))
    assert drying.reached(0.0, "hardening", 20.0) == pytest.approx(32 * 60)
    assert drying.stands_still(0.0, 32 * 60)
    assert not drying.stands_still(0.0, 12 * 60)
    # What is dry at dusk is dry, and not next morning.
    assert drying.reached(0.0, "hardening", 12.0) == pytest.approx(12 * 60)
    assert drying.reached(7.3 * 60, "hardening", 4.7) == pytest.approx(12 * 60)
    # Put on in the night, it starts to dry in the morning.
    assert drying.reached(15 * 60, "hardening", 1.0) == pytest.approx(25 * 60)


def test_each_phase_goes_by_its_own_law() -> None:
    # Damp air keeps water in a film, and leaves alone how it hardens; a coat with a hardener is dust-free when its
    # solvent has gone, at 18 °C after 1.32 times as long, and dry when it has reacted, after 2^0.5 times.
    damp = steady(Air(23.0, 80.0))
    assert Drying(WATER, CATALOGUE, damp).reached(0.0, "hardening", 7.0) == pytest.approx(7 * 60)
    assert (Drying(WATER, CATALOGUE, damp).reached(0.0, "through", 1.0) or 0) > 150
    cool = Drying(REACTIVE, CATALOGUE, steady(Air(18.0, 50.0)))
    assert cool.reached(0.0, "surface", 1.0) == pytest.approx(1.32178 * 60, rel=1e-5)
    assert cool.reached(0.0, "through", 1.0) == pytest.approx(2**0.5 * 60)


def test_the_next_coat_is_never_sooner_than_the_label_says() -> None:
    warm = Drying(OIL, CATALOGUE, steady(Air(28.0, 50.0)))
    assert warm.reached(0.0, "through", 8.0) == pytest.approx(8 * 60)
    assert warm.reached(0.0, "hardening", 8.0) == pytest.approx(8 * 60 / 2**0.5)


def test_warmth_counts_when_it_has_lasted_an_hour() -> None:
    # A night of 13 °C counts 1/2, and so does the first hour of the day: 12 h from dawn take 12.5 h of the day and a
    # little of the night, one of them at 1/2: 0.5 + 11 + 0.5 in the night, which is an hour.
    drying = Drying(OIL, CATALOGUE, day_and_night(Air(23.0, 50.0), Air(13.0, 50.0)))
    assert drying.reached(DAY_MIN, "through", 12.0) == pytest.approx(DAY_MIN + 13 * 60)
    # In the evening it cools at once.
    assert drying.reached(DAY_MIN + 11 * 60, "through", 2.0) == pytest.approx(DAY_MIN + 14 * 60)


# --- the recoat limit -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("air", "limit_h"),
    [
        (Air(23.0, 50.0), 6.0),  # the low end of 6/12/24 h
        (Air(18.0, 50.0), 6.0),  # colder: no longer
        (Air(23.0, 90.0), 6.0),  # damp: no longer
        (Air(33.0, 50.0), 3.0),  # ten degrees warmer: half
    ],
)
def test_the_recoat_limit_is_that_of_the_label_or_shorter(air: Air, limit_h: float) -> None:
    assert Drying(REACTIVE, CATALOGUE, steady(air)).recoat_closes(60.0) == pytest.approx(60 + limit_h * 60)


def test_the_warmest_of_the_wait_sets_the_limit() -> None:
    # Cold mornings, and from noon to midnight 33 °C, which halves 6 h. Put on at 7:00, it has stood longer than three
    # hours at noon, so it closes when it gets warm; put on at 10:00 or 13:00 it has three hours.
    drying = Drying(REACTIVE, CATALOGUE, day_and_night(Air(15.0, 50.0), Air(33.0, 50.0)))
    assert drying.recoat_closes(7 * 60) == pytest.approx(12 * 60)
    assert drying.recoat_closes(10 * 60) == pytest.approx(13 * 60)
    assert drying.recoat_closes(13 * 60) == pytest.approx(16 * 60)
    assert drying.recoat_closes(3 * 60) == pytest.approx(9 * 60)


def test_there_may_be_no_limit() -> None:
    assert Drying(LACQUER, CATALOGUE, steady(Air(23.0, 50.0))).recoat_closes(0.0) is None
    assert Drying(REACTIVE, CATALOGUE, steady(Air(23.0, 50.0), days=1)).recoat_closes(20 * 60) is None


@given(start=st.floats(0, 3 * DAY_MIN), later=st.floats(0, DAY_MIN), day_c=st.floats(5, 40), night_c=st.floats(5, 40))
def test_the_limit_of_a_later_coat_is_no_sooner(start: float, later: float, day_c: float, night_c: float) -> None:
    drying = Drying(REACTIVE, CATALOGUE, day_and_night(Air(day_c, 50.0), Air(night_c, 50.0)))
    first, second = drying.recoat_closes(start), drying.recoat_closes(start + later)
    assert first is not None
    assert second is not None
    assert start <= first <= second <= start + later + 6 * 60 + 1e-6


def test_beyond_what_is_known_it_is_not_said() -> None:
    drying = Drying(OIL, CATALOGUE, steady(Air(23.0, 50.0), days=1))
    assert drying.reached(20 * 60, "hardening", 4.0) == pytest.approx(24 * 60)
    assert drying.reached(20 * 60, "hardening", 4.1) is None
    assert Drying(OIL, CATALOGUE, steady(Air(0.0, 50.0))).reached(0.0, "through", 0.5) is None


def test_a_heavy_coat_takes_the_square() -> None:
    # Twice as thick: four times as long. A thin one is not counted on to be quicker.
    drying = Drying(OIL, CATALOGUE, steady(Air(23.0, 50.0)))
    assert drying.reached(0.0, "hardening", 8.0, 2.0) == pytest.approx(32 * 60)
    assert drying.reached(0.0, "hardening", 8.0, 1.5) == pytest.approx(18 * 60)
    assert drying.reached(0.0, "hardening", 8.0, 0.5) == pytest.approx(8 * 60)


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
    first, second = (
        drying.reached(start, "hardening", nominal_h),
        drying.reached(start + later, "hardening", nominal_h + more_h),
    )
    assert first is not None
    assert first >= start
    assert second is None or second >= first - 1e-6


@pytest.mark.parametrize("finish", [OIL, WATER, REACTIVE, LACQUER], ids=lambda finish: finish.title)
@pytest.mark.parametrize("phase", DRYING_PHASES)
@given(start=START_MIN, nominal_h=st.floats(0, 10), night_c=NIGHT, warmer=st.floats(0, 7))
def test_warmer_is_never_slower(
    finish: Finish, phase: DryingPhase, start: float, nominal_h: float, night_c: float, warmer: float
) -> None:
    cold = Drying(finish, CATALOGUE, wave(night_c)).reached(start, phase, nominal_h)
    warm = Drying(finish, CATALOGUE, wave(night_c + warmer)).reached(start, phase, nominal_h)
    assert cold is not None
    assert warm is not None
    assert warm <= cold + 1e-6


@given(start=START_MIN, nominal_h=st.floats(0, 10), night_c=NIGHT, factor=st.floats(0.1, 2), more=st.floats(0, 1))
def test_thicker_is_never_faster(start: float, nominal_h: float, night_c: float, factor: float, more: float) -> None:
    drying = Drying(OIL, CATALOGUE, wave(night_c))
    thin, thick = (
        drying.reached(start, "hardening", nominal_h, factor),
        drying.reached(start, "hardening", nominal_h, factor + more),
    )
    assert thin is not None
    assert thick is None or thick >= thin - 1e-6


def test_between_readings_the_rate_is_added_up_along_the_line() -> None:
    # From 13 to 23 °C in 10 h, in steps of 15 min: the rate goes from 1/2 to 1 as 2^(t/10 h)/2, and its integral is
    # 10 h · (1 - 1/2) / ln 2 = 7.2135 h.
    steps = 40
    airs = tuple(Air(13 + 10 * (step + 0.5) / steps, 50.0) for step in range(steps))
    drying = Drying(OIL, CATALOGUE, AirTable(START, tuple(15.0 * step for step in range(steps)), airs, 600))
    assert drying.reached(0.0, "hardening", 7.213) == pytest.approx(600, abs=0.1)
    # Half way: 10 h · (2^0.5 / 2 - 1/2) / ln 2 = 2.98793 h.
    assert drying.reached(0.0, "hardening", 2.98793) == pytest.approx(300, abs=0.1)


def test_the_figure_of_solvent_is_what_the_comment_says() -> None:
    assert exp(40000 / 8.314462618 * (1 / 291.15 - 1 / 296.15)) == pytest.approx(1.32178, rel=1e-5)


def test_what_goes_by_one_law_is_added_up_once_for_all_finishes() -> None:
    """Of the air of half a year that took two seconds where a job of twenty pieces had a dozen finishes."""
    air = day_and_night(Air(23.0, 50.0), Air(12.0, 50.0))
    law = CATALOGUE.finishes["oil-varnish"].law("through", CATALOGUE.drying)
    assert law == OIL.law("through", CATALOGUE.drying)
    added_up = [dried_in(air, CATALOGUE, law, at_its_slowest=slow) for slow in (True, False, True)]
    assert added_up[0] is added_up[2]
    assert added_up[0].by(2 * DAY_MIN) < added_up[1].by(2 * DAY_MIN)
