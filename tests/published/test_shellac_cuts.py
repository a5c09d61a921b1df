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
from finplan.quantity import CONCENTRATION, read_quantity

FLAKES_G_L = 1150.0  # ten per cent more volume for each pound, as a chart says
GALLON_L, OUNCE_G = 3.785411784, 28.349523125


@pytest.mark.parametrize(("cut", "g_l"), [(1.0, 119.8), (2.0, 239.7)])
def test_grams_to_a_litre_of_alcohol(cut: float, g_l: float) -> None:
    # Derived from NIST Handbook 44: 453.592 37 g / 3.785 411 784 L.
    assert read_quantity(f"{cut} lb/gal", CONCENTRATION) == pytest.approx(g_l, abs=0.05)
    assert cut_of(g_l) == pytest.approx(cut, rel=1e-3)


@pytest.mark.parametrize(("cut", "fills"), [(2, 1.2), (3, 1.3), (4, 1.4)])
def test_how_much_it_makes(cut: int, fills: float) -> None:
    # Chart: a gallon of alcohol grows to about 1.2, 1.3 and 1.4 gallons with 2, 3 and 4 lb.
    assert 1000 / solution(cut * G_L_PER_CUT, FLAKES_G_L).liquid_ml == pytest.approx(fills, abs=0.02)


@pytest.mark.parametrize(("cut", "ounces", "cups"), [(2, 4, 2), (1, 4, 4), (3, 3, 1)])
def test_ounces_and_cups_of_the_charts(cut: int, ounces: float, cups: float) -> None:
    # Charts: an N pound cut is N ounces of flakes to a cup of alcohol, 4 N to a quart; one gives 4 oz to 16 fl oz.
    made = solution(cut * G_L_PER_CUT, FLAKES_G_L)
    assert made.solid_g / made.liquid_ml == pytest.approx(ounces * OUNCE_G / (cups * GALLON_L * 1000 / 16), rel=1e-3)


@pytest.mark.parametrize(
    ("before", "after", "alcohol"),
    # Charts: parts of alcohol to one of the cut. They round, and one prints 0.67 for the first, against its own ten per
    # cent of volume a pound, so that it is left out.
    [(3.0, 2.0, 0.33), (3.0, 1.0, 1.5), (4.0, 2.0, 0.75)],
)
def test_diluting(before: float, after: float, alcohol: float) -> None:
    left = thinned_strength(before * G_L_PER_CUT, FLAKES_G_L, alcohol * 100)
    assert cut_of(left) == pytest.approx(after, rel=0.05)


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
