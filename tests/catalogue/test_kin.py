"""Finishes of one chemistry dry, harden and keep alike: what makes them so is the same binder in the same solvent."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from finplan.catalogue import Finish, bundled_catalogue
from finplan.quantity import Range

CATALOGUE = bundled_catalogue()
ALIKE = 1.6
"""How many times as long one may take as its kin: thickness, driers and pigment change that much, not chemistry."""

KIN = [  # what they share, the finishes, the fields in which it shows
    (
        "an alkyd, by oxygen",
        ("alkyd-enamel", "alkyd-primer"),
        ("touch_dry_h", "recoat_h", "handle_h"),
    ),
    ("an acrylic in water", ("acrylic-enamel", "acrylic-primer"), ("touch_dry_h", "recoat_h", "shelf_life_h")),
    (
        "acrylic and urethane in water",
        ("waterborne-polyurethane", "waterborne-sanding-sealer", "polyurethane-2k-waterborne"),
        ("touch_dry_h", "recoat_h"),
    ),
    ("the same, hardened or not", ("waterborne-polyurethane", "polyurethane-2k-waterborne"), ("cure_h",)),
    (
        "isocyanate",
        ("polyurethane-2k", "polyurethane-2k-waterborne"),
        ("touch_dry_h", "handle_h", "light_use_h", "cure_h"),
    ),
    (
        "cellulose, by evaporation",
        ("nitrocellulose-lacquer", "pre-catalysed-lacquer", "lacquer-sanding-sealer"),
        ("touch_dry_h", "recoat_h"),
    ),
    (
        "cellulose and acid",
        ("nitrocellulose-lacquer", "pre-catalysed-lacquer", "catalysed-lacquer"),
        ("light_use_h", "cure_h"),
    ),
    ("shellac, by evaporation", ("shellac", "shellac-primer"), ("handle_h",)),
    ("shellac and cellulose, by evaporation", ("shellac", "nitrocellulose-lacquer"), ("touch_dry_h",)),
    ("oil varnish", ("oil-varnish", "oil-polyurethane"), ("handle_h", "cure_h", "shelf_life_h")),
    (
        "oil with varnish in it",
        ("oil-varnish", "oil-varnish-blend"),
        ("recoat_h", "cure_h", "shelf_life_h", "handle_h"),
    ),
    (
        "oil with wax or varnish in it",
        ("hardwax-oil", "oil-varnish-blend"),
        ("touch_dry_h", "recoat_h", "handle_h", "shelf_life_h", "light_use_h"),
    ),
    (
        "a drying oil",
        ("tung-oil", "boiled-linseed-oil"),
        ("recoat_h", "handle_h", "light_use_h", "cure_h", "shelf_life_h"),
    ),
    ("oil, pigment and solvent", ("oil-stain", "gel-stain"), ("touch_dry_h", "recoat_h", "handle_h", "shelf_life_h")),
    ("a paste that hazes", ("oil-grain-filler", "water-grain-filler"), ("touch_dry_h", "wipe_off_h", "shelf_life_h")),
    ("a film of oil and solvent, wiped", ("oil-stain", "oil-grain-filler"), ("wipe_off_h",)),
    (
        "tins of paint, well closed",
        ("alkyd-enamel", "gel-stain", "oil-stain", "lacquer-sanding-sealer", "waterborne-sanding-sealer"),
        ("shelf_life_h",),
    ),
]
CASES = [
    pytest.param(one, other, field, id=f"{one}-{other}-{field}")
    for _, names, fields in KIN
    for one, other in combinations(names, 2)
    for field in fields
]


def typical(finish: Finish, field: str) -> float:
    held = getattr(finish, field)
    assert isinstance(held, Range)
    return held.typical


@pytest.mark.parametrize(("one", "other", "field"), CASES)
def test_kin_are_alike(one: str, other: str, field: str) -> None:
    times = sorted(typical(CATALOGUE.finishes[name], field) for name in (one, other))
    assert times[1] / times[0] <= ALIKE


def test_the_surfaces_are_in_order_of_what_made_them() -> None:
    # A plane leaves less than a planing machine, that less than a fine saw, a torn surface more, and a bandsaw most.
    removed = [
        CATALOGUE.surfaces[name].remove_mm.typical
        for name in ("hand-planed", "planed", "saw-cut", "planed-torn", "sawn", "band-sawn")
    ]
    assert all(rough / fine >= 1.3 for fine, rough in pairwise(removed))
    assert all(rough / fine <= 3.5 for fine, rough in pairwise(removed))
