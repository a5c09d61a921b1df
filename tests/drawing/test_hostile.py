"""Names that mean something elsewhere, and parts at the limits of what a file may say."""

import re
import time
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.drawing import part_drawing
from finplan.problems import FindingsError
from tests.drawing.demo_parts import part_of
from tests.drawing.read_svg import NAMESPACE, read
from tests.drawing.test_every_drawing import outside, overlapping

DISC: dict[str, Any] = {"shape": "disc", "diameter": 300, "thickness": 20, "edge": "roundover 3"}
NAMES = [
    "<script>alert(1)</script>",
    "</title><b onload='x()'>",
    'a "quoted" & <b>bold</b> name',
    "]]> <!-- -->",
    "ножка стола",
    "テーブルの天板",
    "ساق الطاولة",
    "a\x00b\x0b\x1f",
    "\ufffe\ud800",
    "x" * 60,
]


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_a_name_is_text_and_nothing_else(name: str) -> None:
    svg = part_drawing(name, part_of(DISC), "metric")
    seen = read(svg)
    # Extensible Markup Language (XML) 1.0, section 2.2: characters that a file cannot hold.
    shown = re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]", "\ufffd", name)
    assert (
        seen.title
        == f"{shown[0].upper()}{shown[1:]}, disc 300 mm across, 20 mm thick, plan and section through the edge"
    )
    assert {element.tag.removeprefix(NAMESPACE) for element in seen.root.iter()} <= {
        "svg", "title", "rect", "path", "circle", "text"
    }  # fmt: skip
    svg.encode("utf-8")


@pytest.mark.parametrize("name", [name for name in NAMES if name.isprintable()], ids=lambda name: name[:8])
def test_a_face_with_such_a_name_stays_in_its_box(name: str) -> None:
    seen = read(part_drawing("seat", part_of({"shape": "measured", "faces": {name: "0.3 m2", "back": "2 m2"}}), "us"))
    assert overlapping(seen.texts) == []
    assert outside(seen) == []


def test_a_part_that_cannot_be_is_refused_and_not_drawn() -> None:
    with pytest.raises(FindingsError, match="profiles are 40 mm tall"):
        part_drawing("top", part_of({**DISC, "edge": {"top": "chamfer 20", "bottom": "chamfer 20"}}), "metric")


def _sound(fields: dict[str, Any]) -> None:
    seen = read(part_drawing("part", part_of(fields), "us"))
    assert overlapping(seen.texts) == []
    assert outside(seen) == []
    assert "nan" not in str(seen.root.get("viewBox"))


EXTREMES: dict[str, dict[str, Any]] = {
    "five hundred elements": {
        "shape": "turned",
        "elements": [{"cylinder": {"diameter": 20 + n % 3, "length": 3}} for n in range(500)],
    },
    "a curve through a thousand points": {
        "shape": "turned",
        "elements": [{"curve": {"points": [[n, 30 + n % 7] for n in range(1000)]}}],
    },
    "a hundred grooves, all different": {
        "shape": "board",
        "length": 900,
        "width": 900,
        "thickness": 20,
        "grooves": [{"face": "back", "width": 2 + n / 50, "depth": 5} for n in range(100)],
    },
    "grooves on both sides without room side by side": {
        "shape": "board",
        "length": 900,
        "width": 50,
        "thickness": 20,
        "grooves": [{"face": "back", "width": 40, "depth": 6}, {"face": "front", "width": 40, "depth": 6}],
    },
    "a disc of a thousandth": {"shape": "disc", "diameter": 0.001, "thickness": 0.001},
    "a disc of a hundred metres": {"shape": "disc", "diameter": 100000, "thickness": 0.001, "edge": "bullnose"},
    "a face that the edge uses up": {"shape": "disc", "diameter": 40, "thickness": 30, "edge": {"top": "roundover 20"}},
    "a square that the edge uses up": {
        "shape": "rectangle", "length": 40, "width": 40, "thickness": 30, "edge": {"top": "chamfer 20"},
    },
    "a thousand sides": {"shape": "polygon", "sides": 1000, "across-corners": 500, "thickness": 20},
    "a board bent into a ring": {"shape": "board", "length": 628.3, "width": 90, "thickness": 18, "radius": 100},
    "a sheet of veneer": {"shape": "board", "length": 2400, "width": 300, "thickness": 0.6},
    "a post as a board": {"shape": "board", "length": 20, "width": 300, "thickness": 300},
    "a half round arch": {"shape": "board", "length": 200, "width": 150, "thickness": 20, "arch": {"rise": 100}},
    "a short thick leg": {"shape": "square-leg", "side": 300, "length": 20, "taper": {"to": 10, "sides": "two"}},
    "a slender rod": {"shape": "rod", "diameter": 2, "length": 5000},
    "a hundred shelves": {
        "shape": "carcase", "width": 800, "height": 2400, "depth": 300, "thickness": 3, "shelves": 100, "back": 3,
    },
    "a low wide carcase": {"shape": "carcase", "width": 5000, "height": 50, "depth": 50, "thickness": 20},
    "a shallow drawer": {
        "shape": "drawer", "width": 1200, "height": 20, "depth": 30, "thickness": 12, "bottom": 6,
    },
    "a door of frames alone": {
        "shape": "door", "width": 100, "height": 2400, "thickness": 20,
        "frame": {"stile": 49, "rail": 1100}, "panel": {"thickness": 20},
    },
}  # fmt: skip


