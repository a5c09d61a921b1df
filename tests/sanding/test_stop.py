"""Where sanding stops: timber, end grain, hidden faces, what is tolerated, and what the file asks."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sanding.pieces import board, grits_of, group_of, planned

ALL = "grits: []\n"
ENDED = "piece: Rail\nlengths: mm\ntimber: {timber}\nsystem: {system}\nparts:\n  rail: {{shape: board, count: 6, length: 600, width: 90, thickness: 20, faces: {{back: {{exposure: secondary}}}}}}\n"  # noqa: E501


@pytest.mark.parametrize(
    ("timber", "system", "face", "end", "back"),
    [
        # End grain one grade of the ladder finer, two under colour; hidden faces two sooner, P120 at least.
        ("red-oak", "oil-varnish-blend", "P180", "P220", "P120"),
        ("sugar-maple", "oil-varnish-blend", "P220", "P240", "P150"),
        ("red-oak", "stain-and-varnish", "P180", "P240", "P120"),
        ("red-oak", "acrylic-enamel", "P150", "P180", "P120"),
        ("teak", "wax", "P320", "P400", "P220"),
    ],
)
def test_end_grain_goes_finer_and_hidden_faces_stop_sooner(
    timber: str, system: str, face: str, end: str, back: str, tmp_path: Path
) -> None:
    plan = planned(tmp_path, ENDED.format(timber=timber, system=system), ALL)
    assert [grits_of(plan, name)[-1] for name in ("front", "ends", "back")] == [face, end, back]
    assert group_of(plan, "ends").stop_reason.startswith(f"{end}, finer than the {face}")
    assert group_of(plan, "back").stop_reason.startswith(f"{back}, sooner than the {face}")


def test_end_grain_goes_no_finer_than_colour_tolerates(tmp_path: Path) -> None:
    """Two grades finer than P220 would be P320; a dye takes poorly on wood sanded finer than P240."""
    plan = planned(tmp_path, ENDED.format(timber="sugar-maple", system="dye-and-waterborne"), ALL)
    assert grits_of(plan, "ends")[-1] == "P240"
    found = group_of(plan, "ends")
    assert found.finest is not None
    assert found.finest.grit == "P240"
    assert "no finer, or the wood is sanded so fine that it takes little colour" in found.stop_reason


def test_what_is_at_hand_is_not_used_where_it_is_too_fine(tmp_path: Path) -> None:
    """Under oil nothing finer than P320: of P80, P120 and P400 the nearest to P180 that is tolerated is P120."""
    plan = planned(tmp_path, board(), "grits: [P80, P120, P400]\n")
    assert grits_of(plan, "top") == ["P120"]
    assert group_of(plan, "top").buy == ("P180",)


def test_a_hidden_face_is_not_sanded_coarser_than_it_comes(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("surface: sanded-150"))
    assert grits_of(plan, "underside") == ["P150"]
    assert group_of(plan, "underside").stop_reason == "P150, since it comes as fine as that"


def test_a_surface_that_comes_finer_than_it_is_to_stop_gets_one_pass(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("surface: hand-planed", system="acrylic-enamel"))
    assert grits_of(plan, "top") == ["P150"]
    assert group_of(plan, "top").note == "it comes finer than P150: one pass is enough"


def test_the_file_can_name_both_ends_for_a_part_and_for_a_face(tmp_path: Path) -> None:
    fields = "start-grit: P80, stop-grit: P150, faces: {top: {stop-grit: 220}}"
    plan = planned(tmp_path, board(fields), "grits: [P80, P120, P150, P180, P220]\n")
    assert grits_of(plan, "underside") == ["P80", "P120", "P150"]
    assert grits_of(plan, "top") == ["P80", "P120", "P180", "P220"]  # CAMI 220 is 66 µm: P220, 68 µm, does for it
    assert group_of(plan, "top").stop_reason == "CAMI 220, as the piece file says"


def test_a_face_may_come_otherwise_than_its_part(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("surface: planed, faces: {top: {surface: sawn}}"), ALL)
    assert grits_of(plan, "top")[0] == "P60"
    assert grits_of(plan, "underside")[0] == "P120"


def test_hidden_end_grain_is_measured_by_hidden_faces(tmp_path: Path) -> None:
    """A leg's ends stop at P180 where its sides go to P220: finer than the P150 of hidden faces, not of the faces."""
    leg = "piece: Bench\nlengths: mm\ntimber: beech\nsystem: linseed-oil\nparts:\n  leg: {shape: square-leg, side: 60, length: 700}\n"  # noqa: E501
    plan = planned(tmp_path, leg, ALL)
    assert grits_of(plan, "sides")[-1] == "P220"
    assert group_of(plan, "foot-end").stop_reason.startswith(
        "P180, finer than the P150 of faces that are not looked at, so that"
    )
