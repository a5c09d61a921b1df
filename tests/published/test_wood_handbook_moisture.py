"""Equilibrium moisture content against the table of the Wood Handbook.

Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), table 4-2: moisture content of wood in
equilibrium with stated temperature and relative humidity. Printed to 0.1 %; equation 4-5 is a fit to the same data,
and the two differ by up to 0.06.
"""

from __future__ import annotations

import pytest

from finplan.climate import wood_moisture

HUMIDITIES = (30, 40, 50, 60, 65, 70, 80)
TABLE_4_2 = {
    -1.1: (6.3, 7.9, 9.5, 11.3, 12.4, 13.5, 16.5),
    10.0: (6.3, 7.9, 9.5, 11.2, 12.3, 13.4, 16.4),
    15.6: (6.2, 7.8, 9.4, 11.1, 12.1, 13.3, 16.2),
    21.1: (6.2, 7.7, 9.2, 11.0, 12.0, 13.1, 16.0),
    26.7: (6.1, 7.6, 9.1, 10.8, 11.7, 12.9, 15.7),
    32.2: (5.9, 7.4, 8.9, 10.5, 11.5, 12.6, 15.4),
}


@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "printed_pct"),
    [
        (temperature, humidity, printed)
        for temperature, row in TABLE_4_2.items()
        for humidity, printed in zip(HUMIDITIES, row, strict=True)
    ],
)
def test_table_4_2(temperature_c: float, humidity_pct: float, printed_pct: float) -> None:
    assert wood_moisture(temperature_c, humidity_pct) == pytest.approx(printed_pct, abs=0.07)


def test_value_of_another_implementation() -> None:
    # The documentation of an R package for conservation science, after FPL-RN-0268, prints 9.271141 for 20 °C, 50 %.
    assert wood_moisture(20.0, 50.0) == pytest.approx(9.271141, abs=5e-7)


def test_value_in_fahrenheit() -> None:
    # The handbook's own set of coefficients for °F gives 9.2752 % for 68 °F (20 °C) and 50 %.
    assert wood_moisture(20.0, 50.0) == pytest.approx(9.2752, abs=0.005)
