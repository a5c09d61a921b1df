"""The sizes that a part was given stand on its drawing, in the units wanted."""

from typing import Any

import pytest

from finplan.drawing import part_drawing
from finplan.drawing.lettering import size, text_width, wrapped
from finplan.drawing.scale import scale_for
from finplan.quantity import Units
from tests.drawing.demo_parts import DEMO, part_of
from tests.drawing.read_svg import read, width_in_font

# The second column is what the fields say, as a person writes it at a dimension line.
SIZES: list[tuple[str, Units, set[str]]] = [
    ("round table top", "metric", {"Ø1100", "28", "roundover 6", "chamfer 3"}),
    ("round table top", "us", {'Ø43-5/16"', '1-1/8"', 'roundover 1/4"', 'chamfer 1/8"'}),
    ("ring", "us", {'Ø17-1/2"', '3/4"', "bullnose"}),
    ("ellipse", "metric", {"1800", "1000", "30", "bevel 40 × 15"}),
    ("bench seat", "us", {'48"', '14-1/2"', '1-1/8"', 'R1-1/2"', 'ogee 1/4"', 'roundover 1/8"'}),
    ("narrow shelf", "metric", {"2400", "20", "18", "chamfer 2"}),
    ("hexagon", "metric", {"6 sides, 600 across flats", "600", "20"}),
    ("triangle", "us", {'3 sides, 20" across corners', '1"'}),
    ("corner desk", "metric", {"900", "700", "28", "roundover 12"}),
    ("leg", "metric", {"70 × 70", "130", "Ø52", "8", "Ø64 neck 48", "22", "Ø40 rim 48", "18", "Ø62", "150", "270",
                       "Ø36", "Ø30", "102", "700"}),
    ("leg in inches", "us", {'2-3/4" × 2-3/4"', '6"', '1-1/2"',
                             'Ø2-1/2" neck 1-7/8"', '3/4"', 'Ø2"', 'Ø1-1/4"', '20"', '28-1/4"'}),
    ("apron", "metric", {"620", "100", "22", "groove 4 × 9", "groove 6 × 8"}),
    ("arched rail", "us", {'40"', '5"', '7/8"', 'rise 1-1/2"', 'groove 1/4" × 1/4"'}),
    ("tapered slat", "metric", {"900", "140", "90", "15"}),
    ("bent backrest", "metric", {"480", "90", "18", "R420"}),
    ("tapered leg", "metric", {"45", "720", "25", "120", "600"}),
    ("rail", "metric", {"2400", "Ø20"}),
    ("dowel", "us", {'Ø3/8"', '1-1/4"'}),
    ("cornice", "metric", {"34", "20", "R12", "R4"}),
    ("bookcase", "metric", {"800", "1800", "300"}),
    ("drawer", "metric", {"400", "100", "450"}),
    ("door", "metric", {"400", "600", "20", "stile 60", "rail 80", "60", "raised 40 × 6", "panel 14"}),
    ("caned seat", "metric", {"0.300 m²", "0.120 m²"}),
]  # fmt: skip


@pytest.mark.parametrize(("name", "units", "expected"), SIZES)
def test_given_sizes_stand_on_the_drawing(name: str, units: Units, expected: set[str]) -> None:
    seen = read(part_drawing(name, part_of(DEMO[name][1]), units))
    assert expected - set(seen.contents("size")) == set()


def test_faces_carry_their_sizes_where_one_text_says_both() -> None:
    ring = read(part_drawing("ring", part_of(DEMO["ring"][1]), "us"))
    assert 'hole Ø6"' in ring.contents("face")
    apron = read(part_drawing("apron", part_of(DEMO["apron"][1]), "metric"))
    assert "arrises: roundover 2" in apron.contents("face")


def test_boards_of_a_carcase_and_a_drawer_are_noted() -> None:
    bookcase = read(part_drawing("bookcase", part_of(DEMO["bookcase"][1]), "metric"))
    assert bookcase.contents("note") == ["boards 20 thick, back 6, 4 shelves"]
    drawer = read(part_drawing("drawer", part_of(DEMO["drawer"][1]), "us"))
    assert drawer.contents("note") == ['boards 1/2" thick, bottom 1/4"']


def test_a_turning_without_room_for_its_sizes_lists_them() -> None:
    seen = read(part_drawing("spindle", part_of(DEMO["spindle"][1]), "metric"))
    listed = seen.contents("note")
    assert listed[0] == "From the top end:"
    assert listed[2] == "2. bead Ø24 neck 18, 11 long"
    assert len(listed) == 25


def test_a_turning_with_room_for_its_sizes_does_not_list_them() -> None:
    assert read(part_drawing("leg", part_of(DEMO["leg"][1]), "metric")).contents("note") == []


def test_grain_across_turns_the_arrow_and_not_the_part() -> None:
    fields: dict[str, Any] = {"shape": "rectangle", "length": 300, "width": 500, "thickness": 20}
    along = read(part_drawing("lid", part_of(fields), "metric"))
    across = read(part_drawing("lid", part_of({**fields, "grain": "width"}), "metric"))
    assert along.paths("outline")[0] == across.paths("outline")[0]
    assert along.contents("size") == across.contents("size")


def test_a_tapered_board_of_full_width_is_straight() -> None:
    fields: dict[str, Any] = {"shape": "board", "length": 300, "width": 50, "thickness": 20}
    straight = read(part_drawing("slat", part_of(fields), "metric"))
    tapered = read(part_drawing("slat", part_of({**fields, "taper": {"to": 50}}), "metric"))
    ratio = tapered.factor("front") / straight.factor("front")
    assert 0.5 < ratio <= 1


@pytest.mark.parametrize(
    ("length_mm", "units", "expected"),
    [
        (0.3, "metric", "0.3"),  # by hand, as all of these
        (12.5, "metric", "12.5"),
        (692.820323, "metric", "692.8"),
        (2400.0, "metric", "2400"),
        (99999.0, "metric", "99999"),
        (25.4, "us", '1"'),
        (1.5875, "us", '1/16"'),
        (0.79375, "us", '1/32"'),
        (50.0, "us", '1-15/16"'),  # 1.9685 in: 31.5 sixteenths, and a float just below
    ],
)
def test_sizes_are_written_as_at_a_dimension_line(length_mm: float, units: Units, expected: str) -> None:
    assert size(length_mm, units) == expected


@pytest.mark.parametrize("text", ["1100", 'Ø2-1/2" neck 1-7/8"', "underside, covered", "bevel 10 × 5", "top-edge"])
def test_text_is_taken_for_about_as_wide_as_the_printed_font_sets_it(text: str) -> None:
    assert text_width(text) == pytest.approx(width_in_font(text, 3.5), rel=0.06)


def test_long_texts_break_between_words() -> None:
    lines = wrapped("The file does not say where across the board a groove lies", 40.0)
    assert " ".join(lines) == "The file does not say where across the board a groove lies"
    assert all(text_width(line) <= 40.0 for line in lines)


def test_scales_are_round_and_fit() -> None:
    assert str(scale_for((700.0, 70.0))) == "1 : 10"
    assert str(scale_for((701.0, 70.0))) == "1 : 15"
    assert str(scale_for((12.0, 50.0))) == "4 : 1"
    assert str(scale_for((99000.0, 70.0))) == "1 : 1500"
