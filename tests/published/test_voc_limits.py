"""Typical VOC of each finish against the limit of its category: what is sold lawfully cannot hold more.

- Maine 06-096 CMR chapter 151, section 3 (model rule of the Ozone Transport Commission): seen
- 40 CFR 59 subpart D, Table 1 (US federal, architectural coatings): recalled
- Directive 2004/42/EC, Annex II A, phase II (2010), solvent-borne: seen in the German text (ChemVOCFarbV)
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue


@pytest.mark.parametrize(
    ("finish", "limit_g_l", "category"),
    [
        ("oil-varnish", 450, "Maine: varnish"),
        ("oil-polyurethane", 450, "Maine: varnish"),
        ("waterborne-polyurethane", 450, "Maine: varnish"),
        ("catalysed-lacquer", 725, "Maine: conversion varnish"),
        ("nitrocellulose-lacquer", 680, "Maine: clear brushing lacquer"),
        ("pre-catalysed-lacquer", 550, "Maine: lacquer"),
        ("lacquer-sanding-sealer", 550, "Maine: lacquer, with its sanding sealer"),
        ("waterborne-sanding-sealer", 350, "Maine: other sanding sealer"),
        ("acrylic-enamel", 150, "Maine: non-flat"),
        ("shellac", 730, "40 CFR 59: shellac, clear"),
        ("shellac-primer", 550, "40 CFR 59: shellac, opaque"),
        ("oil-stain", 550, "40 CFR 59: stain, clear and semitransparent"),
        ("gel-stain", 550, "40 CFR 59: stain, clear and semitransparent"),
        ("alkyd-enamel", 450, "40 CFR 59: quick-dry enamel"),
        ("alkyd-primer", 350, "2004/42/EC A/g: primer, and 40 CFR 59: primer"),
        ("polyurethane-2k", 500, "2004/42/EC A/j: two-pack performance"),
    ],
)
def test_typical_voc_is_within_its_category(finish: str, limit_g_l: float, category: str) -> None:
    assert bundled_catalogue().finishes[finish].voc_g_l.typical <= limit_g_l, category


@pytest.mark.parametrize("finish", ["soap-flakes", "casein-paint", "water-dye"])
def test_what_is_water_and_powder_holds_none(finish: str) -> None:
    assert bundled_catalogue().finishes[finish].voc_g_l.high == 0
