"""In what numbers abrasives and what is used up are sold.

Where no source is named the numbers are common trade practice, from memory: what a packet in a shop holds, what a box
from a dealer holds. A range is where such packs lie, narrower than a factor of two, so that it is not a copy of ours.

- Masks by ten and by twenty: an article on what masks cost when they were scarce (2020), by such packs, as read.
- A box of gloves is a hundred gloves, by the label of any of them: 50 pairs.
"""

from __future__ import annotations

from itertools import pairwise

from finplan.catalogue import bundled_catalogue

CATALOGUE = bundled_catalogue()

FORMS = {  # of abrasives: the packet, what lies between, the box
    "disc": ((4, 6), (8, 12), (40, 60)),  # hangs on a hook; on the shelf; a box
    "sheet": ((8, 12), (20, 30), (45, 60)),  # a packet; half a sleeve; a sleeve
    "pad": ((8, 12), (18, 24)),  # half a box; a box
    "wool": ((1, 1), (6, 10), (12, 18)),  # by the piece; a bag; a sleeve
}
PACKS = {
    "lint-free-cloth": ((8, 12), (40, 60), (180, 250)),
    "tack-cloth": ((1, 1), (3, 4), (8, 12)),
    "bristle-brush": ((1, 1),),
    "synthetic-brush": ((1, 1),),
    "foam-roller": ((2, 3), (4, 6), (8, 12)),
    "foam-applicator": ((1, 1), (8, 12), (40, 60)),
    "paint-strainer": ((8, 12), (40, 60), (200, 250)),
    "mixing-cup": ((8, 12), (40, 60)),
    "lining-paper": ((4, 6), (8, 12), (40, 60)),
    "nitrile-gloves": ((8, 12), (50, 50), (100, 100)),  # a packet, one box, two
    "stripper-gloves": ((1, 1), (2, 3), (6, 12)),  # a pair, a few, what a supplier of safety wear ships
    "dust-mask": ((1, 1), (10, 10), (20, 20)),
    "particulate-filter": ((1, 1), (4, 6)),
    "organic-vapour-cartridge": ((1, 1), (4, 6)),
    "oily-waste-can": ((1, 1),),
    "spray-booth-filter": ((1, 1), (8, 12)),
    "lead-test": ((2, 3), (6, 10), (20, 30)),
    "plastic-sheeting": ((1, 1), (4, 6)),
    "wet-paper-cloths": ((35, 60), (80, 120)),
    "waste-bag": ((4, 6), (15, 25)),
    "wood-putty": ((1, 1), (2, 3), (5, 12)),
    "abrasive-pad": ((1, 1), (4, 6), (10, 20)),
    "masking-tape": ((1, 1), (4, 9)),
    "wax-paper": ((8, 12), (40, 60)),
    "moving-blanket": ((1, 1), (4, 6)),
    "touch-up-jar": ((1, 1), (8, 12)),
}


def outside(counts: list[int], ranges: tuple[tuple[int, int], ...]) -> bool:
    """Return whether there are other packs than the trade has, or one of them holds another number."""
    within = [low <= count <= high for count, (low, high) in zip(counts, ranges, strict=False)]
    return len(counts) != len(ranges) or not all(within)


def test_abrasives_are_sold_by_the_packet_and_by_the_box() -> None:
    held = {name: (one.form, [pack.count for pack in one.packs]) for name, one in CATALOGUE.abrasives.items()}
    assert not {name: counts for name, (form, counts) in held.items() if form in FORMS and outside(counts, FORMS[form])}
    assert {form for form, _ in held.values()} == {*FORMS, "roll"}  # rolls are cut by the length


def test_what_is_used_up_is_sold_in_the_numbers_of_the_trade() -> None:
    held = {name: [pack.count for pack in one.packs] for name, one in CATALOGUE.consumables.items()}
    assert not {name: counts for name, counts in held.items() if outside(counts, PACKS[name])}
    assert set(held) == set(PACKS)


def test_the_next_pack_holds_twice_as_many_or_more() -> None:
    # Nobody keeps a shelf for less; the pads of steel wool and the rolls double.
    held = {name: [pack.count for pack in one.packs] for name, one in CATALOGUE.abrasives.items()}
    held |= {name: [pack.count for pack in one.packs] for name, one in CATALOGUE.consumables.items()}
    close = {name for name, counts in held.items() if any(more / less < 1.95 for less, more in pairwise(counts))}
    assert not close
