"""Sheets, and boards of one part that are of several timbers: areas by hand, edges, veneer, what is sealed."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.material import coat_need
from finplan.planning import PlannedPiece, read_source, together
from finplan.problems import RefusedError

CATALOGUE = bundled_catalogue()


def piece(folder: Path, part: str, system: str = "acrylic-enamel", timber: str = "mdf") -> PlannedPiece:
    text = f"piece: Trial\nlengths: mm\ntimber: {timber}\nsystem: {system}\nparts:\n  it: {{{part}}}\n"
    (folder / "piece.yaml").write_text(text, encoding="utf-8")
    return together([read_source(folder / "piece.yaml", None)])[0]


def areas(found: PlannedPiece) -> dict[tuple[str, str], float]:
    """The areas of all groups by board and timber, of faces with the same."""
    told: dict[tuple[str, str], float] = {}
    for group in found.treatments[0].groups:
        key = (group.board, group.timber)
        told[key] = told.get(key, 0.0) + group.area_m2
    return told


CARCASE = "shape: carcase, width: 800, height: 1200, depth: 300, thickness: 20, back: 6, shelves: 2"


def test_the_boards_of_a_carcase_have_timbers_of_their_own(tmp_path: Path) -> None:
    found = areas(piece(tmp_path, f"{CARCASE}, timbers: {{back: birch-plywood, shelves: beech}}"))
    # By hand: the back 760 x 1160 outside, and inside less two shelves of 760 x 20; each shelf 760 x 294 on both
    # faces and 760 x 20 at the front.
    back, shelf = 0.760 * 1.160, 0.760 * 0.020
    assert found["back", "birch-plywood"] == pytest.approx(2 * back - 2 * shelf)
    assert found["shelves", "beech"] == pytest.approx(4 * 0.760 * 0.294 + 2 * shelf)
    whole = areas(piece(tmp_path, CARCASE))
    assert sum(found.values()) == pytest.approx(sum(whole.values()))
    assert set(whole) == {("", "mdf")}


def test_a_panel_of_fibreboard_in_a_frame(tmp_path: Path) -> None:
    door = "shape: door, width: 500, height: 1000, thickness: 22, frame: {stile: 80, rail: 100}, panel: {thickness: 10}"
    found = areas(piece(tmp_path, f"{door}, timbers: {{panel: mdf}}", timber="poplar"))
    # 340 x 800 seen on both sides.
    assert found["panel", "mdf"] == pytest.approx(2 * 0.340 * 0.800)
    # The panel's edges are in the groove, and the frame is of solid wood: nothing is sealed.
    steps = piece(tmp_path, f"{door}, timbers: {{panel: mdf}}", timber="poplar").treatments[0].steps
    assert "seal-edges" not in [step.name for step in steps]


def test_a_timber_that_is_none_is_told_where_it_stands(tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as refused:
        piece(tmp_path, f"{CARCASE}, timbers: {{back: birch-plywod}}")
    (problem,) = refused.value.problems
    assert problem.where.endswith("timbers.back")
    assert "birch-plywood" in problem.expected


TOP = "shape: rectangle, length: 1000, width: 500, thickness: 20"


def test_cut_edges_of_fibreboard_are_sealed_first_under_paint_alone(tmp_path: Path) -> None:
    (painted,) = piece(tmp_path, TOP).treatments
    assert [step.name for step in painted.steps][:4] == ["1", "seal-edges", "seal-edges-2", "2"]
    sealing, first = painted.put_on[:2]
    assert [group.faces for group in sealing.groups] == [("edge",)]
    assert (first.bare, [group.faces for group in first.sealed]) == (True, [("edge",)])
    (clear,) = piece(tmp_path, TOP, "waterborne-polyurethane").treatments
    assert "seal-edges" not in [step.name for step in clear.steps]


def test_an_edge_drinks_like_end_grain_until_it_is_sealed(tmp_path: Path) -> None:
    (clear,) = piece(tmp_path, TOP, "waterborne-polyurethane").treatments
    (painted,) = piece(tmp_path, TOP).treatments
    raw, sealed = (coat_need("it", one.put_on[index], CATALOGUE) for one, index in ((clear, 0), (painted, 1)))
    for need, factor in ((raw, 3.0), (sealed, 1.2)):
        ml_m2 = {group.group.faces: group.needed_ml.typical / group.group.area_m2 for group in need.groups}
        # Against the top, which drinks 1.15 times what the label says; the grade is the same on both here.
        assert ml_m2["edge",] / ml_m2["top",] == pytest.approx(factor / 1.15, rel=1e-3)


def test_a_banded_edge_and_a_veneer_are_sanded_within_the_veneer(tmp_path: Path) -> None:
    oak = piece(tmp_path, f"{TOP}, faces: {{edge: {{veneer: 0.6 mm}}}}", "hardwax-oil", "oak-veneered-board")
    for found in oak.sanding.groups:
        assert found.veneer is not None, found.group.faces
        assert found.veneer.thickness_mm == 0.6
        assert found.veneer.depth_mm.high <= found.veneer.budget_mm == pytest.approx(0.15)
    raw = piece(tmp_path, TOP, "hardwax-oil", "oak-veneered-board")
    assert [found.group.faces for found in raw.sanding.groups if found.veneer is None] == [("edge",)]
    with pytest.raises(RefusedError):
        _ = piece(tmp_path, f"{TOP}, start-grit: P60", "hardwax-oil", "oak-veneered-board").operations


def test_fibreboard_comes_from_the_factory_on_its_faces_and_cut_at_its_edges(tmp_path: Path) -> None:
    grits = {found.group.faces: [step.grit for step in found.steps] for found in piece(tmp_path, TOP).sanding.groups}
    assert grits["edge",] == ["P100", "P150"]  # as makers of panels say: 80 or 100, then 120 or 150
    assert len(grits["top",]) == 1
