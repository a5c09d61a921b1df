"""How thick single coats are, wet and dry, and how far the first one reaches beside the next.

Sources:

- Wood Handbook, FPL-GTR-190 (2010), page 16-23, as read: primer and two top coats of paint are 4 to 5 mil, 100 to
  130 µm, so that a coat is 33 to 43 µm (derived), thinner or thicker by the hand by a third.
- Clear film inside is 50 to 100 µm in two to four coats; catalysed lacquers are capped at 75 to 130 µm: practice, and
  a trade note on the cap, as read.
- A brush leaves 75 to 125 µm of wet film, a gun 100 to 150, a cloth from which the rest is wiped 15 to 60: practice.
- Bare wood drinks up to as much again as a second coat does: practice; several makers say that for oils, stains and
  first coats no rate can be reckoned from solids, as read.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import Finish, bundled_catalogue

CATALOGUE = bundled_catalogue()
FINISHES = [pytest.param(name, finish, id=name) for name, finish in CATALOGUE.finishes.items()]

DRY_UM = {
    **dict.fromkeys(("enamel", "primer"), (25, 55)),
    "varnish": (27, 45),
    "waterborne": (20, 40),
    "reactive": (28, 60),
    "lacquer": (16, 35),
    "sealer": (18, 35),
    "shellac": (10, 20),
}
WET_UM = {
    **dict.fromkeys(("enamel", "primer", "varnish", "waterborne", "shellac"), (65, 125)),
    **dict.fromkeys(("lacquer", "reactive", "sealer"), (85, 150)),
    **dict.fromkeys(("oil",), (25, 70)),
    "wax": (12, 35),
    **dict.fromkeys(("dye", "stain", "soap"), (40, 90)),
    **dict.fromkeys(("filler", "casein"), (75, 150)),
}


@pytest.mark.parametrize(("name", "finish"), FINISHES)
def test_dry_film_of_a_coat(name: str, finish: Finish) -> None:
    if not finish.film_forming or finish.family not in DRY_UM or name == "glue-size":
        return  # glue this thin is drunk by the wood, and is meant to be
    low, high = DRY_UM[finish.family]
    dry_um = 1000 / finish.spread_rate.next_m2_l.typical * finish.volume_solids_pct.typical / 100
    assert low <= dry_um <= high, (name, dry_um)


@pytest.mark.parametrize(("name", "finish"), FINISHES)
def test_wet_film_of_a_coat(name: str, finish: Finish) -> None:
    low, high = WET_UM[finish.family]
    wet_um = 1000 / finish.spread_rate.next_m2_l.typical
    assert low <= wet_um <= high, (name, wet_um)


@pytest.mark.parametrize(("name", "finish"), FINISHES)
def test_how_far_the_first_coat_reaches_beside_the_next(name: str, finish: Finish) -> None:
    ratio = finish.spread_rate.first_m2_l.typical / finish.spread_rate.next_m2_l.typical
    assert 0.5 <= ratio <= 1, (name, ratio)
    if finish.film_forming:
        assert ratio >= 0.65, (name, ratio)  # a film closes the wood, and its coats differ less
