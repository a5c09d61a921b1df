"""Carcases, drawers and doors: against boards fused in a solid modelling kernel, by hand, and by properties."""

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import finplan
from finplan.inputs.shapes import SHAPES
from finplan.reading import validate
from finplan.surface.face import BareFace
from finplan.surface.part import bare_faces

REFERENCE = json.loads((Path(__file__).parents[1] / "reference/cad_boards_and_composites.json").read_text("utf-8"))
SHAPES_HERE = ("carcase", "drawer", "door")
CASES = {name: case for name, case in REFERENCE["cases"].items() if case["fields"]["shape"] in SHAPES_HERE}

Fields = dict[str, Any]

CARCASE: Fields = {"shape": "carcase", "width": 800, "height": 1200, "depth": 300, "thickness": 20}
DRAWER: Fields = {"shape": "drawer", "width": 400, "height": 100, "depth": 300, "thickness": 12, "bottom": 6}
DOOR: Fields = {"shape": "door", "width": 400, "height": 600, "thickness": 20}
FRAME: Fields = {"stile": 60, "rail": 80}


def faces_of(fields: Fields, lengths: str = "mm") -> dict[str, BareFace]:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths=lengths)
    assert part is not None, findings
    return {face.face: face for face in bare_faces(part)}


def total(faces: dict[str, BareFace]) -> float:
    return sum(face.area_mm2 for face in faces.values())


@pytest.mark.parametrize("name", CASES)
def test_areas_agree_with_the_modelling_kernel(name: str) -> None:
    faces = faces_of(CASES[name]["fields"])
    expected = CASES[name]["faces_mm2"]
    assert {face for face, found in faces.items() if found.area_mm2} == expected.keys()
    for face, area_mm2 in expected.items():
        assert faces[face].area_mm2 == pytest.approx(area_mm2, rel=1e-9), face


@pytest.mark.parametrize(
    ("fields", "face", "end_grain_mm2", "source"),
    [
        ({**CARCASE, "back": 6}, "outside", 4 * 20 * 300, "both ends of both sides"),
        ({**CARCASE, "back": 6}, "edges", 0, "all along the grain"),
        ({**CARCASE, "back": 6, "grain": "width"}, "outside", 0, "the sides' ends are now edges along the grain"),
        (
            {**CARCASE, "back": 6, "shelves": 2, "grain": "width"},
            "edges",
            800 * 1200 - 760 * 1160 + 2 * 760 * 20,
            "every front edge is an end",
        ),
        ({**CARCASE, "back": 6, "grain": "width"}, "rear", 800 * 1200 - 760 * 1160, "the rear edges round the back"),
        (DRAWER, "outside", 4 * 12 * 100, "two ends of the front, two of the sides"),
        ({**DRAWER, "grain": "width"}, "edges", 2 * (400 * 300 - 376 * 276), "boards upright, all edges are ends"),
        (DOOR, "edges", 2 * 400 * 20, "a plain door: above and below"),
        ({**DOOR, "grain": "width"}, "edges", 2 * 600 * 20, "the grain across: both sides"),
        ({**DOOR, "frame": FRAME, "panel": {"thickness": 10}}, "edges", 4 * 60 * 20, "the ends of both stiles"),
        (
            {**DOOR, "frame": FRAME, "panel": {"thickness": 14, "raised": "40 x 8"}},
            "front",
            2 * 8 * (280 - 40),
            "the slopes above and below, seen along the grain: a fall of 8 over a mean length of 280 - 40",
        ),
        (
            {**DOOR, "frame": FRAME, "panel": {"thickness": 14, "raised": "40 x 8"}, "grain": "width"},
            "front",
            2 * 8 * (440 - 40),
            "the slopes left and right",
        ),
    ],
)
def test_end_grain_by_hand(fields: Fields, face: str, end_grain_mm2: float, source: str) -> None:
    found = faces_of(fields)[face]
    assert found.end_grain * found.area_mm2 == pytest.approx(end_grain_mm2), source


