"""The areas of what is drawn are the areas that are computed: one geometry gives both."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from finplan.drawing import part_drawing
from finplan.geometry import Outline, Subpath, outline_of
from finplan.surface.part import bare_faces
from tests.drawing.demo_parts import DEMO, part_of
from tests.drawing.read_svg import Drawn, read

PANELS = ["round table top", "ring", "ellipse", "bench seat", "plaque", "stadium", "hexagon", "triangle", "corner desk",
          "curved foot", "crest rail",
          "token"]  # fmt: skip
ROUNDING_MM = 0.001
"""What a coordinate is rounded to on paper."""


def drawn(fields: dict[str, Any]) -> Drawn:
    return read(part_drawing("part", part_of(fields), "metric"))


def areas_mm2(fields: dict[str, Any]) -> dict[str, float]:
    return {face.face: face.area_mm2 for face in bare_faces(part_of(fields))}


def outline(path: Subpath) -> Outline:
    return outline_of(path, 1.0, 0j)


def close_to(area_mm2: float, path: Subpath, factor: float) -> Any:
    """The area within what rounding on paper does to the outline."""
    return pytest.approx(area_mm2, abs=ROUNDING_MM * outline(path).perimeter_mm / factor**2)


@pytest.mark.parametrize("name", PANELS)
def test_plan_of_a_panel(name: str) -> None:
    fields = DEMO[name][1]
    seen, areas = drawn(fields), areas_mm2(fields)
    factor = seen.factor("plan")
    outer = seen.paths("outline")[0][0]
    square = {key: value for key, value in fields.items() if key not in ("edge", "hole")}
    if fields["shape"] != "outline":
        assert outline(outer).area_mm2 / factor**2 == close_to(areas_mm2(square)["top"], outer, factor)
    flat = seen.paths("visible")
    top = flat[0][0] if flat else outer
    holes = [path for found in seen.paths("outline")[1:-1] for path in found]
    area = outline(top).area_mm2 - math.fsum(outline(hole).area_mm2 for hole in holes)
    # A curve that is set back is drawn as cubics, right to some 1e-5 of its length.
    assert area / factor**2 == pytest.approx(areas["top"], rel=2e-4)


def test_section_of_the_edge_sweeps_the_face_edge() -> None:
    fields = DEMO["round table top"][1]
    seen = drawn(fields)
    factor = seen.factor("section")
    section = outline(seen.paths("outline")[-1][0])
    right = max(link.at(t).real for link in section.links for t in (0.0, 1.0))
    left = min(link.at(t).real for link in section.links for t in (0.0, 1.0))
    heights = [link.at(t).imag for link in section.links for t in (0.0, 1.0)]
    swept = 0.0
    for link in section.links:
        ends = link.at(0.0), link.at(1.0)
        flat = abs(ends[0].imag - ends[1].imag) < 1e-9 and ends[0].imag in (min(heights), max(heights))
        if flat or abs(ends[0].real - left) + abs(ends[1].real - left) < 1e-9:
            continue  # the faces above and below, and the break
        # Pappus and Guldin: the length times the way of its middle, in small steps.
        points = [link.at(index / 200) for index in range(201)]
        for a, b in pairwise(points):
            radius = 550 + ((a + b).real / 2 - right) / factor
            swept += 2 * math.pi * radius * abs(b - a) / factor
    assert swept == pytest.approx(areas_mm2(fields)["edge"], rel=2e-4)


def _swept_mm2(path: Subpath, factor: float) -> float:
    """Both halves of a silhouette turned by half a circle about its middle, without the flat ends."""
    whole = outline(path)
    points = [link.at(t).imag for link in whole.links for t in (0.0, 1.0)]
    axis = (min(points) + max(points)) / 2
    xs = [link.at(t).real for link in whole.links for t in (0.0, 1.0)]
    total = 0.0
    for link in whole.links:
        if abs(link.at(0.0).real - link.at(1.0).real) < 1e-6 and link.at(0.0).real in (min(xs), max(xs)):
            continue
        steps = [link.at(index / 100) for index in range(101)]
        total += sum(math.pi * abs((a + b).imag / 2 - axis) * abs(b - a) for a, b in pairwise(steps))
    return total / factor**2


@pytest.mark.parametrize(
    "elements",
    [
        [{"cylinder": {"diameter": 40, "length": 300}}],
        [{"taper": {"from": 60, "to": 20, "length": 200}}],
        [{"bead": {"diameter": 64, "neck": 48, "length": 22}}],
        [{"bead": {"diameter": 60, "neck": 20, "length": 40}}],
        [{"cove": {"diameter": 40, "rim": 48, "length": 18}}],
        [{"curve": {"points": [[0, 48], [150, 62], [300, 30], [420, 36]]}}],
        [
            {"cylinder": {"diameter": 30, "length": 20}},
            {"bead": {"diameter": 50, "neck": 40, "length": 20}},
            {"cove": {"diameter": 20, "rim": 36, "length": 30}},
            {"curve": {"points": [[0, 36], [60, 50], [200, 25]]}},
        ],
    ],
    ids=["cylinder", "taper", "bead", "half round bead", "cove", "curve", "all of them, with shoulders"],
)
def test_silhouette_sweeps_the_turning_and_its_shoulders(elements: list[dict[str, Any]]) -> None:
    fields = {"shape": "turned", "elements": elements}
    seen, areas = drawn(fields), areas_mm2(fields)
    path = seen.paths("outline")[0][0]
    expected = areas["turning"] + areas.get("shoulders", 0.0)
    assert _swept_mm2(path, seen.factor("from the side")) == pytest.approx(expected, rel=3e-4)


BOARDS: list[dict[str, Any]] = [
    {},
    {"taper": {"to": 60}},
    {"arch": {"rise": 30}},
    {"radius": 420},
    {"arris": "roundover 3"},
    {"arris": "chamfer 4", "arch": {"rise": 30}},
    {"arris": "chamfer 4", "taper": {"to": 60}},
]


@pytest.mark.parametrize("more", BOARDS, ids=lambda more: ", ".join(more) or "plain")
def test_front_of_a_board(more: dict[str, Any]) -> None:
    fields = {"shape": "board", "length": 500, "width": 110, "thickness": 20, **more}
    seen = drawn(fields)
    factor = seen.factor("front")
    number = 1 if "radius" in more else 0
    path = (seen.paths("visible")[0] if "arris" in more else seen.paths("outline")[number])[0]
    assert outline(path).area_mm2 / factor**2 == close_to(areas_mm2(fields)["front"], path, factor)


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"arris": "roundover 3"},
        {"arris": "chamfer 3", "grooves": [{"face": "front", "width": 6, "depth": 8}]},
        {
            "grooves": [
                {"face": "back", "width": 4, "depth": 9},
                {"face": "back", "width": 8, "depth": 5},
                {"face": "front", "width": 5, "depth": 7},
                {"face": "top-edge", "width": 6, "depth": 8},
                {"face": "bottom-edge", "width": 7, "depth": 9},
            ]
        },
    ],
    ids=["plain", "rounded", "chamfered with a groove", "grooves all round"],
)
def test_near_end_of_a_board(more: dict[str, Any]) -> None:
    fields = {"shape": "board", "length": 500, "width": 110, "thickness": 20, **more}
    seen = drawn(fields)
    factor = seen.factor("near end")
    path = seen.paths("outline")[-1][0]
    assert outline(path).area_mm2 / factor**2 == close_to(areas_mm2(fields)["ends"] / 2, path, factor)


def test_plan_of_a_bent_board() -> None:
    fields = {"shape": "board", "length": 480, "width": 90, "thickness": 18, "radius": 420}
    seen = drawn(fields)
    factor = seen.factor("from above")
    path = seen.paths("outline")[0][0]
    assert outline(path).area_mm2 / factor**2 == close_to(areas_mm2(fields)["top-edge"], path, factor)


@pytest.mark.parametrize("name", ["cornice", "half round"])
def test_section_of_a_moulding(name: str) -> None:
    fields = DEMO[name][1]
    seen = drawn(fields)
    factor = seen.factor("section")
    path = seen.paths("outline")[0][0]
    assert outline(path).area_mm2 / factor**2 == close_to(areas_mm2(fields)["ends"] / 2, path, factor)


def _four_sides(side: float, to: float, straight: float, length: float) -> float:
    return side * straight + (side + to) / 2 * (length - straight)


@pytest.mark.parametrize("sides", ["two", "four"])
def test_side_of_a_square_leg(sides: str) -> None:
    # By hand: a rectangle, and below it a trapezium, whichever of its sides slope.
    taper = {"to": 25, "from-length": 120, "sides": sides}
    seen = drawn({"shape": "square-leg", "side": 45, "length": 720, "taper": taper})
    factor = seen.factor("from the side")
    path = seen.paths("outline")[0][0]
    assert outline(path).area_mm2 / factor**2 == close_to(_four_sides(45, 25, 120, 720), path, factor)


def test_sections_of_a_rod_and_of_both_ends_of_a_leg() -> None:
    rod = {"shape": "rod", "diameter": 20, "length": 2400}
    leg = {"shape": "square-leg", "side": 45, "length": 720, "taper": {"to": 25}}
    checks: list[tuple[dict[str, Any], Callable[[dict[str, float]], list[float]]]] = [
        (rod, lambda areas: [areas["ends"] / 2]),
        (leg, lambda areas: [areas["top-end"], areas["foot-end"]]),
    ]
    for fields, expected in checks:
        seen = drawn(fields)
        factor = seen.factor("section")
        wanted = expected(areas_mm2(fields))
        for area, found in zip(wanted, seen.paths("outline")[-len(wanted) :], strict=True):
            assert outline(found[0]).area_mm2 / factor**2 == close_to(area, found[0], factor)
