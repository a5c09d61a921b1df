"""In which order a piece is sanded."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.quantity import Range
from tests.sanding.pieces import board, planned

TABLE = """\
piece: Table
lengths: mm
timber: ash
system: hardwax-oil
assemblies:
  base: {parts: [leg, apron]}
parts:
  top:
    shape: disc
    diameter: 900
    thickness: 25
    faces: {underside: {less: [4 x 60 x 60]}}
  leg:
    shape: turned
    count: 4
    elements: [{block: {side: 60, length: 120}}, {taper: {from: 50, to: 30, length: 500}}]
  apron:
    shape: board
    count: 4
    length: 500
    width: 90
    thickness: 20
    faces: {back: {exposure: secondary}, ends: {exposure: covered}}
"""


def test_a_table_with_turned_legs(tmp_path: Path) -> None:
    plan = planned(tmp_path, TABLE)
    steps = [(step.item, step.stage, step.id.partition("/")[2]) for step in plan.order]
    assert steps == [
        ("top", "loose", "sand-hidden"),
        ("top", "loose", "sand-shown"),
        ("top", "loose", "mask"),
        ("base", "before-assembly", "sand-turnings"),
        ("base", "before-assembly", "sand-hidden"),
        ("base", "before-assembly", "sand-shown"),
        ("base", "after-assembly", "sand-joints"),
    ]
    by_id = {step.id: step for step in plan.order}
    assert by_id["top/mask"].faces == ("top: underside",)  # where the base is glued to it
    assert by_id["base/sand-turnings"].faces == ("leg: turning", "leg: shoulders")
    assert all(group.exposure == "secondary" for group in by_id["base/sand-hidden"].groups)


def test_every_group_is_sanded_once_and_the_times_add_up(tmp_path: Path) -> None:
    plan = planned(tmp_path, TABLE)
    sanded = [group for step in plan.order if step.do == "sand" for group in step.groups]
    assert len(sanded) == len(set(sanded))
    assert set(sanded) == {found.group for found in plan.groups}
    ordered = Range.total(step.hours for step in plan.order if step.do == "sand")
    every = plan.hours_of(found.group for found in plan.groups)
    assert (ordered.low, ordered.typical, ordered.high) == pytest.approx((every.low, every.typical, every.high))


def test_joints_are_gone_over_one_by_one(tmp_path: Path) -> None:
    """Four aprons with covered ends are in eight joints, 2 min each, and 1.5 min of picking up: by hand, practice."""
    plan = planned(tmp_path, TABLE)
    joints = next(step for step in plan.order if step.do == "joints")
    assert joints.joints == 8
    assert joints.hours.typical * 60 == pytest.approx(8 * 2 + 1.5)
    wider = planned(tmp_path, TABLE.replace("width: 90", "width: 60"))
    assert next(step for step in wider.order if step.do == "joints").hours == joints.hours  # whatever their size


def test_so_many_parts_have_one_joint_less_where_nothing_is_said_of_them(tmp_path: Path) -> None:
    plan = planned(tmp_path, TABLE.replace(", ends: {exposure: covered}", ""))
    assert next(step for step in plan.order if step.do == "joints").joints == 7


def test_joints_of_the_file_are_counted_by_their_glued_faces(tmp_path: Path) -> None:
    joined = TABLE.replace(", ends: {exposure: covered}", "")
    joined += "joints:\n  - {from: apron, face: ends, to: leg, on: blocks}\n"
    covered = joined.replace(
        "back: {exposure: secondary}", "back: {exposure: secondary}, top-edge: {exposure: covered}"
    )
    for text in (joined, covered):
        assert next(step for step in planned(tmp_path, text).order if step.do == "joints").joints == 8


def test_what_comes_glued_up_is_sanded_after(tmp_path: Path) -> None:
    glued = TABLE.replace("  apron:\n", "  apron:\n    surface: glued\n")
    plan = planned(tmp_path, glued)
    assert {step.stage for step in plan.order if step.item == "base"} == {"after-assembly"}
    assert not any(step.do == "joints" for step in plan.order)


def test_masking_takes_a_minute_a_face(tmp_path: Path) -> None:
    plan = planned(tmp_path, board("count: 3", "faces: {underside: {exposure: covered}, edge: {less: 20 x 20}}"))
    (mask,) = [step for step in plan.order if step.do == "mask"]
    assert mask.faces == ("top: underside", "top: edge")
    assert mask.hours.typical * 60 == pytest.approx(3 * 2 * 1.0)


def test_nothing_is_masked_for_soap(tmp_path: Path) -> None:
    """Of thirty-six floor boards two hours and a half of masking were planned for it."""
    for system, masked in (("soap", 0), ("hardwax-oil", 1), ("casein-paint", 1)):
        text = board("faces: {underside: {exposure: covered}}").replace("oil-varnish-blend", system)
        assert f"system: {system}" in text
        order = planned(tmp_path, text).order
        assert sum(step.do == "mask" for step in order) == masked, system
