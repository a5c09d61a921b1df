"""Whole pieces: every shape is served, totals count, every finding of every part is told at once."""

import math
from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Known, Piece, piece_file_of, piece_from, plausible_sizes
from finplan.inputs.shapes import SHAPES, Board, MeasuredPart
from finplan.problems import FindingsError
from finplan.reading import read_document, validate
from finplan.surface import PartSurface, bare_faces, measured, piece_surface
from finplan.surface.face import finish_faces
from finplan.surface.part import GEOMETRY

SIZES = plausible_sizes(bundled_catalogue().files)
KNOWN = Known(timbers=("ash", "oak"), systems=("hardwax-oil",), surfaces=())

TABLE = """\
piece: Reading table, village library
lengths: mm
timber: ash
system: hardwax-oil
parts:
  top:
    shape: disc
    diameter: 1100
    thickness: 28
  leg:
    count: 4
    timber: oak
    shape: square-leg
    side: 70
    length: 720
  apron:
    count: 4
    shape: board
    length: 620
    width: 100
    thickness: 22
    grooves: [{face: back, width: 4, depth: 9}]
    faces:
      back: {exposure: secondary}
      ends: {exposure: covered}
"""


def piece(data: dict[str, Any]) -> Piece:
    made, findings = piece_from({"piece": "Table", "lengths": "mm", **data}, KNOWN)
    assert not findings
    return made


def parts_of(file: Path, text: str) -> dict[str, PartSurface]:
    file.write_text(text, encoding="utf-8")
    loaded = piece_file_of(read_document(file), KNOWN, folder=file.parent)
    assert loaded.sound, loaded.problems
    return {part.part: part for part in piece_surface(loaded.piece).parts}


def test_every_shape_has_its_geometry() -> None:
    assert GEOMETRY.keys() == SHAPES.keys()


def test_the_apron_of_the_example(tmp_path: Path) -> None:
    apron = parts_of(tmp_path / "table.yaml", TABLE)["apron"]
    by_hand = {
        "front": (0.62 * 0.1, "show", 0),
        "back": (0.62 * (0.1 - 0.004), "secondary", 0),
        "top-edge": (0.62 * 0.022, "show", 0),
        "bottom-edge": (0.62 * 0.022, "show", 0),
        "ends": (2 * (0.1 * 0.022 - 0.004 * 0.009), "covered", 1),
        "grooves": (0.62 * (0.004 + 2 * 0.009), "covered", 0),
    }
    assert [face.face for face in apron.faces] == list(by_hand)
    for face in apron.faces:
        area_m2, exposure, end_grain = by_hand[face.face]
        assert face.area_m2 == pytest.approx(area_m2, rel=1e-12)
        assert (face.exposure, face.end_grain) == (exposure, end_grain)
    covered_m2 = by_hand["ends"][0] + by_hand["grooves"][0]
    assert apron.area_m2 == pytest.approx(sum(area_m2 for area_m2, _, _ in by_hand.values()))
    assert apron.finished_m2 == pytest.approx(apron.area_m2 - covered_m2)


def test_totals_count_every_part(tmp_path: Path) -> None:
    parts = parts_of(tmp_path / "table.yaml", TABLE)
    surface = piece_surface(piece_file_of(read_document(tmp_path / "table.yaml"), KNOWN, folder=tmp_path).piece)
    top_m2 = math.pi * 0.55**2 * 2 + math.pi * 1.1 * 0.028
    leg_m2 = 4 * 0.07 * 0.72 + 2 * 0.07**2
    assert parts["top"].area_m2 == pytest.approx(top_m2)
    assert parts["leg"].area_m2 == pytest.approx(leg_m2)
    assert surface.area_m2 == pytest.approx(top_m2 + 4 * leg_m2 + 4 * parts["apron"].area_m2)
    assert surface.finished_m2 == pytest.approx(top_m2 + 4 * leg_m2 + 4 * parts["apron"].finished_m2)


