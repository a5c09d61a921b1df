"""A litre of a finish is what is in it: solids, solvent that counts as VOC, water or exempt solvent, and no more.

Densities of what a binder or pigment is made of are handbook knowledge, recalled: drying oils 0.93 kg/l, waxes 0.95,
acrylic, alkyd and urethane resins 1.05 to 1.2, shellac 1.15, nitrocellulose 1.6, zinc stearate 1.1, chalk and clay 2.6
to 2.7, titanium dioxide 4.1.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import Finish, bundled_catalogue
from tests.each import each

CATALOGUE = bundled_catalogue()
FINISHES = [pytest.param(name, finish, id=name) for name, finish in CATALOGUE.finishes.items()]
WATER_G_L = 998.0

# What the solids of a family weigh: between its lightest and its heaviest mix.
CLEAR, CELLULOSE, PIGMENTED = (900, 1300), (1100, 1760), (1250, 2450)
SOLIDS_G_L = {
    **dict.fromkeys(("oil", "varnish", "waterborne", "shellac", "reactive", "wax", "soap"), CLEAR),
    **dict.fromkeys(("lacquer", "sealer"), CELLULOSE),
    **dict.fromkeys(("enamel", "primer", "stain", "filler", "casein"), PIGMENTED),
}
"""Dyes are left out: of 2 % nothing can be told."""


def shares(finish: Finish) -> tuple[float, float, float]:
    """Return which share of a litre is solid, counted as VOC, and neither."""
    solid = finish.volume_solids_pct.typical / 100
    solvent = 0.0
    if finish.voc_solvent is not None:
        solvent = finish.voc_g_l.typical / CATALOGUE.solvents[finish.voc_solvent].density_g_l.typical
    return solid, solvent, 1 - solid - solvent


@each(("name", "finish"), FINISHES)
def test_what_is_neither_solid_nor_voc_is_water_or_a_little_exempt_solvent(name: str, finish: Finish) -> None:
    neither = shares(finish)[2]
    if finish.drying == "water":
        assert 0.35 <= neither <= 0.99, name
    else:
        assert -0.02 <= neither <= 0.2, name


@each(("name", "finish"), FINISHES)
def test_its_solids_weigh_what_such_solids_weigh(name: str, finish: Finish) -> None:
    if finish.family not in SOLIDS_G_L or finish.density_g_l is None:
        return
    solid, _, neither = shares(finish)
    water_g_l = WATER_G_L * neither if finish.drying == "water" else 0.0
    weighs = (finish.density_g_l.typical - finish.voc_g_l.typical - water_g_l) / solid
    low, high = SOLIDS_G_L[finish.family]
    assert low <= weighs <= high, (name, weighs)


@each(("name", "finish"), FINISHES)
def test_what_is_mixed_is_mixed_of_liquids_and_powders_of_such_weights(name: str, finish: Finish) -> None:
    for part in finish.mix.components if finish.mix is not None else ():
        assert part.density_g_l is not None, name
        assert 780 <= part.density_g_l.typical <= 1300, (name, part)
    if finish.dissolve is not None:
        # Flakes, soap and casein powder with chalk, as a solid; heaped they are a third to a half of that.
        assert 1000 <= finish.dissolve.density_g_l.typical <= 2200, name
