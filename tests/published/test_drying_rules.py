"""How temperature and humidity change drying times, against worked values of trade notes and of the formulas."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.climate import (
    Air,
    Drying,
    Weather,
    air_table,
    rate_by_doubling,
    rate_by_energy,
    rate_of_evaporation,
    time_by_thickness,
)
from finplan.inputs import Climate


@pytest.mark.parametrize(
    ("temperature_c", "times_as_long"),
    [(10, 2.462), (15, 1.741), (18, 1.414), (20, 1.231), (25, 0.871), (30, 0.616)],
)
def test_ten_degree_rule(temperature_c: float, times_as_long: float) -> None:
    # Trade note on two-component coatings: a time doubles for each 10 °C colder, halves for each 10 °C warmer.
    assert 1 / rate_by_doubling(temperature_c, 10.0) == pytest.approx(times_as_long, abs=5e-4)


@pytest.mark.parametrize(
    ("temperature_c", "energy_kj_mol", "times_as_long"),
    [
        (10, 50, 2.540),
        (15, 50, 1.757),
        (18, 50, 1.417),
        (30, 50, 0.626),
        (10, 70, 3.688),
        (20, 70, 1.338),
        (30, 70, 0.519),
    ],
)
def test_arrhenius(temperature_c: float, energy_kj_mol: float, times_as_long: float) -> None:
    # Textbook Arrhenius law, t = t0 · exp(Ea/R · (1/T - 1/T0)), computed with R = 8.314462618 J/(mol·K).
    assert 1 / rate_by_energy(temperature_c, energy_kj_mol) == pytest.approx(times_as_long, abs=5e-4)


def test_humidity_slows_evaporation() -> None:
    # The drive is (1 - RH): from 50 to 80 % takes 2.5 times as long, from 50 to 30 % 0.71 times.
    assert 1 / rate_of_evaporation(Air(23.0, 80.0)) == pytest.approx(2.5, rel=1e-9)
    assert 1 / rate_of_evaporation(Air(23.0, 30.0)) == pytest.approx(0.714, abs=5e-4)


def test_recoat_in_a_cooler_shop() -> None:
    # 16 h at 23 °C: in a shop of 15 °C 27.86 h by the 10 °C rule, 28.12 h by Arrhenius with 50 kJ/mol.
    assert 16 / rate_by_doubling(15.0, 10.0) == pytest.approx(27.86, abs=0.005)
    assert 16 / rate_by_energy(15.0, 50.0) == pytest.approx(28.12, abs=0.005)


def test_a_coat_of_the_morning_and_the_next_day() -> None:
    # A coat at 10:00 that recoats after 16 h at 23 °C, in a shop of 18 °C: 16 · 2^0.5 = 22.63 h, so at 8:38 next day.
    air = {"temperature": "18 degC", "humidity": "50 %"}
    climate = Climate.model_validate({"day": air, "night": air})
    start = datetime(2027, 3, 1, tzinfo=UTC)
    catalogue = bundled_catalogue()
    drying = Drying(
        catalogue.finishes["oil-polyurethane"], catalogue, air_table(Weather(climate, ZoneInfo("UTC")), start, 3)
    )
    reached = drying.reached(10 * 60, 16.0)
    assert reached is not None
    assert f"{start + timedelta(minutes=round(reached)):%d %H:%M}" == "02 08:38"


def test_a_double_coat_takes_four_times_as_long() -> None:
    # Diffusion: the time goes with the square of the thickness. (A maker's note that doubling the film turns 8 h into
    # 512 h contradicts it.)
    assert 8 * time_by_thickness(2.0) == 32.0
