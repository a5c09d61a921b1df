"""How temperature and humidity change drying times, against worked values of trade notes and of the formulas."""

from __future__ import annotations

import pytest

from finplan.climate import Air, rate_by_doubling, rate_by_energy, rate_of_evaporation


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
