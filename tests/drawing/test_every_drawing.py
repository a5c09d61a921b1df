"""What holds for the drawing of any part: it is a sound file, legible, and no text lies on another."""

import re
from itertools import combinations
from pathlib import Path

import pytest

from finplan.drawing import part_drawing
from finplan.drawing.lettering import Box
from finplan.inputs.shapes import SHAPES
from finplan.quantity import Units
from tests.drawing.demo_parts import DEMO, part_of, write_box
from tests.drawing.read_svg import NAMESPACE, Drawn, Text, read
from tests.each import each

EVERY = [(name, units) for name in DEMO for units in ("metric", "us")]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("meshes")
    write_box(folder)
    return folder


def drawn(name: str, units: Units, folder: Path) -> Drawn:
    return read(part_drawing(name, part_of(DEMO[name][1], folder), units))


def _meet(one: Box, other: Box) -> bool:
    across = one.left < other.right and other.left < one.right
    return across and one.top < other.bottom and other.top < one.bottom


def overlapping(texts: list[Text]) -> list[tuple[str, str]]:
    """The pairs of texts whose boxes in the printed font have more than a hair in common."""
    hair = 0.05
    boxes = [(text, Box(b.left + hair, b.top + hair, b.right - hair, b.bottom - hair)) for text in texts
             for b in [text.box]]  # fmt: skip
    return [(one.content, other.content) for (one, a), (other, b) in combinations(boxes, 2) if _meet(a, b)]


def outside(seen: Drawn) -> list[str]:
    return [
        text.content
        for text in seen.texts
        if text.box.left < 0 or text.box.top < 0 or text.box.right > seen.width or text.box.bottom > seen.height
    ]


def test_every_shape_is_among_the_examples() -> None:
    assert {fields["shape"] for _, fields in DEMO.values()} == set(SHAPES)


@each(("name", "units"), EVERY)
def test_no_text_lies_on_another_or_off_the_paper(name: str, units: Units, folder: Path) -> None:
    seen = drawn(name, units, folder)
    assert overlapping(seen.texts) == []
    assert outside(seen) == []


@each(("name", "units"), EVERY)
def test_text_is_legible_at_85_mm(name: str, units: Units, folder: Path) -> None:
    seen = drawn(name, units, folder)
    assert seen.width == 85
    assert seen.root.get("width") == "85mm"
    # The capitals of the font are 0.727 of its size high.
    assert min(text.size for text in seen.texts) * 0.727 >= 2.5


@each(("name", "units"), EVERY)
def test_nothing_leaves_the_paper(name: str, units: Units, folder: Path) -> None:
    seen = drawn(name, units, folder)
    for element in seen.root.iter(f"{NAMESPACE}path"):
        # In our path data a point is the last two numbers before a command letter or a space between points.
        for x, y in re.findall(r"(?:[ML]|(?<=\d ))(-?[\d.]+) (-?[\d.]+)(?=[A-Z]|$)", element.get("d", "")):
            assert -0.01 <= float(x) <= seen.width + 0.01
            assert -0.01 <= float(y) <= seen.height + 0.01


@each(("name", "units"), EVERY)
def test_the_file_needs_nothing_beside_itself(name: str, units: Units, folder: Path) -> None:
    seen = drawn(name, units, folder)
    tags = {element.tag.removeprefix(NAMESPACE) for element in seen.root.iter()}
    assert tags <= {"svg", "title", "rect", "path", "circle", "text"}
    attributes = {attribute for element in seen.root.iter() for attribute in element.attrib}
    assert not attributes & {"id", "style", "class", "href", "onload"}
    paint = {element.get(name) for element in seen.root.iter() for name in ("fill", "stroke")}
    assert paint <= {"#000", "#fff", "none", None}


@pytest.mark.parametrize("name", DEMO)
def test_the_same_part_gives_the_same_drawing(name: str, folder: Path) -> None:
    units, fields = DEMO[name]
    assert part_drawing(name, part_of(fields, folder), units) == part_drawing(name, part_of(fields, folder), units)


@pytest.mark.parametrize("name", DEMO)
def test_every_face_is_named(name: str, folder: Path) -> None:
    units, fields = DEMO[name]
    part = part_of(fields, folder)
    seen = read(part_drawing(name, part, units))
    written = " ".join(text.content for text in seen.texts)
    # The grooves' size stands for their name.
    assert [face for face in part.face_names() if face.removesuffix("s") not in written] == []


def test_covered_faces_say_so(folder: Path) -> None:
    plaque = drawn("plaque", "metric", folder)
    assert "top, covered" in plaque.contents("face")
    leg = read(part_drawing("leg", part_of(DEMO["leg"][1]), "metric", glued={"top-end", "blocks"}))
    assert "blocks, covered" in leg.contents("face")
    assert "covered: top-end" in leg.contents("note")


def test_a_covered_face_is_cross_hatched() -> None:
    fields = {"shape": "disc", "diameter": 300, "thickness": 20}
    bare = read(part_drawing("lid", part_of(fields), "metric"))
    glued = read(part_drawing("lid", part_of(fields), "metric", glued={"top"}))

    def hatched(seen: Drawn) -> int:
        return sum(element.get("data-role") == "hatch" for element in seen.root.iter(f"{NAMESPACE}path"))

    assert hatched(glued) == hatched(bare) + 2


def test_the_title_says_in_words_what_is_drawn(folder: Path) -> None:
    assert drawn("leg", "metric", folder).title == "Leg, turned, 700 mm long, drawn lying, top end left"
    assert drawn("carved seat", "metric", folder).title.startswith(
        "Carved seat, modelled in box.stl, 400 by 300 by 60 mm"
    )
