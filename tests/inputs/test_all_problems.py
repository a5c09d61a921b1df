"""Everything that is wrong with a part is said at once, each thing at its own place."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest

from finplan.inputs import Known, piece_from
from finplan.inputs.shapes import SHAPES
from finplan.problems import Problem, show_path
from finplan.reading import validate
from tests.conftest import Cli

KNOWN = Known(timbers=("ash",), systems=(), surfaces=())
PANEL = {"shape": "disc", "diameter": 300, "thickness": 20}
BOARD = {"shape": "board", "length": 500, "width": 100, "thickness": 20}

# What each file has wrong, by hand.
CASES: list[tuple[dict[str, Any], list[str]]] = [
    ({**PANEL, "edge": {"top": "rundover 3", "bottom": "chamfur 2"}}, ["edge.top", "edge.bottom"]),
    ({**PANEL, "edge": {"bottom": "ogee 0"}}, ["edge.bottom"]),
    ({**PANEL, "edge": {"side": "square", "bottom": "cove"}}, ["edge.side", "edge.bottom"]),
    (
        {**PANEL, "faces": {"top": {"less": ["3 x 3", "0 x 20 x 10", 3]}}},
        ["faces.top.less[1]", "faces.top.less[2]"],
    ),
    ({**PANEL, "faces": {"top": {"less": "0 x 20 x 10"}}}, ["faces.top.less"]),
    (
        {
            "shape": "turned",
            "elements": [
                "bead",
                {"beed": {"length": 3}},
                {"curve": {"points": [[1, 2], [0, 3], [3], [4, "a"], [5, 0]]}},
            ],
        },
        [
            "elements[0]",
            "elements[1].beed",
            "elements[2].curve.points[0]",
            "elements[2].curve.points[1]",
            "elements[2].curve.points[2]",
            "elements[2].curve.points[3][1]",
            "elements[2].curve.points[4]",
        ],
    ),
    (
        {"shape": "moulding", "length": 900, "profile": [[0, 0], ["a", 1], {"ark": 3}, [3, 3]]},
        ["profile[1][0]", "profile[2].ark"],
    ),
    ({**BOARD, "arch": {"rise": 200}, "radius": 10}, ["arch", "radius"]),
    ({**BOARD, "taper": {"to": 130}, "radius": 10}, ["taper.to", "radius"]),
    (
        {
            **BOARD,
            "arris": "roundover 12",
            "grooves": [{"face": "front", "width": 200, "depth": 3}, {"face": "back", "width": 20, "depth": 30}],
        },
        ["arris", "grooves[0].width", "grooves[1].depth"],
    ),
    (
        {"shape": "square-leg", "side": 50, "length": 700, "taper": {"to": 60, "from-length": 800}},
        ["taper.to", "taper.from-length"],
    ),
    (
        {"shape": "carcase", "width": 30, "height": 40, "depth": 50, "thickness": 20, "back": 60},
        ["width", "height", "depth"],
    ),
    (
        {"shape": "drawer", "width": 30, "height": 40, "depth": 50, "thickness": 25, "bottom": 50},
        ["width", "depth", "height"],
    ),
    (
        {
            "shape": "door",
            "width": 300,
            "height": 400,
            "thickness": 20,
            "frame": {"stile": 150, "rail": 200},
            "panel": {"thickness": 21, "raised": "3 x 22"},
        },
        ["frame.stile", "frame.rail", "panel.thickness", "panel.raised"],
    ),
    (
        {
            "shape": "measured",
            "faces": {"a": "3 ml", "b": "0 m2", "c": {"ara": "1 m2", "exposure": "shwo"}, " ": "1 m2"},
        },
        ["faces.a", "faces.b", "faces.c.ara", "faces.c.exposure", "faces. "],
    ),
]


@pytest.mark.parametrize(("fields", "places"), CASES, ids=lambda value: str(value)[:40])
def test_every_problem_is_reported(fields: dict[str, Any], places: list[str]) -> None:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths="mm")
    assert part is None
    assert sorted(show_path(finding.path) for finding in findings) == sorted(places)


def test_a_turned_grain_is_an_error_beside_others() -> None:
    _, findings = piece_from({"piece": "Peg", "parts": {"peg": {"shape": "rod", "grain": "width", "length": 0}}}, KNOWN)
    assert {"parts.peg.grain", "parts.peg.length"} <= {show_path(finding.path) for finding in findings}


def test_a_misspelt_field_of_a_face_has_a_hint() -> None:
    _, (finding,) = validate(SHAPES["disc"], {**PANEL, "faces": {"top": {"expsure": "show"}}}, lengths="mm")
    assert finding.expected == "did you mean 'exposure'?"


def test_nothing_is_as_good_as_left_out() -> None:
    rectangle = {"shape": "rectangle", "length": 300, "width": 200, "thickness": 20}
    plain, _ = validate(SHAPES["rectangle"], rectangle, lengths="mm")
    assert plain == validate(SHAPES["rectangle"], {**rectangle, "corners": 0}, lengths="mm")[0]
    leg = {"shape": "square-leg", "side": 50, "length": 700}
    tapered, _ = validate(SHAPES["square-leg"], {**leg, "taper": {"to": 30}}, lengths="mm")
    assert tapered == validate(SHAPES["square-leg"], {**leg, "taper": {"to": 30, "from-length": 0}}, lengths="mm")[0]
    _, (finding,) = validate(SHAPES["rectangle"], {**rectangle, "corners": -1}, lengths="mm")
    assert finding.wrong == "'-1' is negative"


def test_vulgar_fractions_in_sizes_of_two_numbers() -> None:
    written, _ = validate(SHAPES["disc"], {**PANEL, "thickness": 40, "edge": "bevel ½ x 1¼ in"}, lengths="mm")
    plain, _ = validate(SHAPES["disc"], {**PANEL, "thickness": 40, "edge": "bevel 12.7 x 31.75"}, lengths="mm")
    assert written == plain


def test_thousands_of_unknown_parts_are_reported_in_seconds() -> None:
    parts = {f"{'leg' * 15}{index}": {"shape": "rod", "diameter": "3 cm", "length": "1 m"} for index in range(300)}
    joints = [{"from": "lge" * 15, "face": "ends", "to": f"q{index}", "on": "side"} for index in range(2000)]
    start = time.process_time()
    _, findings = piece_from({"piece": "Fence", "parts": parts, "joints": joints}, KNOWN)
    assert len(findings) == 4000
    assert time.process_time() - start < 20


def test_a_problem_stays_on_one_line() -> None:
    problem = Problem(Path("stool.yaml"), 3, 5, "parts.a\nb", "'\x1b[31m' is no name", "expected a name")
    assert str(problem) == r"stool.yaml:3:5: parts.a\nb: '\x1b[31m' is no name; expected a name"


def test_outlines_are_bounded_together(tmp_path: Path, cli: Cli) -> None:
    path = "M 0 0 " + " ".join(f"L {n} {n % 2}" for n in range(1, 900)) + " V 400 H 0 Z"
    parts = "\n".join(f'  p{n}: {{shape: outline, path: "{path}", unit: mm, thickness: 20}}' for n in range(4))
    file = tmp_path / "piece.yaml"
    file.write_text(f"piece: Saw teeth\nlengths: mm\ntimber: ash\nparts:\n{parts}\n", encoding="utf-8")
    ended = cli("areas", file)
    assert ended.status == 2
    assert "segments together; expected at most 3000" in ended.err