def test_timber_is_the_parts_own_else_the_pieces(tmp_path: Path) -> None:
    parts = parts_of(tmp_path / "table.yaml", TABLE)
    assert (parts["top"].timber, parts["leg"].timber) == ("ash", "oak")


def test_exposure_by_default() -> None:
    made = piece(
        {
            "parts": {
                "top": {"shape": "rectangle", "length": 900, "width": 500, "thickness": 20},
                "leg": {"shape": "square-leg", "side": 40, "length": 400},
                "box": {"shape": "carcase", "width": 400, "height": 400, "depth": 300, "thickness": 18, "back": 6},
                "rail": {
                    "shape": "board", "length": 400, "width": 60, "thickness": 20,
                    "grooves": [{"face": "top-edge", "width": 5, "depth": 5}],
                },
            }
        }
    )  # fmt: skip
    exposures = {face.face: face.exposure for part in piece_surface(made).parts for face in part.faces}
    secondary = {"underside", "top-end", "foot-end", "inside", "rear"}
    for name, exposure in exposures.items():
        assert exposure == ("secondary" if name in secondary else "covered" if name == "grooves" else "show"), name


def test_patches_come_off_and_end_grain_stays() -> None:
    board: dict[str, Any] = {"shape": "board", "length": 620, "width": 100, "thickness": 22, "taper": {"to": 60}}
    part, _ = validate(Board, {**board, "faces": {"bottom-edge": {"less": ["2 x 100 x 22"]}}}, lengths="mm")
    whole, _ = validate(Board, board, lengths="mm")
    assert part is not None
    assert whole is not None
    less, more = (finish_faces("rail", kept, bare_faces(kept), "ash").faces[3] for kept in (part, whole))
    assert more.area_m2 - less.area_m2 == pytest.approx(2 * 0.1 * 0.022)
    assert (less.whole_m2, less.end_grain) == (more.whole_m2, more.end_grain)


def test_patches_that_exceed_the_face_are_told_from_the_part_down() -> None:
    fields = {"shape": "board", "length": 620, "width": 100, "thickness": 22}
    part, _ = validate(Board, {**fields, "faces": {"ends": {"less": ["3 x 100 x 22"]}}}, lengths="mm")
    assert part is not None
    with pytest.raises(FindingsError) as caught:
        finish_faces("rail", part, bare_faces(part), None)
    assert caught.value.findings[0].path == ("faces", "ends", "less")
    assert caught.value.findings[0].wrong == "the patches take 66 cm² off a face of 44 cm²"


def test_the_findings_of_all_parts_are_told_at_once() -> None:
    bad = {"shape": "rod", "diameter": 20, "length": 300, "faces": {"ends": {"less": ["50 x 50"]}}}
    made = piece({"parts": {"one": bad, "good": {**bad, "faces": {}}, "two": bad}})
    with pytest.raises(FindingsError) as caught:
        piece_surface(made)
    assert [finding.path[:2] for finding in caught.value.findings] == [("parts", "one"), ("parts", "two")]


def test_measured_faces_stand_as_given() -> None:
    faces = {"seat": "0.3 m2", "carving": {"area": "1 ft2", "end-grain": "40 %", "exposure": "secondary"}}
    part, findings = validate(MeasuredPart, {"shape": "measured", "faces": faces})
    assert part is not None, findings
    seat, carving = finish_faces("seat", part, bare_faces(part), None).faces
    assert seat.area_m2 == pytest.approx(0.3)
    assert carving.area_m2 == pytest.approx(0.3048**2)
    assert (seat.exposure, seat.end_grain, carving.exposure) == ("show", 0, "secondary")
    assert carving.end_grain == pytest.approx(0.4)


def test_warnings_come_with_the_errors() -> None:
    leg = {"shape": "square-leg", "side": 44, "length": 28}
    rod = {"shape": "rod", "diameter": 20, "length": 300, "faces": {"ends": {"less": ["50 x 50"]}}}
    made = piece({"parts": {"leg": leg, "rod": rod}})
    assert [(finding.severity, finding.path[1]) for finding in measured(made, SIZES)[1]] == [
        ("error", "rod"),
        ("warning", "leg"),
    ]
