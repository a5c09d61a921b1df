"""Shellac by the pound cut, against published mixing charts.

A cut is pounds of flakes to a US gallon of alcohol, not of solution. Sources: three published mixing charts (flakes to
a gallon, a quart and a cup; how much the volume grows; diluting one cut to another); pound and gallon as in NIST
Handbook 44, appendix C.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.material import cut_of, solution, thinned_strength
from finplan.material.solution import G_L_PER_CUT
from finplan.quantity import CONCENTRATION, read

FLAKES_G_L = 1150.0  # ten per cent more volume for each pound, as a chart says
GALLON_L, OUNCE_G = 3.785411784, 28.349523125


@pytest.mark.parametrize(
    ("cut", "g_l"),
    [(0.5, 59.9), (1.0, 119.8), (1.5, 179.7), (2.0, 239.7), (2.5, 299.6), (3.0, 359.5), (4.0, 479.3), (5.0, 599.1)],
)
def test_grams_to_a_litre_of_alcohol(cut: float, g_l: float) -> None:
    # Unit algebra: 453.592 37 g / 3.785 411 784 L.
    assert cut * G_L_PER_CUT == pytest.approx(g_l, abs=0.05)
    assert read(f"{cut} lb/gal", CONCENTRATION) == pytest.approx(g_l, abs=0.05)
    assert cut_of(cut * G_L_PER_CUT) == pytest.approx(cut)


@pytest.mark.parametrize("cut", [1, 2, 3, 4])
def test_ounces_to_a_cup_and_a_quart(cut: int) -> None:
    # Charts: an N pound cut is N ounces to a cup and 4 N ounces to a quart.
    assert cut * G_L_PER_CUT * GALLON_L / 16 == pytest.approx(cut * OUNCE_G, rel=1e-9)
    assert cut * G_L_PER_CUT * GALLON_L / 4 == pytest.approx(4 * cut * OUNCE_G, rel=1e-9)


@pytest.mark.parametrize(
    ("cut", "fills", "solid_g_l", "solids_pct"),
    [(1, 1.1, 108.5, 9.4), (2, 1.2, 198.3, 17.3), (3, 1.3, 273.9, 23.8), (4, 1.4, 338.3, 29.4)],
)
def test_how_much_it_makes(cut: int, fills: float, solid_g_l: float, solids_pct: float) -> None:
    # Chart: a gallon of alcohol grows to about 1.2, 1.3 and 1.4 gallons with 2, 3 and 4 lb. Grams and solids follow.
    made = solution(cut * G_L_PER_CUT, FLAKES_G_L)
    assert 1000 / made.liquid_ml == pytest.approx(fills, abs=0.02)
    assert made.solid_g == pytest.approx(solid_g_l, abs=0.1)
    assert made.solid_g / FLAKES_G_L * 100 == pytest.approx(solids_pct, abs=0.1)


def test_the_worked_example() -> None:
    # A chart: 16 fl oz of alcohol and 4 oz of flakes are a 2 lb cut. By algebra 0.5 L takes 119.83 g and makes 0.604 L.
    assert pytest.approx(4 * OUNCE_G, rel=1e-9) == 2 * G_L_PER_CUT * 16 * 0.0295735295625
    made = solution(2 * G_L_PER_CUT, FLAKES_G_L)
    assert pytest.approx(119.83, abs=0.01) == 0.5 * 2 * G_L_PER_CUT
    assert 500 / made.liquid_ml == pytest.approx(0.604, abs=0.001)


@pytest.mark.parametrize(
    ("before", "after", "alcohol", "source"),
    [
        (2.0, 1.0, 0.83, "algebra; one chart prints 0.67, which breaks its own ten per cent a pound"),
        (3.0, 2.0, 0.38, "algebra; chart 0.33"),
        (3.0, 1.0, 1.52, "algebra; chart 1.5"),
        (4.0, 2.0, 0.71, "algebra; chart 0.75"),
    ],
)
def test_diluting(before: float, after: float, alcohol: float, source: str) -> None:
    left = thinned_strength(before * G_L_PER_CUT, FLAKES_G_L, alcohol * 100)
    assert cut_of(left) == pytest.approx(after, rel=5e-3), source


def test_the_catalogue_dissolves_a_two_pound_cut() -> None:
    shellac = bundled_catalogue().finishes["shellac"]
    assert shellac.dissolve is not None
    assert cut_of(shellac.dissolve.strength_g_l) == pytest.approx(2.0)
    made = solution(shellac.dissolve.strength_g_l, shellac.dissolve.density_g_l.typical)
    assert made.solid_g / shellac.dissolve.density_g_l.typical * 100 == pytest.approx(
        shellac.volume_solids_pct.typical, abs=0.5
    )
    assert shellac.density_g_l is not None
    ethanol = bundled_catalogue().solvents["ethanol"].density_g_l.typical
    weighs_g_l = made.solid_g + made.liquid_ml / 1000 * ethanol
    assert shellac.density_g_l.low <= weighs_g_l <= shellac.density_g_l.high
