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


@pytest.mark.parametrize(
    ("rule", "limit_g_l", "source"),
    [
        *[("eu-trim-paint-solvent", 300, "2004/42/EC A/d"), ("eu-trim-paint-water", 130, "2004/42/EC A/d")],
        *[("eu-trim-varnish-solvent", 400, "2004/42/EC A/e"), ("eu-trim-varnish-water", 130, "2004/42/EC A/e")],
        *[("eu-minimal-build", 700, "2004/42/EC A/f"), ("eu-primer-solvent", 350, "2004/42/EC A/g")],
        *[("eu-primer-water", 30, "2004/42/EC A/g"), ("eu-two-pack-solvent", 500, "2004/42/EC A/j")],
        *[("eu-two-pack-water", 140, "2004/42/EC A/j")],
        *[("us-varnish", 450, "40 CFR 59, recalled; Maine alike"), ("us-lacquer", 680, "recalled; Maine, brushing")],
        *[("us-conversion-varnish", 725, "recalled; Maine alike"), ("us-shellac-clear", 730, "recalled")],
        *[
            ("us-shellac-opaque", 550, "recalled"),
            ("us-sanding-sealer", 550, "recalled"),
            ("us-stain", 550, "recalled"),
        ],
        *[("us-primer", 350, "recalled"), ("us-non-flat", 380, "recalled")],
        *[("south-coast-varnish", 275, "SCAQMD 1113 (2003), as reported"), ("south-coast-furniture", 275, "recalled")],
    ],
)
def test_limits_of_the_rules(rule: str, limit_g_l: float, source: str) -> None:
    assert bundled_catalogue().voc_limits[rule].limit_g_l == limit_g_l, source
