"""Film that the catalogue's systems build, against published thicknesses. Dry film = 1000 µm/(m²/L) x volume solids."""

from __future__ import annotations

import pytest

from finplan.catalogue import System, bundled_catalogue

CATALOGUE = bundled_catalogue()


def dry_film_um(system: System) -> float:
    """All coats together, from typical values; thinning takes from the solids."""
    total, first = 0.0, True
    for step in system.steps:
        if step.do != "coat" or not step.finish:
            continue
        finish = CATALOGUE.finishes[step.finish]
        rate = finish.spread_rate.first_m2_l if first else finish.spread_rate.next_m2_l
        first = False
        if finish.film_forming:
            solids = finish.volume_solids_pct.typical / 100 / (1 + step.thin_pct / 100)
            total += 1000 / rate.typical * solids
    return total


@pytest.mark.parametrize("name", ["alkyd-enamel", "acrylic-enamel"])
def test_paint_on_smooth_wood(name: str) -> None:
    # Wood Handbook FPL-GTR-190 (2010) p. 16-23: primer and two top coats, 4 to 5 mil = 100 to 130 µm.
    # A sixth more: the first coat partly soaks in.
    assert 100 <= dry_film_um(CATALOGUE.systems[name]) <= 130 * 7 / 6


CLEAR = ["oil-varnish", "oil-polyurethane", "waterborne-polyurethane", "shellac", "lacquer", "polyurethane-2k"]


@pytest.mark.parametrize("name", [*CLEAR, "catalysed-lacquer", "stain-and-varnish", "dye-and-waterborne"])
def test_clear_film_on_furniture(name: str) -> None:
    # Trade practice: 50 to 100 µm of clear film inside; not above about 0.15 mm (6 mil) where it is rubbed out.
    assert 50 <= dry_film_um(CATALOGUE.systems[name]) <= 150


def test_catalysed_lacquer_stays_under_its_cap() -> None:
    # A trade note caps the whole film at 3 mil = 76 µm, others at 5 mil = 127 µm.
    assert 60 <= dry_film_um(CATALOGUE.systems["catalysed-lacquer"]) <= 127


@pytest.mark.parametrize(
    ("finish", "low_ft2_gal", "high_ft2_gal", "source"),
    [
        ("oil-stain", 200, 400, "Wood Handbook FPL-GTR-190 (2010) p. 16-20, smooth wood, first coat"),
        ("waterborne-polyurethane", 450, 600, "trade articles, one-part floor finish"),
        ("tung-oil", 400, 400, "trade articles, each coat at 1:1"),
        ("alkyd-enamel", 500, 600, "US Army TM 43-0139 Table 3-2, oil paint on new wood, each coat thinned"),
    ],
)
def test_spread_rates_reach_published_ones(finish: str, low_ft2_gal: float, high_ft2_gal: float, source: str) -> None:
    rates = CATALOGUE.finishes[finish].spread_rate
    low, high = (ft2_gal * 0.3048**2 / 3.785411784 for ft2_gal in (low_ft2_gal, high_ft2_gal))
    # The published middle lies between a meagre first coat and a rich later one.
    assert rates.first_m2_l.low <= (low + high) / 2 <= rates.next_m2_l.high, source