@pytest.mark.parametrize("name", EXTREMES)
def test_extremes_are_drawn(name: str) -> None:
    began = time.process_time()
    _sound(EXTREMES[name])
    assert time.process_time() - began < 10


def test_every_element_of_a_long_turning_is_accounted_for() -> None:
    seen = read(part_drawing("spindle", part_of(EXTREMES["five hundred elements"]), "metric"))
    notes = seen.contents("note")
    assert notes[1] == "1. cylinder Ø20, 3 long"
    assert notes[-1] == "and 440 more elements"


def test_every_groove_is_accounted_for() -> None:
    seen = read(part_drawing("panel", part_of(EXTREMES["a hundred grooves, all different"]), "metric"))
    written = " ".join(text.content for text in seen.texts)
    assert "groove 2 × 5" in written
    assert "groove 3.98 × 5" in written


LENGTH = st.floats(0.5, 5000.0)


@settings(max_examples=60, deadline=None)
@given(length=LENGTH, width=LENGTH, thickness=LENGTH, corner=st.floats(0.0, 0.5), edge=st.floats(0.0, 0.49))
def test_any_rectangle(length: float, width: float, thickness: float, corner: float, edge: float) -> None:
    size = min(length, width, thickness) * edge
    fields: dict[str, Any] = {"shape": "rectangle", "length": length, "width": width, "thickness": thickness}
    if size > 0.01:
        fields["edge"] = f"roundover {size:.5f}"
    if corner * min(length, width) > 0.01:
        fields["corners"] = corner * min(length, width)
    _sound(fields)


@settings(max_examples=60, deadline=None)
@given(length=LENGTH, width=LENGTH, thickness=LENGTH, taper=st.floats(0.2, 1.0), groove=st.floats(0.05, 0.4))
def test_any_board(length: float, width: float, thickness: float, taper: float, groove: float) -> None:
    cut = {"face": "back", "width": width * taper * groove, "depth": thickness * groove}
    fields = {"shape": "board", "length": length, "width": width, "thickness": thickness, "grooves": [cut]}
    _sound({**fields, "taper": {"to": width * taper}})


ELEMENT = st.one_of(
    st.builds(lambda d, n: {"cylinder": {"diameter": d, "length": n}}, LENGTH, LENGTH),
    st.builds(lambda d, n: {"block": {"side": d, "length": n}}, LENGTH, LENGTH),
    st.builds(lambda d, e, n: {"taper": {"from": d, "to": e, "length": n}}, LENGTH, LENGTH, LENGTH),
    st.builds(lambda d, n: {"bead": {"diameter": d + n / 2, "neck": d, "length": n}}, LENGTH, LENGTH),
    st.builds(lambda d, n: {"curve": {"points": [[0, d], [n, 2 * d], [3 * n, d]]}}, LENGTH, LENGTH),
)


@settings(max_examples=60, deadline=None)
@given(elements=st.lists(ELEMENT, min_size=1, max_size=12))
def test_any_turning(elements: list[dict[str, Any]]) -> None:
    _sound({"shape": "turned", "elements": elements})


@settings(max_examples=100, deadline=None)
@given(sizes=st.lists(LENGTH, min_size=3, max_size=3), shelves=st.integers(0, 6), share=st.floats(0.01, 0.1))
def test_any_carcase(sizes: list[float], shelves: int, share: float) -> None:
    width, height, depth = sizes
    thick = share * min(sizes)
    _sound({"shape": "carcase", "width": width, "height": height, "depth": depth, "thickness": thick,
            "back": thick / 2, "shelves": shelves, "front": "closed" if shelves % 2 else "open"})  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(width=LENGTH, height=LENGTH, thickness=LENGTH, share=st.floats(0.05, 0.45))
def test_any_door(width: float, height: float, thickness: float, share: float) -> None:
    frame = {"stile": width * share, "rail": height * share}
    _sound({"shape": "door", "width": width, "height": height, "thickness": thickness, "frame": frame,
            "panel": {"thickness": thickness / 2}})  # fmt: skip
