"""A set of alike pieces: as many items, amounts and areas as if each had a file of its own, and one drawing."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.data import areas_data, plain_data
from finplan.planning import Plan, Wishes, read_sources
from finplan.problems import RefusedError
from finplan.sheet import sheet_html
from finplan.tags import tags
from tests.plans import make_plan

NOW = datetime(2027, 3, 1, tzinfo=UTC)  # a Monday
SHOP = """\
shop: Two people
time-zone: Europe/London
people:
  - {name: Ines, hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}}
  - {name: Tam, hours: {mon-fri: 9:00-13:00}}
rack: {places: 12, hooks: 8}
climate:
  day: {from: 8:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 55 %}
"""
CHAIR = """\
piece: Chair
lengths: mm
timber: ash
system: wax
assemblies: {frame: {parts: [leg, rail]}}
parts:
  seat: {shape: rectangle, length: 400, width: 380, thickness: 20}
  leg: {shape: square-leg, side: 40, length: 450, count: 4}
  rail: {shape: board, length: 320, width: 60, thickness: 20, count: 4, faces: {ends: {exposure: covered}}}
"""


def planned(folder: Path, *pieces: str) -> Plan:
    files = [folder / f"piece{number}.yaml" for number in range(len(pieces))]
    for file, text in zip(files, pieces, strict=True):
        file.write_text(text, encoding="utf-8")
    shop = folder / "shop.yaml"
    shop.write_text(SHOP, encoding="utf-8")
    return make_plan(read_sources(files, shop), now=NOW, wishes=Wishes(answers=False, asap=True, limit_s=20.0))


def refused(folder: Path, piece: str) -> list[str]:
    with pytest.raises(RefusedError) as told:
        planned(folder, piece)
    return [problem.wrong for problem in told.value.problems]


def test_a_set_is_as_many_pieces_of_their_own(tmp_path: Path) -> None:
    """Three chairs in one file take the same work, material and abrasives as three files of one chair."""
    of_set = planned(tmp_path, f"{CHAIR}set: 3\n")
    alone = planned(tmp_path, *[CHAIR] * 3)
    (piece,) = of_set.pieces
    assert [treatment.item for treatment in of_set.treatments] == [
        "seat 1",
        "frame 1",
        "seat 2",
        "frame 2",
        "seat 3",
        "frame 3",
    ]
    assert {operation.id.partition("/")[0] for operation in piece.operations} == {
        *(f"{item}#{number}" for item in ("seat", "frame", "put-together") for number in (1, 2, 3))
    }
    works = [sum(operation.hours.typical for operation in found.operations) for found in (piece, *alone.pieces)]
    assert works[0] == pytest.approx(sum(works[1:]))
    assert piece.sanding.dust_g.typical == pytest.approx(sum(one.sanding.dust_g.typical for one in alone.pieces))
    for mine, theirs in zip(of_set.materials.materials, alone.materials.materials, strict=True):
        assert mine.material == theirs.material
        # Wood differs from chair to chair either way: not only as much, but as sure.
        assert mine.needed_ml.typical == pytest.approx(theirs.needed_ml.typical, rel=1e-9)
        assert mine.needed_ml.high == pytest.approx(theirs.needed_ml.high, rel=1e-9)


def test_loose_parts_are_told_with_how_many_and_of_which_piece(tmp_path: Path) -> None:
    """Two front legs of chair 1 are "front leg × 2 of piece 1"; a tag hangs on one of them, and every id stays."""
    legs = "  front leg: {shape: square-leg, side: 40, length: 450, count: 2}\n"
    text = CHAIR.replace("assemblies: {frame: {parts: [leg, rail]}}\n", "") + legs
    plan = planned(tmp_path, f"{text}set: 2\n")
    front = [treatment for treatment in plan.treatments if treatment.named == "front leg"]
    assert [one.item for one in front] == ["front leg × 2 of piece 1", "front leg × 2 of piece 2"]
    assert [one.stem for one in front] == ["front leg#1", "front leg#2"]
    assert [treatment.item for treatment in plan.treatments if treatment.named == "seat"] == ["seat 1", "seat 2"]
    told = {(tag.part, tag.number.replace("\u00a0", " ")) for tag in tags(plan) if tag.part.startswith("front")}
    assert told == {(f"front leg of piece {piece}", f"{leg} of 2") for piece in (1, 2) for leg in (1, 2)}
    named = {names.replace("\u00a0", " ") for names in re.findall(r"front leg[^<:,;(]*\d", sheet_html(plan))}
    assert not {one for one in named if re.fullmatch(r"front leg \d.*", one)}, named


def test_there_is_one_drawing_and_areas_of_one_and_of_all(tmp_path: Path) -> None:
    plan = planned(tmp_path, f"{CHAIR}set: 3\n")
    (piece,) = plan.pieces
    assert set(piece.drawings) == {"seat", "leg", "rail"}
    told = plain_data(areas_data(piece.surface))
    assert told["set"] == 3
    assert told["set_area_m2"] == pytest.approx(3 * told["area_m2"])
    assert told["set_finished_m2"] == pytest.approx(3 * told["finished_m2"])
    # By hand: the seat's faces and edge, all of the legs but no end, the rails without their ends.
    seat, leg, rail = 2 * 0.4 * 0.38 + 2 * 0.78 * 0.02, 4 * 0.04 * 0.45 + 2 * 0.04**2, 2 * 0.32 * (0.06 + 0.02)
    assert told["finished_m2"] == pytest.approx(seat + 4 * leg + 4 * rail)


def test_one_of_a_set_of_one_is_no_set(tmp_path: Path) -> None:
    plan = planned(tmp_path, f"{CHAIR}set: 1\n")
    assert [treatment.item for treatment in plan.treatments] == ["seat", "frame"]
    assert "set" not in plain_data(areas_data(plan.pieces[0].surface))


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        (f"{CHAIR}set: 0\n", "'0' is not a number of alike pieces"),
        (f"{CHAIR}set: many\n", "'many' is not a number of alike pieces"),
        (f"{CHAIR}set: 25\n", "'25' is not a number of alike pieces"),
        (f"{CHAIR}set: 1e3\n", "'1e3' is not a number of alike pieces"),
        (f"{CHAIR}set: {'1' * 24}\n", f"'{'1' * 24}' is not a number of alike pieces"),
        (f"{CHAIR}set: yes\n", "'yes' is not a number of alike pieces"),
        (
            f"{CHAIR}  seat 2: {{shape: rod, diameter: 20, length: 300}}\nset: 2\n",
            "'seat 2' is also what one of",
        ),
    ],
)
def test_what_is_wrong_with_a_set_is_told(text: str, wrong: str, tmp_path: Path) -> None:
    assert any(one.startswith(wrong) for one in refused(tmp_path, text))


def test_a_set_of_too_many_items_is_refused(tmp_path: Path) -> None:
    rods = "".join(f"  rod {n}: {{shape: rod, diameter: 20, length: 300}}\n" for n in "abcdefghij")
    assert any(
        "has 240 of them" in one or "has 264 of them" in one for one in refused(tmp_path, f"{CHAIR}{rods}set: 22\n")
    )


def test_what_does_not_go_together_is_told_once(tmp_path: Path) -> None:
    text = CHAIR.replace("timber: ash", "timber: teak").replace("system: wax", "system: oil-varnish")
    assert refused(tmp_path, f"{text}set: 4\n") == refused(tmp_path, text)
