"""How far a litre goes, and how soon shellac is ready, against tables that were read.

Sources: US Army TM 43-0139, Painting Instructions for Army Materiel, paragraph 2-23 and Table 3-2; USDA Forest Products
Laboratory FPL-GTR-190, Wood Handbook (2010), page 16-20; "Data on Painting", paragraph 59, in a textbook of building
construction of about 1910 (volume 4), as stored in an open library; A. S. Jennings, Paint and Colour Mixing (about
1910), notes, as stored in another; a finishers' forum, "Measuring finish thickness", 7 November 2001.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range

CATALOGUE = bundled_catalogue()
US_GALLON_L, IMPERIAL_GALLON_L = 3.785411784, 4.54609  # NIST Handbook 44; Weights and Measures Act 1985
FT2_M2, YD2_M2 = 0.09290304, 0.83612736


def m2_l(ft2_gal: float) -> float:
    return ft2_gal * FT2_M2 / US_GALLON_L


@pytest.mark.parametrize(
    ("finish", "coat", "low_ft2", "high_ft2", "source"),
    [
        ("alkyd-enamel", "first", 500, 600, "TM 43-0139 Table 3-2, wood, new, prime coat"),
        ("alkyd-enamel", "next", 500, 600, "TM 43-0139 Table 3-2, wood, new, second and third coat"),
        ("oil-stain", "first", 200, 400, "Wood Handbook p. 16-20, semitransparent stain on smooth wood"),
        ("oil-varnish", "first", 350, 450, "Data on Painting 59: varnish, first coat"),
        ("oil-varnish", "next", 450, 550, "Data on Painting 59: varnish, second and subsequent coats"),
    ],
)
def test_the_range_of_a_table(finish: str, coat: str, low_ft2: float, high_ft2: float, source: str) -> None:
    rates = CATALOGUE.finishes[finish].spread_rate
    rate: Range = rates.first_m2_l if coat == "first" else rates.next_m2_l
    # Within an eighth at either end and in the middle: the records are rounded, the tables too.
    assert rate.low == pytest.approx(m2_l(low_ft2), rel=0.125), source
    assert rate.typical == pytest.approx((m2_l(low_ft2) * m2_l(high_ft2)) ** 0.5, rel=0.125), source
    assert rate.high == pytest.approx(m2_l(high_ft2), rel=0.125), source


@pytest.mark.parametrize("name", [name for name, one in CATALOGUE.finishes.items() if one.film_forming])
def test_no_coat_is_so_thin_that_it_is_dry_spray_nor_so_thick_that_it_runs(name: str) -> None:
    # "A light coating with no dry spray will measure 3 wet mils. A coat almost ready to run is 5 wet mils. A coat with
    # a sag, 6+": measuring finish thickness. Half a mil less for a brush, which lays some thinner than any gun.
    rates = CATALOGUE.finishes[name].spread_rate
    for rate in (rates.first_m2_l, rates.next_m2_l):
        assert 2.5 <= 1000 / rate.typical / 25.4 <= 6, name


def test_oil_varnish_by_another_book() -> None:
    # "One gallon of oil varnish may, for the purposes of calculation, be taken to cover sixty-four square yards."
    expected_m2_l = 64 * YD2_M2 / IMPERIAL_GALLON_L
    assert CATALOGUE.finishes["oil-varnish"].spread_rate.next_m2_l.typical == pytest.approx(expected_m2_l, rel=0.05)


@pytest.mark.parametrize(
    ("field", "low_h", "high_h", "source"),
    [
        ("handle_h", 1, 1, "TM 43-0139 2-23 e: air-dry for 1 hour before handling"),
        ("recoat_h", 2, 3, "TM 43-0139 2-23 e: recoat after 2 to 3 hours of air-drying"),
        ("cure_h", 24, 24, "TM 43-0139 2-23 e: dries to full hardness after 24 hours"),
    ],
)
def test_shellac(field: str, low_h: float, high_h: float, source: str) -> None:
    found: Range = getattr(CATALOGUE.finishes["shellac"], field)
    assert (found.low, found.high) == (low_h, high_h), source


def test_the_alcohol_of_the_shop_is_not_pure() -> None:
    # 27 CFR 21.32, formula No. 1, authorized for shellac coatings: four gallons of methyl alcohol to a hundred.
    assert CATALOGUE.solvents["denatured-alcohol"].components == {"ethanol": 100.0, "methanol": 4.0}
    dissolves = CATALOGUE.finishes["shellac"].dissolve
    assert dissolves is not None
    assert dissolves.liquid == "denatured-alcohol"


def test_a_limit_that_a_page_prints() -> None:
    # OSHA chemical sampling information, 2-butoxyethanol: ACGIH TLV (1996) 20 ppm. NIOSH's page of 1994 has 25 ppm.
    solvent = CATALOGUE.solvents["butoxyethanol"]
    assert solvent.limits is not None
    assert solvent.limits.acgih_ppm == 20.0
    assert solvent.source_of("limits.acgih") == "osha-sampling"


@pytest.mark.parametrize("name", [name for name, one in CATALOGUE.finishes.items() if one.spread_rate.by_method])
def test_another_way_is_told_where_it_changes_the_amount_by_a_fifth(name: str) -> None:
    finish = CATALOGUE.finishes[name]
    for method, further in finish.spread_rate.by_method.items():
        assert method in finish.methods
        assert not 1 / 1.2 < further.typical < 1.2, method
    assert set(finish.methods) - set(finish.spread_rate.by_method), "one way has to be the usual one"
