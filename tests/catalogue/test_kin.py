"""Finishes of one chemistry dry, harden and keep alike: what makes them so is the same binder in the same solvent."""

from __future__ import annotations

from itertools import pairwise

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from tests.each import each

CATALOGUE = bundled_catalogue()
ALIKE = 1.6
"""How many times as long one may take as its kin: thickness, driers and pigment change that much, not chemistry."""

KIN = [  # what they share, the finishes, the fields in which it shows
    ("an alkyd, by oxygen", ("alkyd-enamel", "alkyd-primer"), ("touch_dry_h", "recoat_h")),
    ("an acrylic in water", ("acrylic-enamel", "acrylic-primer"), ("touch_dry_h", "recoat_h", "shelf_life_h")),
    (
        "acrylic and urethane in water",
        ("waterborne-polyurethane", "waterborne-sanding-sealer", "polyurethane-2k-waterborne"),
        ("touch_dry_h", "recoat_h"),
    ),
    ("the same, hardened or not", ("waterborne-polyurethane", "polyurethane-2k-waterborne"), ("cure_h",)),
    ("the same, by a lid alone", ("waterborne-polyurethane", "acrylic-enamel"), ("shelf_life_h",)),
    (
        "isocyanate",
        ("polyurethane-2k", "polyurethane-2k-waterborne"),
        ("touch_dry_h", "handle_h", "light_use_h", "shelf_life_h"),
    ),
    ("isocyanate, in oil too", ("hardwax-oil-2k", "polyurethane-2k", "polyurethane-2k-waterborne"), ("cure_h",)),
    ("isocyanate, in oil too", ("hardwax-oil-2k", "polyurethane-2k", "polyurethane-2k-waterborne"), ("handle_h",)),
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
    ("alcohol leaves shellac and dye", ("shellac", "alcohol-dye"), ("touch_dry_h",)),
    ("alcohol leaves shellac and dye", ("shellac-primer", "alcohol-dye"), ("touch_dry_h", "recoat_h")),
    ("a coat that is sanded off again", ("lacquer-sanding-sealer", "waterborne-sanding-sealer"), ("handle_h",)),
    ("a primer, to be rubbed down", ("acrylic-primer", "alkyd-primer"), ("cure_h",)),
    ("a white enamel, hard", ("acrylic-enamel", "alkyd-enamel"), ("cure_h",)),
    ("a paint of water, soft", ("acrylic-enamel", "casein-paint"), ("light_use_h",)),
    ("a thin coat of water", ("casein-paint", "acrylic-primer", "waterborne-polyurethane"), ("cure_h",)),
    (
        "a thin coat of water",
        ("casein-paint", "acrylic-primer", "water-grain-filler", "soap-flakes"),
        ("handle_h",),
    ),
    ("water leaves wood and filler", ("acrylic-primer", "water-grain-filler", "soap-flakes"), ("recoat_h",)),
    ("soap and wax, on the wood", ("soap-flakes", "paste-wax"), ("light_use_h", "wipe_off_h")),
    (
        "a thin film of oil with driers, overnight",
        (
            *("hardwax-oil", "oil-varnish-blend", "oil-varnish", "oil-polyurethane", "alkyd-enamel", "alkyd-primer"),
            *("oil-stain", "gel-stain", "oil-grain-filler"),
        ),
        ("handle_h",),
    ),
    ("oil varnish", ("oil-varnish", "oil-polyurethane"), ("cure_h", "shelf_life_h")),
    ("alkyd and oil varnish, drying in the tin", ("oil-varnish", "alkyd-primer"), ("shelf_life_h",)),
    (
        "oil with varnish in it",
        ("oil-varnish", "oil-varnish-blend"),
        ("recoat_h", "cure_h", "shelf_life_h"),
    ),
    (
        "oil with wax or varnish in it",
        ("hardwax-oil", "oil-varnish-blend"),
        ("touch_dry_h", "recoat_h", "shelf_life_h", "light_use_h", "cure_h", "wipe_off_h"),
    ),
    (
        "oil that bites into oil for days",
        ("hardwax-oil", "oil-varnish-blend", "alkyd-enamel", "alkyd-primer"),
        ("recoat_limit_h",),
    ),
    (
        "a film that has crosslinked in a day",
        (
            *("pre-catalysed-lacquer", "lacquer-sanding-sealer", "waterborne-sanding-sealer"),
            *("waterborne-polyurethane", "oil-polyurethane"),
        ),
        ("recoat_limit_h",),
    ),
    (
        "a drying oil",
        ("tung-oil", "boiled-linseed-oil"),
        ("recoat_h", "handle_h", "light_use_h", "cure_h", "shelf_life_h"),
    ),
    ("oil, pigment and solvent", ("oil-stain", "gel-stain"), ("touch_dry_h", "recoat_h", "shelf_life_h")),
    ("a paste that hazes", ("oil-grain-filler", "water-grain-filler"), ("touch_dry_h", "wipe_off_h", "shelf_life_h")),
    ("a film of oil and solvent, wiped", ("oil-stain", "oil-grain-filler"), ("wipe_off_h",)),
    ("a dye", ("water-dye", "alcohol-dye"), ("wipe_off_h", "shelf_life_h")),
    (
        "tins of paint, well closed",
        ("alkyd-enamel", "gel-stain", "oil-stain", "lacquer-sanding-sealer", "waterborne-sanding-sealer"),
        ("shelf_life_h",),
    ),
    ("kept by a lid alone", ("nitrocellulose-lacquer", "paste-wax", "acrylic-enamel"), ("shelf_life_h",)),
    (
        "a tinted oil and a clear one",
        ("tinted-oil", "hardwax-oil"),
        ("wipe_off_h", "recoat_h", "cure_h", "shelf_life_h"),
    ),
    ("likewise with hardener", ("tinted-oil-2k", "hardwax-oil-2k"), ("wipe_off_h", "recoat_h", "cure_h")),
    (
        "a film that flows for as long",
        ("oil-varnish", "oil-polyurethane", "alkyd-enamel", "alkyd-primer"),
        ("wet_edge_h",),
    ),
    ("a film of water", ("waterborne-polyurethane", "acrylic-enamel", "acrylic-primer"), ("wet_edge_h",)),
    ("a film of spirit", ("shellac", "shellac-primer"), ("wet_edge_h",)),
    ("hardener that keeps for most of a year", ("hardwax-oil-2k", "catalysed-lacquer"), ("shelf_life_h",)),
]
CASES = [pytest.param(names, field, id=f"{'-'.join(names)}-{field}") for _, names, fields in KIN for field in fields]


