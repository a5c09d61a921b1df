"""A machine goes only where it finds room inside a carcase or a drawer, and along a hollow bend that is wide enough."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.quantity import Range
from finplan.sanding import GroupSanding
from tests.sanding.pieces import group_of, planned

BOTH = "methods: [brush, wipe, random-orbit-150, random-orbit-125, hand]\n"
TILL = "shape: drawer, width: 480, height: 110, depth: 160, thickness: 9, bottom: 4"
CHEST = "shape: drawer, width: 1100, height: 480, depth: 520, thickness: 20, bottom: 12"
CASE = "shape: carcase, width: 600, height: 900, depth: 300, thickness: 18, back: 6"
INSIDE = [
    # A part, one of its faces, and by what that is sanded in a shop with both discs. The clear sizes follow from the
    # part's own; what a machine needs is common trade practice: its disc flat on the wood, and room for it and a hand.
    (TILL, "inside", "hand"),  # 142 mm between front and back, 106 mm deep
    (TILL, "front", "random-orbit-150"),
    (CHEST, "inside", "random-orbit-150"),  # 480 mm between, 468 mm deep
    (CHEST.replace("520", "255"), "inside", "random-orbit-125"),  # 215 mm between front and back
    (CHEST.replace("520", "235"), "inside", "hand"),  # 195 mm
    (CHEST.replace("480", "140"), "inside", "random-orbit-125"),  # sides 128 mm high
    (CHEST.replace("480", "130"), "inside", "hand"),  # sides 118 mm high
    (f"{CASE}, shelves: 2", "inside", "random-orbit-150"),  # 276 mm from board to board
    (f"{CASE}, shelves: 3", "shelves", "random-orbit-125"),  # 202.5 mm
    (f"{CASE}, shelves: 5", "shelves", "hand"),  # 129 mm
    (f"{CASE}, shelves: 5", "outside", "random-orbit-150"),
    (CASE.replace("300", "120"), "inside", "hand"),  # sides 114 mm deep
    (f"{CASE}, front: closed", "inside", "random-orbit-150"),  # 276 mm from front to back
    (f"{CASE.replace('300', '200')}, front: closed", "inside", "hand"),  # 176 mm
]


def sanded(folder: Path, part: str, face: str) -> GroupSanding:
    piece = f"piece: Box\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\nparts:\n  box: {{{part}}}\n"
    return group_of(planned(folder, piece, methods=BOTH), face)


def test_inner_faces_are_sanded_by_what_goes_in(tmp_path: Path) -> None:
    for part, face, method in INSIDE:
        found = {step.method for step in sanded(tmp_path, part, face).steps}
        assert found == {method}, f"{part}: {face}"


SLAT = "shape: board, length: 350, width: 50, thickness: 10, radius: {}"
BENT = [
    # The radius of the front [mm], and by what the back is sanded, which is hollow and 10 mm nearer to the middle.
    (480, "hand"),
    (1005, "hand"),
    (1015, "random-orbit-125"),
    (1415, "random-orbit-150"),
]


def test_a_hollow_bend_is_sanded_by_what_follows_it(tmp_path: Path) -> None:
    for radius_mm, method in BENT:
        back = sanded(tmp_path, SLAT.format(radius_mm), "back")
        assert {step.method for step in back.steps} == {method}, radius_mm
        assert ("a hollow bend" in (back.note or "")) == (method == "hand"), radius_mm
        front = sanded(tmp_path, SLAT.format(radius_mm), "front")
        assert {step.method for step in front.steps} == {"random-orbit-150"}, radius_mm


def test_a_hand_takes_its_own_time(tmp_path: Path) -> None:
    """The inside of the till, 0.195 m2, by hand at 2 to 7 m2/h: 2.9 min a grade at 4, where a disc takes 1.2."""
    found = sanded(tmp_path, TILL, "inside")
    area_m2 = (2 * (462 + 142) * 106 + 462 * 142) / 1e6
    assert found.group.area_m2 == pytest.approx(area_m2)
    least = Range.total(Range.time_for(area_m2, Range(2, 4, 7)) for _ in found.steps)
    hours = Range.total(step.hours for step in found.steps)
    assert hours.typical >= least.typical
    assert {step.product for step in found.steps} == {"sheet 230 x 280 mm"}
