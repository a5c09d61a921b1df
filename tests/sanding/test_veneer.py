"""How deep sanding reaches, what a veneer has to spare, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.problems import RefusedError
from finplan.quantity import Range
from finplan.sanding import budget_mm, depth_mm, removed_mm
from tests.sanding.pieces import board, grits_of, group_of, planned

CATALOGUE = bundled_catalogue()
SIZES = CATALOGUE.grades["p-grade"].sizes_um
SCRATCH = CATALOGUE.caps["ladder"].scratch_depth
RULES = CATALOGUE.sanding_rules["usual"]
NONE = Range(0.0, 0.0, 0.0)


@pytest.mark.parametrize(("grit", "scratch_um"), [("P80", 50.25), ("P120", 31.25), ("P180", 20.5)])
def test_scratches_are_a_quarter_of_the_grain_deep(grit: str, scratch_um: float) -> None:
    """0.25 times 201, 125 and 82 µm: a constant of practice."""
    assert depth_mm(NONE, [SIZES[grit]], SCRATCH).typical * 1000 == pytest.approx(scratch_um)


def test_what_a_progression_takes() -> None:
    """P150, P180, P220: a quarter of 100, 82 and 68 µm is 62.5 µm; P80 with 0.15 mm of levelling 0.15 + 0.05 mm."""
    fine = depth_mm(NONE, [SIZES[grit] for grit in ("P150", "P180", "P220")], SCRATCH)
    coarse = depth_mm(Range(0.15, 0.15, 0.15), [SIZES["P80"]], SCRATCH)
    assert fine.typical == pytest.approx(0.0625)
    assert coarse.typical == pytest.approx(0.20025)
    assert fine.typical < budget_mm(0.6, RULES) < coarse.typical


@pytest.mark.parametrize(("veneer_mm", "spare_mm"), [(0.6, 0.15), (0.4, 0.1), (0.8, 0.15), (3.0, 0.15)])
def test_what_a_veneer_has_to_spare(veneer_mm: float, spare_mm: float) -> None:
    """A quarter of it, and no more than 0.15 mm: practice."""
    assert budget_mm(veneer_mm, RULES) == pytest.approx(spare_mm)


def test_the_first_grit_levels_and_each_later_one_takes_the_scratches_before() -> None:
    removed = removed_mm(Range(0.1, 0.2, 0.3), [200.0, 100.0], Range(0.15, 0.25, 0.35))
    assert removed[0] == Range(0.1, 0.2, 0.3)
    assert (removed[1].low, removed[1].typical, removed[1].high) == pytest.approx((0.03, 0.05, 0.07))


def test_the_wide_faces_of_a_veneered_part_start_fine_and_its_edge_is_solid(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("veneer: 0.6", "edge: roundover 3"))
    assert grits_of(plan, "top") == ["P150", "P180"]
    assert group_of(plan, "edge").veneer is None
    found = group_of(plan, "top").veneer
    assert found is not None
    # Levelling 0/0.02/0.03 mm and a quarter of 100 and 82 µm, by hand.
    assert found.depth_mm.typical == pytest.approx(0.0655)
    assert found.budget_mm == pytest.approx(0.15)


def test_a_face_of_a_veneered_part_may_be_solid_and_one_of_a_solid_part_veneered(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("veneer: 0.6 mm", "faces: {underside: {veneer: 0}}"))
    assert (group_of(plan, "top").veneer is None, group_of(plan, "underside").veneer is None) == (False, True)
    plan = planned(tmp_path, board("faces: {edge: {veneer: 1 mm}}"))
    assert (group_of(plan, "top").veneer is None, group_of(plan, "edge").veneer is None) == (True, False)


def test_of_a_part_without_wide_flat_faces_all_but_the_ends_are_veneered(tmp_path: Path) -> None:
    rod = "{shape: rod, diameter: 30, length: 500, veneer: 0.6}"
    plan = planned(tmp_path, f"piece: Rod\nlengths: mm\ntimber: ash\nsystem: wax\nparts:\n  r: {rod}\n")
    assert group_of(plan, "side").veneer is not None
    assert group_of(plan, "ends").veneer is None


def test_no_coarse_grade_stands_in_on_veneer(tmp_path: Path) -> None:
    """P80 would be the next coarser one to P150; nothing coarser than P120 goes on veneer."""
    plan = planned(tmp_path, board("veneer: 0.6"), "grits: [P80, P180, P240]\n")
    assert grits_of(plan, "top") == ["P180"]


def test_a_veneer_wears_as_little_paper_as_little_comes_off(tmp_path: Path) -> None:
    """Sanded to P150 0.025 mm come off and 0.02 mm of a veneer as it is pressed: so many times as much, by hand."""
    solid = group_of(planned(tmp_path, board("surface: sanded-150")), "top")
    veneered = group_of(planned(tmp_path, board("veneer: 0.6")), "top")
    assert [one.steps[0].grit for one in (solid, veneered)] == ["P150", "P150"]
    assert veneered.steps[0].used.typical / solid.steps[0].used.typical == pytest.approx(0.02 / 0.025)


@pytest.mark.parametrize(
    ("fields", "shop", "path", "told"),
    [
        (
            "veneer: 0.6, surface: sawn",
            "",
            "parts.top.veneer",
            "reaches 0.35 mm (0.13 to 0.57) into a veneer of 0.6 mm, which has 0.15 mm to spare",
        ),
        ("veneer: 0.1", "", "parts.top.veneer", "into a veneer of 0.1 mm, which has 0.03 mm to spare"),
        ("veneer: 0.6, surface: glued", "", "parts.top.veneer", "mm to spare; scrape it clean and start finer"),
        ("faces: {top: {veneer: 0.6, surface: planed-torn}}", "", "parts.top.faces.top.veneer", "(top: planed, with"),
        (
            "veneer: 0.6, start-grit: P80",
            "",
            "parts.top.start-grit",
            "P80 (201 µm) is too coarse for a veneer of 0.6 mm; expected P120 or finer",
        ),
        (
            "veneer: 0.6",
            "grits: [P60, P80]\n",
            "parts.top.veneer",
            "P80 (201 µm) is too coarse for a veneer of 0.6 mm; expected P120 or finer among the grits of the shop",
        ),
        (
            "start-grit: P180, stop-grit: P150",
            "",
            "parts.top.stop-grit",
            "the stop grit P150 (100 µm) is coarser than the start grit P180 (82 µm); expected to start at P150 or "
            "coarser, or to stop at P180 or finer",
        ),
        ("stop-grit: P80", "", "parts.top.stop-grit", "P80 (201 µm) is coarser than the start grit P120 (125 µm)"),
        ("start-grit: P320", "", "parts.top.start-grit", "P180 (82 µm) is coarser than the start grit P320 (46.2 µm)"),
        (
            "stop-grit: P400",
            "",
            "parts.top.stop-grit",
            "P400 (35 µm) is finer than what goes on it tolerates: the wood is sanded so fine that it drinks little "
            "and a film holds less; stop at P320 (46.2 µm) or coarser",
        ),
    ],
)
def test_what_is_refused(fields: str, shop: str, path: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as refused:
        planned(tmp_path, board(fields), shop)
    assert any(f" {path}: " in str(problem) and told in str(problem) for problem in refused.value.problems), (
        refused.value.problems
    )
