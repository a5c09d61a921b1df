"""Joints: what is glued is covered, and the same area comes off what it is glued to."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Joint, Known, Piece, piece_from, plausible_sizes
from finplan.problems import Finding, FindingsError
from finplan.surface import Face, measured, piece_surface

SIZES = plausible_sizes(bundled_catalogue().files)
KNOWN = Known(timbers=("ash",), systems=(), surfaces=())

LEG: dict[str, Any] = {"shape": "square-leg", "side": 70, "length": 720, "count": 4}
APRON: dict[str, Any] = {"shape": "board", "length": 620, "width": 100, "thickness": 22, "count": 4}
TO_LEG = {"from": "apron", "face": "ends", "to": "leg", "on": "sides"}


def piece(parts: dict[str, Any], joints: list[dict[str, str]]) -> Piece:
    made, findings = piece_from({"piece": "Table", "lengths": "mm", "parts": parts, "joints": joints}, KNOWN)
    assert not findings
    return made


def face(made: Piece, part: str, name: str) -> Face:
    faces = next(one.faces for one in piece_surface(made).parts if one.part == part)
    return next(one for one in faces if one.face == name)


def found(made: Piece) -> list[Finding]:
    with pytest.raises(FindingsError) as caught:
        piece_surface(made)
    errors = [finding for finding in measured(made, SIZES)[1] if finding.severity == "error"]
    assert errors == list(caught.value.findings)
    return list(caught.value.findings)


def test_aprons_between_legs() -> None:
    made = piece({"leg": LEG, "apron": APRON}, [TO_LEG])
    ends = face(made, "apron", "ends")
    assert ends.exposure == "covered"
    assert ends.area_m2 == pytest.approx(2 * 0.1 * 0.022)
    assert ends.finished_m2 == 0
    assert face(made, "leg", "sides").area_m2 == pytest.approx(4 * 0.07 * 0.72 - 2 * 0.1 * 0.022)


def test_counts_are_shared_out() -> None:
    made = piece({"leg": {**LEG, "count": 3}, "apron": {**APRON, "count": 2}}, [TO_LEG])
    taken_m2 = face(made, "leg", "sides").whole_m2 - face(made, "leg", "sides").area_m2
    assert 3 * taken_m2 == pytest.approx(2 * 2 * 0.1 * 0.022)


@given(legs=st.integers(1, 50), aprons=st.integers(1, 50))
def test_a_joint_hides_twice_what_is_glued(legs: int, aprons: int) -> None:
    parts = {"leg": {**LEG, "side": 300, "count": legs}, "apron": {**APRON, "count": aprons}}
    if aprons * 4400 > legs * 4 * 300 * 720:
        return
    apart, joined = piece_surface(piece(parts, [])), piece_surface(piece(parts, [TO_LEG]))
    assert apart.finished_m2 - joined.finished_m2 == pytest.approx(2 * aprons * 0.0044)
    assert apart.area_m2 - joined.area_m2 == pytest.approx(aprons * 0.0044)


def test_joints_and_patches_add_up() -> None:
    stretcher = {"shape": "rod", "diameter": 20, "length": 500, "count": 2}
    leg = {**LEG, "faces": {"sides": {"less": ["2 x 10 x 30"]}}}
    joint = {"from": "stretcher", "face": "ends", "to": "leg", "on": "sides"}
    made = piece({"leg": leg, "apron": APRON, "stretcher": stretcher}, [TO_LEG, joint])
    sides = face(made, "leg", "sides")
    rods_m2 = face(made, "stretcher", "ends").area_m2
    assert sides.whole_m2 - sides.area_m2 == pytest.approx(600e-6 + 0.0044 + rods_m2 / 2)


def test_one_end_each() -> None:
    post = {"shape": "square-leg", "side": 60, "length": 900, "count": 2}
    to_post = {"from": "apron", "face": "ends", "to": "post", "on": "sides"}
    made = piece({"leg": LEG, "post": post, "apron": APRON}, [TO_LEG, to_post])
    for part, count in (("leg", 4), ("post", 2)):
        sides = face(made, part, "sides")
        assert count * (sides.whole_m2 - sides.area_m2) == pytest.approx(4 * 0.0022)


def test_the_order_of_the_joints_does_not_matter() -> None:
    shelf = {"shape": "board", "length": 300, "width": 60, "thickness": 18}
    joints = [TO_LEG, {"from": "shelf", "face": "ends", "to": "leg", "on": "sides"}]
    parts = {"leg": LEG, "apron": APRON, "shelf": shelf}
    assert piece_surface(piece(parts, joints)) == piece_surface(piece(parts, joints[::-1]))


@pytest.mark.parametrize(
    ("parts", "joints", "path", "said"),
    [
        (
            {"leg": {**LEG, "count": 1, "length": 20}, "apron": APRON},
            [TO_LEG],
            ("joints", 0),
            "176 cm² are taken off the sides of 'leg', which have 56 cm²",
        ),
        (
            {"leg": {**LEG, "length": 20, "faces": {"sides": {"less": ["50 x 100"]}}}, "apron": APRON},
            [TO_LEG],
            ("joints", 0),
            "94 cm² are taken off the sides of 'leg', which have 56 cm²",
        ),
        (
            {"leg": LEG, "apron": {**APRON, "faces": {"ends": {"exposure": "show"}}}},
            [TO_LEG],
            ("parts", "apron", "faces", "ends", "exposure"),
            "the face is called 'show', but a joint glues it to 'leg'",
        ),
        (
            {"leg": LEG, "apron": APRON},
            [{"from": "apron", "face": "ends", "to": "apron", "on": "ends"}],
            ("joints", 0),
            "the ends of 'apron' are glued to themselves",
        ),
    ],
)
def test_joints_that_cannot_be(
    parts: dict[str, Any], joints: list[dict[str, str]], path: tuple[str | int, ...], said: str
) -> None:
    (finding,) = found(piece(parts, joints))
    assert finding.path == path
    assert said in finding.wrong


def test_a_face_is_glued_once_and_a_pair_of_ends_twice() -> None:
    rail = {"shape": "board", "length": 400, "width": 60, "thickness": 20, "count": 2}
    parts = {"leg": LEG, "apron": APRON, "rail": rail}
    to_rail = {"from": "apron", "face": "ends", "to": "rail", "on": "front"}
    assert len(found(piece(parts, [TO_LEG, to_rail, TO_LEG]))) == 3
    backs = [{"from": "rail", "face": "back", "to": "apron", "on": side} for side in ("front", "back")]
    findings = found(piece(parts, backs))
    assert [finding.path for finding in findings] == [("joints", 0), ("joints", 1)]
    assert findings[0].wrong == "'rail' is glued by its back in 2 joints"
    assert findings[0].expected == "expected one joint"
    tapered = {**parts, "apron": {**APRON, "taper": {"to": 60}}}
    assert "the ends of 'apron' differ" in found(piece(tapered, [TO_LEG, to_rail]))[0].wrong


def test_a_joint_knows_no_count() -> None:
    assert set(Joint.model_fields) == {"from_", "face", "to", "on"}


def test_a_joint_with_a_part_that_cannot_be_is_left_out() -> None:
    """Only the part itself is reported."""
    parts = {"leg": LEG, "apron": {**APRON, "faces": {"front": {"less": ["700 x 200"]}}}}
    (finding,) = found(piece(parts, [TO_LEG]))
    assert finding.path == ("parts", "apron", "faces", "front", "less")
