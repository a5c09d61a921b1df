"""Moist air against steam tables, printed dew-point tables and the worked examples of paint makers' notes."""

from __future__ import annotations

from math import exp, log

import psychrolib
import pytest

from finplan.climate import Air, dew_point, saturation_pressure, wood_moisture

# Saturated steam tables (IAPWS formulation), temperature in °C and pressure in kPa, as printed in textbooks of
# thermodynamics.
STEAM = [(5, 0.8725), (10, 1.2281), (15, 1.7057), (20, 2.3392), (25, 3.1698), (30, 4.2469), (40, 7.3851)]


@pytest.mark.parametrize(("temperature_c", "pressure_kpa"), STEAM)
def test_saturation_pressure(temperature_c: float, pressure_kpa: float) -> None:
    assert saturation_pressure(temperature_c) == pytest.approx(10 * pressure_kpa, rel=5e-4)


# A German table for painters ("Taupunkttabelle", "gerundete Werte"), dew point in °C by air temperature and humidity.
# It is rounded by hand: neighbouring cells are out of step by up to 0.1.
PAINTERS_C = (10, 12, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 28, 30)
PAINTERS = {
    50: (0.0, 1.8, 3.7, 4.7, 5.6, 6.5, 7.4, 8.3, 9.3, 10.2, 11.2, 12.0, 12.9, 13.8, 14.8, 16.6, 18.4),
    60: (2.5, 4.5, 6.4, 7.4, 8.3, 9.2, 10.1, 11.1, 12.0, 12.9, 13.9, 14.8, 15.7, 16.7, 17.7, 19.4, 21.4),
    70: (4.8, 6.7, 8.7, 9.6, 10.6, 11.5, 12.4, 13.4, 14.4, 15.4, 16.3, 17.3, 18.2, 19.1, 20.1, 22.0, 23.9),
}


@pytest.mark.parametrize("humidity_pct", PAINTERS)
def test_against_a_table_for_painters(humidity_pct: int) -> None:
    for temperature_c, printed_c in zip(PAINTERS_C, PAINTERS[humidity_pct], strict=True):
        assert dew_point(temperature_c, humidity_pct) == pytest.approx(printed_c, abs=0.12), temperature_c


@pytest.mark.parametrize(
    ("temperature_f", "humidity_pct", "printed_f"),
    # An American chart for coatings, in whole °F: dew point at 70 °F and below, where it is not cut off.
    [(20, 90, 18), (40, 90, 37), (60, 90, 57), (70, 90, 67), (40, 80, 34), (60, 80, 54), (60, 70, 50), (70, 70, 60)],
)
def test_against_a_chart_in_fahrenheit(temperature_f: float, humidity_pct: float, printed_f: float) -> None:
    found_f = dew_point((temperature_f - 32) / 1.8, humidity_pct) * 1.8 + 32
    assert found_f == pytest.approx(printed_f, abs=0.6)


@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "psychrolib_c"),
    [
        (23, 50, 12.0284),
        (20, 65, 13.2272),
        (15, 80, 11.5816),
        (10, 85, 7.5975),
        (25, 60, 16.7011),
        (30, 70, 23.9279),
    ],
)
def test_the_library_in_whatever_units_it_was_left(
    temperature_c: float, humidity_pct: float, psychrolib_c: float
) -> None:
    # psychrolib 2.5.0 in SI units, computed apart.
    dew_point.cache_clear()
    saturation_pressure.cache_clear()
    psychrolib.SetUnitSystem(psychrolib.IP)
    assert dew_point(temperature_c, humidity_pct) == pytest.approx(psychrolib_c, abs=5e-5)
    psychrolib.SetUnitSystem(psychrolib.IP)
    # At its dew point air is saturated.
    vapour_hpa = saturation_pressure(temperature_c) * humidity_pct / 100
    assert saturation_pressure(psychrolib_c) == pytest.approx(vapour_hpa, rel=1e-5)


@pytest.mark.parametrize("temperature_c", [5.0, 10.0, 15.0, 20.0, 25.0, 30.0])
@pytest.mark.parametrize("humidity_pct", [45.0, 60.0, 75.0, 90.0])
def test_against_the_magnus_form(temperature_c: float, humidity_pct: float) -> None:
    # Alduchov and Eskridge, J. Appl. Meteorol. 35 (1996) 601-609: e = 6.1094 · exp(17.625 t / (243.04 + t)), solved for
    # t. It is a fit to 0.4 % of e, and within 0.02 °C of the ASHRAE formulas above the freezing point.
    x = log(humidity_pct / 100) + 17.625 * temperature_c / (243.04 + temperature_c)
    magnus_c = 243.04 * x / (17.625 - x)
    if magnus_c > 0:  # below it, dew is frost
        assert dew_point(temperature_c, humidity_pct) == pytest.approx(magnus_c, abs=0.02)
    assert saturation_pressure(temperature_c) == pytest.approx(
        6.1094 * exp(17.625 * temperature_c / (243.04 + temperature_c)), rel=0.004
    )


def test_paint_makers_examples() -> None:
    # A maker's note after ISO 8502-4, whole degrees from its chart. Air of 16 °C and 71 %: dew point 11 °C; steel of
    # 13 °C is only 2 above it: do not paint.
    assert round(dew_point(16.0, 71.0)) == 11
    assert 13.0 - dew_point(16.0, 71.0) == pytest.approx(2.25, abs=0.01)
    assert Air(16.0, 71.0).dew_margin_c == pytest.approx(5.25, abs=0.02)
    # Dry bulb 21 °C, wet bulb 17 °C: dew point 15 °C; steel of 19 °C is 4 above it: paint.
    psychrolib.SetUnitSystem(psychrolib.SI)
    humidity_pct = 100 * psychrolib.GetRelHumFromTWetBulb(21.0, 17.0, 101325.0)
    assert round(dew_point(21.0, humidity_pct)) == 15
    assert 19.0 - dew_point(21.0, humidity_pct) == pytest.approx(4.27, abs=0.01)


def test_outside_air_that_is_heated() -> None:
    # 10 °C and 80 % heated to 20 °C is 42.00 % (the vapour stays): wood then settles at 8.03 %, by psychrolib and the
    # Wood Handbook's equation.
    humidity_pct = 80 * saturation_pressure(10.0) / saturation_pressure(20.0)
    assert humidity_pct == pytest.approx(42.0, abs=0.01)
    assert wood_moisture(20.0, humidity_pct) == pytest.approx(8.03, abs=0.005)


def test_dry_and_frozen_air_have_a_dew_point() -> None:
    # Below one per cent counts as one; far below freezing the library still answers.
    assert dew_point(20.0, 0.0) == dew_point(20.0, 1.0) < -34
    assert -110 < dew_point(-60.0, 0.0) < -60
    assert dew_point(20.0, 100.0) == pytest.approx(20.0, abs=1e-3)
