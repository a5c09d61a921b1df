"""Which coating systems are of one kind, as the trade sorts them (common practice), and what others stand less of."""

from __future__ import annotations

from itertools import product

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.system import likeness

CATALOGUE = bundled_catalogue()

# Practice: oils soak in, varnishes and lacquers build a film, paints hide the wood, stains colour it.
KINDS = {
    "oil": ("hardwax-oil", "tung-oil", "oil-varnish-blend"),
    "varnish": ("oil-varnish", "oil-polyurethane", "waterborne-polyurethane"),
    "enamel": ("alkyd-enamel", "acrylic-enamel"),
    "coloured": ("stain-and-varnish", "dye-and-waterborne"),
}
PAIRS = [(one, other) for kind in KINDS.values() for one, other in product(kind, kind)]
UNLIKE = [(kind[0], other[0]) for kind, other in product(KINDS.values(), KINDS.values()) if kind != other]


@pytest.mark.parametrize(("own", "other"), PAIRS)
def test_of_one_kind(own: str, other: str) -> None:
    assert likeness(own, other, CATALOGUE).of_kind


@pytest.mark.parametrize(("own", "other"), UNLIKE)
def test_of_another_kind(own: str, other: str) -> None:
    assert not likeness(own, other, CATALOGUE).of_kind


def test_what_is_less_proof_or_holds_isocyanate_is_of_another_kind() -> None:
    wax = likeness("hardwax-oil", "wax", CATALOGUE)
    assert not wax.of_kind
    assert wax.less == ("water", "heat", "wear")
    hardened = likeness("oil-varnish", "polyurethane-2k", CATALOGUE)
    assert hardened.isocyanate
    assert not hardened.of_kind
    assert not likeness("polyurethane-2k", "oil-varnish", CATALOGUE).isocyanate
