"""Dew point against psychrolib 2.5.0 (ASHRAE formulas) and against a printed chart."""

from __future__ import annotations

import pytest

from finplan.climate import Air, dew_point


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
def test_against_psychrolib(temperature_c: float, humidity_pct: float, psychrolib_c: float) -> None:
    # Magnus against the ASHRAE formulas: within 0.016 °C from 5 to 30 °C (Alduchov and Eskridge 1996 give 0.4 % of e).
    assert dew_point(temperature_c, humidity_pct) == pytest.approx(psychrolib_c, abs=0.016)


def test_against_a_printed_chart() -> None:
    # A coating maker's chart after ISO 8502-4: air of 16 °C and 71 % has its dew point at 11 °C (whole degrees).
    assert round(dew_point(16.0, 71.0)) == 11
    assert Air(16.0, 71.0).dew_margin_c == pytest.approx(5.25, abs=0.02)
