"""Organic vapour ready to use, against published arithmetic.

- A balance of mass: 450 g/L with 10 % of thinner of 780 g/L is 480 g/L, above a limit of 450.
- SCAQMD Rule 1136, definitions: (Ws - Ww - Wes) / (Vm - Vw - Ves). A litre with 620 g of volatiles, 520 g of it water,
  holds 100 g/L with the water and 208 g/L without.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from finplan.safety.regulation import less_water, less_water_range, ready_to_use

CATALOGUE = bundled_catalogue()


def test_thinning_raises_it() -> None:
    varnish = CATALOGUE.finishes["oil-varnish"]
    ready = ready_to_use(varnish, 0.10, CATALOGUE)
    assert CATALOGUE.solvents["white-spirit"].density_g_l.typical == 780
    assert round((450 + 0.10 * 780) / 1.10) == 480
    assert ready.typical == pytest.approx((varnish.voc_g_l.typical + 0.10 * 780) / 1.10)
    assert ready.typical > varnish.voc_g_l.typical


def test_thinning_with_water_does_not() -> None:
    waterborne = CATALOGUE.finishes["waterborne-polyurethane"]
    assert ready_to_use(waterborne, 0.10, CATALOGUE) == waterborne.voc_g_l


def test_without_its_water() -> None:
    assert f"{less_water(620 - 520, 0.52):.0f}" == "208"
    assert less_water(100.0, 0.0) == 100.0


def test_only_waterborne_finishes_are_counted_without_water() -> None:
    shellac = CATALOGUE.finishes["shellac"]
    assert less_water_range(shellac, shellac.voc_g_l, CATALOGUE) == shellac.voc_g_l
    waterborne = CATALOGUE.finishes["waterborne-polyurethane"]
    counted = less_water_range(waterborne, Range(50.0, 150.0, 275.0), CATALOGUE)
    # By hand: 32 % solids and 150 g of a solvent of 950 g/L leave 0.522 L of water in a litre.
    assert counted.typical == pytest.approx(150 / (1 - (1 - 0.32 - 150 / 950)), rel=1e-9)
    assert counted.low <= counted.typical <= counted.high


def test_no_water_at_all_is_no_error() -> None:
    waterborne = CATALOGUE.finishes["waterborne-polyurethane"]
    dense = waterborne.model_copy(update={"volume_solids_pct": Range(95.0, 98.0, 100.0)})
    assert less_water_range(dense, Range(100.0, 100.0, 100.0), CATALOGUE).low == pytest.approx(100.0)