def test_a_raised_panel_by_hand() -> None:
    faces = faces_of({**DOOR, "frame": FRAME, "panel": {"thickness": 14, "raised": "40 x 8"}})
    frame = 400 * 600 - 280 * 440
    walls = 2 * (280 + 440) * (3 + 8)
    field = 200 * 360
    slopes = (280 * 440 - field) * math.hypot(40, 8) / 40
    assert faces["front"].area_mm2 == pytest.approx(frame + walls + field + slopes)
    assert faces["back"].area_mm2 == pytest.approx(400 * 600 + 2 * (280 + 440) * 3)


@given(
    wide=st.floats(200, 2000),
    high=st.floats(200, 2000),
    deep=st.floats(100, 800),
    thick=st.floats(5, 40),
    shelves=st.integers(0, 4),
    closed=st.booleans(),
)
def test_a_shelf_adds_both_faces_and_loses_what_it_stands_against(
    wide: float, high: float, deep: float, thick: float, shelves: int, closed: bool
) -> None:
    fields: Fields = {"shape": "carcase", "width": wide, "height": high, "depth": deep, "thickness": thick, "back": 6}
    fields["front"] = "closed" if closed else "open"
    if (shelves + 4) * thick > high:
        return
    one, more = faces_of({**fields, "shelves": shelves}), faces_of({**fields, "shelves": shelves + 1})
    clear_wide, clear_deep = wide - 2 * thick, deep - 6 - (thick if closed else 0)
    added = 2 * clear_wide * clear_deep - 2 * thick * clear_deep
    added += -2 * clear_wide * thick if closed else 0.0
    assert total(more) - total(one) == pytest.approx(added, rel=1e-6, abs=1e-3)


@given(k=st.floats(0.1, 10), name=st.sampled_from(sorted(CASES)))
def test_areas_grow_with_the_square_of_the_size(k: float, name: str) -> None:
    fields = CASES[name]["fields"]
    # The same numbers in a unit k times as long.
    one, other = faces_of(fields), faces_of(_scaled(fields, k))
    for face, found in one.items():
        assert other[face].area_mm2 == pytest.approx(k**2 * found.area_mm2)
        assert other[face].end_grain == pytest.approx(found.end_grain)


def _scaled(fields: Fields, k: float) -> Fields:
    def scale(name: str, value: Any) -> Any:
        if isinstance(value, dict):
            return {inner: scale(inner, one) for inner, one in value.items()}
        if name == "raised":
            return " x ".join(f"{float(size) * k!r}" for size in value.split(" x "))
        return value * k if isinstance(value, (int, float)) and name != "shelves" else value

    return {name: scale(name, value) for name, value in fields.items()}