def times(names: tuple[str, ...], field: str) -> list[float]:
    held = [getattr(CATALOGUE.finishes[name], field) for name in names]
    assert all(isinstance(one, Range) for one in held)
    return [one.typical for one in held]


@each(("names", "field"), CASES)
def test_kin_are_alike(names: tuple[str, ...], field: str) -> None:
    found = times(names, field)
    assert max(found) / min(found) <= ALIKE


def test_what_is_mixed_or_dissolved_keeps_as_its_kin_do() -> None:
    finishes = CATALOGUE.finishes
    mixed = {name: one.mix.components[0].shelf_life_h for name, one in finishes.items() if one.mix is not None}
    dry = {name: one.dissolve.shelf_life_h for name, one in finishes.items() if one.dissolve is not None}
    oils = ("hardwax-oil-2k", "tinted-oil-2k")
    lacquers = [one.typical for name, one in mixed.items() if name not in oils and one is not None]
    assert len(lacquers) == 3
    assert max(lacquers) / min(lacquers) <= ALIKE
    assert max(lacquers) / times(("oil-varnish",), "shelf_life_h")[0] <= ALIKE  # a tin that is opened
    # The oil of the oil with hardener keeps as other oil does; dry soap and dye as each other, flakes nearly so.
    together = [
        (mixed["hardwax-oil-2k"], finishes["tung-oil"].shelf_life_h, finishes["boiled-linseed-oil"].shelf_life_h),
        (dry["soap-flakes"], dry["water-dye"], dry["alcohol-dye"]),
        (dry["soap-flakes"], dry["shellac"]),
        (dry["shellac"], dry["casein-paint"]),
    ]
    for kin in together:
        found = [one.typical for one in kin if one is not None]
        assert len(found) == len(kin)
        assert max(found) / min(found) <= ALIKE


def test_the_surfaces_are_in_order_of_what_made_them() -> None:
    # A plane leaves less than a planing machine, that less than a fine saw, a torn surface more, and a bandsaw most.
    removed = [
        CATALOGUE.surfaces[name].remove_mm.typical
        for name in ("hand-planed", "planed", "saw-cut", "planed-torn", "sawn", "band-sawn")
    ]
    assert all(rough / fine >= 1.3 for fine, rough in pairwise(removed))
    assert all(rough / fine <= 3.5 for fine, rough in pairwise(removed))
