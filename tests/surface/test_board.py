"""Boards: against a solid modelling kernel, against direct integration of the surface, and by properties."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from finplan.inputs.shapes import Board
from finplan.reading import validate
from finplan.surface.board import board_faces
from finplan.surface.face import BareFace

REFERENCE = json.loads((Path(__file__).parents[1] / "reference/cad_boards_and_composites.json").read_text("utf-8"))
BOARDS = {name: case for name, case in REFERENCE["cases"].items() if case["fields"]["shape"] == "board"}

Fields = dict[str, Any]
SIZE = st.floats(1.0, 2000.0)


def faces_of(fields: Fields, lengths: str = "mm") -> dict[str, BareFace]:
    part, findings = validate(Board, {"shape": "board", **fields}, lengths=lengths)
    assert part is not None, findings
    return {face.face: face for face in board_faces(part)}


def refused(fields: Fields) -> str:
    part, findings = validate(Board, {"shape": "board", **fields}, lengths="mm")
    assert part is None
    assert len(findings) == 1
    return f"{findings[0].wrong}; {findings[0].expected}"


def total(faces: dict[str, BareFace]) -> float:
    return sum(face.area_mm2 for face in faces.values())


@pytest.mark.parametrize("name", BOARDS)
def test_areas_agree_with_the_modelling_kernel(name: str) -> None:
    faces = faces_of(BOARDS[name]["fields"])
    expected = BOARDS[name]["faces_mm2"]
    assert faces.keys() == expected.keys()
    for face, area_mm2 in expected.items():
        assert faces[face].area_mm2 == pytest.approx(area_mm2, rel=1e-9), face


@pytest.mark.parametrize(
    ("fields", "face", "area_mm2", "end_grain", "source"),
    [
        ({}, "front", 62000, 0, "620·100"),
        ({}, "ends", 4400, 1, "2·100·22"),
        ({"grain": "width"}, "top-edge", 13640, 1, "620·22, the grain square to it"),
        ({"grain": "width"}, "ends", 4400, 0, "2·100·22, the grain along"),
        ({"arch": {"rise": 310}, "width": 400}, "bottom-edge", 22 * math.pi * 310, 2 / math.pi, "a half circle"),
        ({"arch": {"rise": 310}, "width": 400}, "front", 620 * 400 - math.pi * 310**2 / 2, 0, "less a half circle"),
        ({"taper": {"to": 60}}, "front", 49600, 0, "620·(100 + 60)/2"),
        ({"taper": {"to": 60}}, "bottom-edge", 22 * math.hypot(620, 40), 40 / math.hypot(620, 40), "Pythagoras"),
        ({"taper": {"to": 60}}, "ends", 3520, 1, "(100 + 60)·22"),
        ({"radius": 310}, "back", 62000 * 288 / 310, 0, "(R - t)/R of the front"),
        ({"radius": 310}, "top-edge", 310**2 - 288**2, 0, "2 rad of a ring: (R² - (R - t)²)/2 each"),
        ({"radius": 310, "grain": "width"}, "bottom-edge", 310**2 - 288**2, 1, "the grain along the bend's axis"),
        ({"arris": "roundover 5"}, "arrises", 4 * math.pi / 2 * 5 * 620, 0, "four quarter cylinders"),
        ({"arris": "chamfer 5"}, "arrises", 4 * math.sqrt(2) * 5 * 620, 0, "four strips"),
        ({"arris": "chamfer 5", "grain": "width"}, "arrises", 17536, math.sqrt(0.5), "45 degrees to the grain"),
        ({"arris": "roundover 5", "grain": "width"}, "arrises", 19478, 2 / math.pi, "as for a half round"),
        ({"grooves": [{"face": "front", "width": 4, "depth": 9}]}, "grooves", 22 * 620, 0, "floor and two walls"),
        (
            {"grooves": [{"face": "front", "width": 4, "depth": 9}], "grain": "width"},
            "grooves",
            22 * 620,
            18 / 22,
            "both walls square to the grain",
        ),
        (
            {"grooves": [{"face": "top-edge", "width": 4, "depth": 9}], "grain": "width"},
            "grooves",
            22 * 620,
            4 / 22,
            "the floor square to the grain",
        ),
    ],
)
def test_by_hand(fields: Fields, face: str, area_mm2: float, end_grain: float, source: str) -> None:
    found = faces_of({"length": 620, "width": 100, "thickness": 22, **fields})[face]
    assert found.area_mm2 == pytest.approx(area_mm2, rel=1e-4), source
    assert found.end_grain == pytest.approx(end_grain, abs=1e-9), source


# --- direct integration: the surface as a map of the unit square, its area element by differences --------------------

RADIUS, LENGTH, WIDTH, TO, THICKNESS = 400.0, 620.0, 100.0, 60.0, 22.0
SLOPE = (WIDTH - TO) / LENGTH
STRETCH = math.hypot(1, SLOPE)
Place = Callable[[Any, Any], tuple[Any, Any, Any]]


def _bent(place: Place, p: Any, q: Any) -> Any:
    """Bend a place of the flat board: along the length, below the top edge, behind the front."""
    s, u, v = place(p, q)
    r, angle = RADIUS - v, s / RADIUS
    return np.array([r * np.cos(angle), r * np.sin(angle), -u + 0 * p])


def _slope_of(point: Callable[[float], Any], step: float = 1e-3) -> Any:
    near, far = point(step) - point(-step), point(2 * step) - point(-2 * step)
    return (8 * near - far) / (12 * step)


def _integrated(place: Place) -> tuple[float, float, float]:
    """Return the area, and the integrals of |n·g| for the grain along the bend and along the width."""
    nodes, weights = np.polynomial.legendre.leggauss(24)
    p, q = np.meshgrid((nodes + 1) / 2, (nodes + 1) / 2, indexing="ij")
    weight = np.outer(weights, weights) / 4
    normal = np.cross(_slope_of(lambda d: _bent(place, p + d, q)), _slope_of(lambda d: _bent(place, p, q + d)), axis=0)
    x, y, _ = _bent(place, p, q)
    along = np.array([-y, x, 0 * x]) / np.hypot(x, y)
    area = (weight * np.sqrt((normal**2).sum(axis=0))).sum()
    return (
        float(area),
        float((weight * np.abs((normal * along).sum(axis=0))).sum()),
        float((weight * np.abs(normal[2])).sum()),
    )


def _bottom(set_back: Any, s: Any) -> Any:
    return WIDTH - SLOPE * s - STRETCH * set_back


EASED = 4.0


def _arris(depth: float, at_bottom: bool) -> Place:
    def place(p: Any, q: Any) -> tuple[Any, Any, Any]:
        set_back = EASED * (1 - np.sin(q * np.pi / 2))
        below = _bottom(set_back, LENGTH * p) if at_bottom else set_back
        return LENGTH * p, below, abs(depth - EASED * (1 - np.cos(q * np.pi / 2)))

    return place


BENT_TAPER: dict[str, list[Place]] = {
    "bottom-edge": [lambda p, q: (LENGTH * p, _bottom(0, LENGTH * p), EASED + q * (THICKNESS - 2 * EASED))],
    "back": [
        lambda p, q: (
            LENGTH * p,
            EASED + q * (_bottom(EASED, LENGTH * p) - EASED),
            THICKNESS + 0 * q,
        )
    ],
    "arrises": [_arris(depth, at_bottom) for depth in (0.0, THICKNESS) for at_bottom in (False, True)],
}


@pytest.mark.parametrize("grain", ["length", "width"])
@pytest.mark.parametrize("face", BENT_TAPER)
def test_bent_taper_agrees_with_direct_integration(face: str, grain: str) -> None:
    sizes = {"length": LENGTH, "width": WIDTH, "thickness": THICKNESS, "grain": grain}
    found = faces_of({**sizes, "taper": {"to": TO}, "radius": RADIUS, "arris": f"roundover {EASED}"})[face]
    parts = [_integrated(place) for place in BENT_TAPER[face]]
    area = sum(part[0] for part in parts)
    turned = sum(part[2 if grain == "width" else 1] for part in parts)
    assert found.area_mm2 == pytest.approx(area, rel=1e-9)
    assert found.end_grain == pytest.approx(turned / area, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("grain", ["length", "width"])
def test_bent_taper_groove_agrees_with_direct_integration(grain: str) -> None:
    wide, deep = 6.0, 8.0
    low, high = (THICKNESS - wide) / 2, (THICKNESS + wide) / 2
    places: list[Place] = [
        lambda p, q: (LENGTH * p, _bottom(deep, LENGTH * p), low + q * wide),
        lambda p, q: (LENGTH * p, _bottom(deep * q, LENGTH * p), low + 0 * q),
        lambda p, q: (LENGTH * p, _bottom(deep * q, LENGTH * p), high + 0 * q),
    ]
    sizes = {"length": LENGTH, "width": WIDTH, "thickness": THICKNESS, "grain": grain}
    groove = {"face": "bottom-edge", "width": wide, "depth": deep}
    found = faces_of({**sizes, "taper": {"to": TO}, "radius": RADIUS, "grooves": [groove]})["grooves"]
    parts = [_integrated(place) for place in places]
    area = sum(part[0] for part in parts)
    assert found.area_mm2 == pytest.approx(area, rel=1e-9)
    turned = sum(part[2 if grain == "width" else 1] for part in parts)
    assert found.end_grain == pytest.approx(turned / area, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("grain", ["length", "width"])
def test_end_grain_of_an_arched_arris_by_projection(grain: str) -> None:
    """Seen from the side that the grain points to, the arris and its edge show what the arch shows in all."""
    fields = {"length": 620, "width": 100, "thickness": 22, "arch": {"rise": 35}, "grain": grain}
    sharp, eased = faces_of(fields), faces_of({**fields, "arris": "roundover 4"})
    seen = sum(eased[face].area_mm2 * eased[face].end_grain for face in ("bottom-edge", "arrises"))
    if grain == "width":
        # from below: as much as the sharp edge, and the two upper arrises' 2·4·620
        expected = sharp["bottom-edge"].area_mm2 * sharp["bottom-edge"].end_grain + 2 * 4 * 620
    else:
        # from both ends: the section at mid length less what is left of it at the end
        at_end = (eased["ends"].area_mm2 - 2 * (2200 - 2 * (1 - math.pi / 4) * 16)) / 2
        at_middle = 22 * 35 + 2 * (1 - math.pi / 4) * 16
        expected = 2 * (at_middle + at_end)
    assert seen == pytest.approx(expected, rel=1e-9)


# --- properties ------------------------------------------------------------------------------------------------------


@st.composite
def boards(draw: st.DrawFn) -> Fields:
    """Boards of every kind that can be made."""
    length, width, thickness = draw(st.floats(100, 3000)), draw(st.floats(20, 400)), draw(st.floats(6, 60))
    fields: Fields = {"length": length, "width": width, "thickness": thickness}
    kind = draw(st.sampled_from(["straight", "arch", "taper", "bend", "bent taper"]))
    if kind == "arch":
        fields["arch"] = {"rise": draw(st.floats(0.01, 0.4)) * min(width, length / 2)}
    if "taper" in kind:
        fields["taper"] = {"to": width * draw(st.floats(0.4, 1.0))}
    if "ben" in kind:
        fields["radius"] = max(2 * thickness, length * draw(st.floats(0.2, 3)))
    size = min(width, thickness) * draw(st.floats(0.01, 0.1))
    if draw(st.booleans()):
        fields["arris"] = f"{draw(st.sampled_from(['roundover', 'chamfer']))} {size:.4f}"
    faces = draw(st.lists(st.sampled_from(["front", "back", "top-edge"]), unique=True, max_size=3))
    groove = min(width, thickness) / 12
    fields["grooves"] = [{"face": face, "width": groove, "depth": groove} for face in faces]
    return fields


def _scaled(value: Any, k: float) -> Any:
    if isinstance(value, dict):
        return {name: _scaled(one, k) for name, one in value.items()}
    if isinstance(value, list):
        return [_scaled(one, k) for one in value]
    if isinstance(value, str) and " " in value:
        name, size = value.split(" ")
        return f"{name} {float(size) * k!r}"
    return value * k if isinstance(value, float) else value


@given(fields=boards(), k=st.floats(0.1, 10))
def test_areas_grow_with_the_square_of_the_size(fields: Fields, k: float) -> None:
    one, other = faces_of(fields), faces_of(_scaled(fields, k))
    for name, face in one.items():
        assert other[name].area_mm2 == pytest.approx(k**2 * face.area_mm2, rel=1e-9)
        assert other[name].end_grain == pytest.approx(face.end_grain, abs=1e-9)


@given(fields=boards())
def test_units_never_matter(fields: Fields) -> None:
    one, other = faces_of(fields), faces_of(_scaled(fields, 1 / 25.4), lengths="in")
    for name, face in one.items():
        assert other[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-9)


@given(fields=boards())
def test_a_groove_adds_its_walls(fields: Fields) -> None:
    """In all, a groove in the top edge of a flat board adds two walls and takes its section off both ends."""
    assume("radius" not in fields and not any(groove["face"] == "top-edge" for groove in fields["grooves"]))
    wide = deep = min(fields["width"], fields["thickness"]) / 9
    more = {**fields, "grooves": [*fields["grooves"], {"face": "top-edge", "width": wide, "depth": deep}]}
    added = 2 * deep * fields["length"] - 2 * wide * deep
    assert total(faces_of(more)) == pytest.approx(total(faces_of(fields)) + added, rel=1e-9)


@given(fields=boards())
def test_everything_is_a_share_or_an_area(fields: Fields) -> None:
    for face in faces_of(fields).values():
        assert face.area_mm2 > 0
        assert 0 <= face.end_grain <= 1


@given(length=SIZE, width=SIZE, thickness=SIZE)
def test_a_plain_board_is_a_box(length: float, width: float, thickness: float) -> None:
    faces = faces_of({"length": length, "width": width, "thickness": thickness})
    assert total(faces) == pytest.approx(2 * (length * width + length * thickness + width * thickness))


@given(fields=boards(), share=st.floats(0.1, 0.9))
def test_a_board_cut_in_two_shows_two_more_ends(fields: Fields, share: float) -> None:
    assume("arch" not in fields and "taper" not in fields)
    length = fields["length"]
    assume(length * min(share, 1 - share) > 1)
    whole = faces_of(fields)
    pieces = [faces_of({**fields, "length": length * part}) for part in (share, 1 - share)]
    assert sum(total(piece) for piece in pieces) == pytest.approx(total(whole) + whole["ends"].area_mm2, rel=1e-9)


@pytest.mark.parametrize("arris", [None, "roundover 3", "chamfer 3"])
def test_a_vanishing_arch_taper_or_bend_leaves_a_straight_board(arris: str | None) -> None:
    fields: Fields = {"length": 620, "width": 100, "thickness": 22}
    if arris:
        fields["arris"] = arris
    straight = faces_of(fields)
    for bent, tolerance in (
        ({"arch": {"rise": 0.002}}, 1e-4),
        ({"radius": 99_000}, 3e-4),
        ({"taper": {"to": 100}}, 1e-12),
        ({"taper": {"to": 100}, "radius": 99_000}, 3e-4),
    ):
        for name, face in faces_of({**fields, **bent}).items():
            assert face.area_mm2 == pytest.approx(straight[name].area_mm2, rel=tolerance), (bent, name)
            assert face.end_grain == pytest.approx(straight[name].end_grain, abs=1e-4), (bent, name)


def test_a_wide_bend_of_a_taper_tends_to_the_flat_taper() -> None:
    fields: Fields = {"length": 620, "width": 100, "thickness": 22, "taper": {"to": 60}, "arris": "roundover 3"}
    fields["grooves"] = [{"face": "bottom-edge", "width": 4, "depth": 6}, {"face": "back", "width": 4, "depth": 6}]
    flat = faces_of(fields)
    for name, face in faces_of({**fields, "radius": 99_000}).items():
        assert face.area_mm2 == pytest.approx(flat[name].area_mm2, rel=3e-4), name
        assert face.end_grain == pytest.approx(flat[name].end_grain, abs=1e-4), name


# --- what cannot be --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"arch": {"rise": 10}, "taper": {"to": 50}}, "an arch together with a taper"),
        ({"arch": {"rise": 10}, "radius": 500}, "an arch together with a bend"),
        ({"arch": {"rise": 10}, "grooves": [{"face": "bottom-edge", "width": 3, "depth": 3}]}, "groove in an arched"),
        ({"arch": {"rise": 100}}, "rises 100 mm in a board 100 mm wide"),
        ({"arch": {"rise": 98}, "arris": "roundover 2"}, "arrises of 2 mm meet in a side of 2 mm"),
        ({"taper": {"to": 3}, "arris": "chamfer 2"}, "arrises of 2 mm meet in a side of 3 mm"),
        ({"arris": "roundover 12"}, "arrises of 12 mm meet in a side of 22 mm; expected at most 11 mm"),
        ({"radius": 22}, "not wider than the board's 22 mm"),
        ({"radius": 90}, "runs more than once round"),
        ({"grooves": [{"face": "front", "width": 4, "depth": 22}]}, "22 mm deep in 22 mm of wood"),
        (
            {"grooves": [{"face": face, "width": 60, "depth": 12} for face in ("front", "back")]},
            "cut through: 12 and 12 mm deep in 22 mm",
        ),
        ({"grooves": [{"face": "front", "width": 101, "depth": 2}]}, "take 101 mm of 100 mm"),
    ],
)
def test_what_cannot_be_made_is_refused_with_figures(fields: Fields, said: str) -> None:
    assert said in refused({"length": 620, "width": 100, "thickness": 22, **fields})