@pytest.mark.parametrize(
    ("fields", "said", "path"),
    [
        ({**CARCASE, "thickness": 400}, "no room in a width of 800 mm", ("width",)),
        ({**CARCASE, "back": 300}, "take 300 mm of a depth of 300 mm", ("depth",)),
        ({**CARCASE, "shelves": 58}, "58 shelves of 20 mm fill a height of 1160 mm", ("shelves",)),
        ({**CARCASE, "shelves": -1}, "'-1' is not a number of shelves", ("shelves",)),
        ({**CARCASE, "front": "half"}, "'half' is not known here", ("front",)),
        ({**DRAWER, "bottom": 100}, "take 100 mm of a height of 100 mm", ("height",)),
        ({**DRAWER, "thickness": 150}, "take 300 mm of a depth of 300 mm", ("depth",)),
        ({**DOOR, "frame": FRAME}, "the frame has no panel", ("frame",)),
        ({**DOOR, "panel": {"thickness": 10}}, "the panel has no frame", ("panel",)),
        ({**DOOR, "panel": "glass"}, "the panel has no frame", ("panel",)),
        ({**DOOR, "frame": FRAME, "panel": "glas"}, "'glas' is no panel", ("panel",)),
        (
            {**DOOR, "frame": {**FRAME, "rebate": "10 x 20 mm"}, "panel": "none"},
            "a rebate 20 mm deep leaves nothing of 20 mm",
            ("frame", "rebate"),
        ),
        (
            {**DOOR, "frame": {**FRAME, "rebate": "10 x 12 mm"}, "panel": {"thickness": 10}},
            "a panel of wood stands in a groove, which is not seen",
            ("frame", "rebate"),
        ),
        (
            {**DOOR, "frame": FRAME, "panel": "glass", "timbers": {"panel": "mdf"}},
            "the frame holds no panel of wood",
            ("timbers", "panel"),
        ),
        (
            {**DOOR, "frame": {"stile": 200, "rail": 80}, "panel": {"thickness": 10}},
            "two stiles of 200 mm leave no room in a width of 400 mm",
            ("frame", "stile"),
        ),
        ({**DOOR, "frame": FRAME, "panel": {"thickness": 21}}, "21 mm thick in a frame of 20", ("panel", "thickness")),
        (
            {**DOOR, "frame": FRAME, "panel": {"thickness": 10, "raised": "40 x 10"}},
            "the slope falls 10 mm in a panel of 10 mm",
            ("panel", "raised"),
        ),
        (
            {**DOOR, "frame": FRAME, "panel": {"thickness": 10, "raised": "150 x 4"}},
            "slopes 150 mm wide meet in a panel of 280 mm",
            ("panel", "raised"),
        ),
        ({**DOOR, "frame": FRAME, "panel": {"thickness": 10, "raised": "40"}}, "has 1 size", ("panel", "raised")),
        ({**DOOR, "frame": FRAME, "panel": {"thickness": 10, "raised": True}}, "not the slope", ("panel", "raised")),
    ],
)
def test_what_cannot_be_made_is_refused_with_figures(fields: Fields, said: str, path: tuple[str, ...]) -> None:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths="mm")
    assert part is None
    assert said in findings[0].wrong
    assert findings[0].path == path


@pytest.mark.parametrize("shape", [*SHAPES_HERE, "moulding"])
def test_the_drawing_names_every_face(shape: str) -> None:
    drawing = (Path(finplan.__file__).parent / "guide" / f"{shape}.svg").read_text("utf-8")
    named = set(re.findall(r'<text class="f"[^>]*>([^<]+)</text>', drawing))
    assert named == set(SHAPES[shape].FACES)
    assert len(drawing) < 15_000


@pytest.mark.parametrize("held", ["glass", "none"])
@pytest.mark.parametrize(
    ("rebate", "front_mm2", "back_mm2"),
    [
        # By hand: the opening is 280 x 440 mm, 1440 mm round, and leaves 240,000 - 123,200 = 116,800 mm² of a face.
        # Of inner edges 20 mm deep each side has 10: 14,400 mm².
        (None, 116_800 + 14_400, 116_800 + 14_400),
        # Behind, a rebate 12 mm deep leaves 8 of them in front; its wall stands round 300 x 460 mm, 1520 mm, and its
        # floor is what it takes from the back: 1520 x 12 = 18,240 mm².
        ("10 x 12 mm", 116_800 + 1440 * 8, 116_800 + 18_240),
    ],
)
def test_a_frame_round_glass_has_inner_edges(held: str, rebate: str | None, front_mm2: float, back_mm2: float) -> None:
    frame = {**FRAME, **({} if rebate is None else {"rebate": rebate})}
    faces = faces_of({**DOOR, "frame": frame, "panel": held})
    assert faces["front"].area_mm2 == pytest.approx(front_mm2)
    assert faces["back"].area_mm2 == pytest.approx(back_mm2)
    assert faces["edges"].area_mm2 == pytest.approx(2 * (400 + 600) * 20)
    assert faces["front"].end_grain == 0
    assert faces["edges"].end_grain == pytest.approx(4 * 60 * 20 / 40_000)
