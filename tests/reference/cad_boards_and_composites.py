"""Areas of boards, legs, mouldings and composites by a solid modelling kernel, for the tests to compare with.

It needs the kernel's Python binding (the package cadquery-ocp), which the project itself does not; run by hand:

    python tests/reference/cad_boards_and_composites.py > tests/reference/cad_boards_and_composites.json

Every part is built as a maker builds it - a block, cut, eased with the kernel's own fillets and chamfers, boards fused
together - and every face of the finished solid is sorted by where it lies and which way it looks. Axes: x along the
length (or the width of a composite), y from front to back, z upwards.
"""

# mypy: ignore-errors
# The kernel's binding has no types, and the project's environment does not have it at all.

from __future__ import annotations

import json
import math
import sys
from collections.abc import Callable
from importlib.metadata import version
from typing import Any

from cad_kernel import CLOSE, Vector, areas, box, cut, ease, fuse, fused, near, polygon, prism
from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

# --- boards: x along, y from front (0) to back, z from the bottom edge's lowest line (0) to the top edge ------------


def board_sort(length: float, width: float, thickness: float) -> Callable[[Vector, Vector], str]:
    def sort(point: Vector, normal: Vector) -> str:
        if near(abs(normal[0]), 1) and (near(point[0], 0) or near(point[0], length)):
            return "ends"
        if near(normal[1], -1) and near(point[1], 0):
            return "front"
        if near(normal[1], 1) and near(point[1], thickness):
            return "back"
        if near(normal[2], 1) and near(point[2], width):
            return "top-edge"
        return "bottom-edge"

    return sort


def with_arrises(sort: Callable[[Vector, Vector], str]) -> Callable[[Vector, Vector], str]:
    """What leans both to the front or back and to an edge is an arris."""

    def wrapped(point: Vector, normal: Vector) -> str:
        leaning = abs(normal[1])
        return "arrises" if 0.1 < leaning < 0.9 else sort(point, normal)

    return wrapped


def lengthwise(one: Vector, _: Vector, other: Vector) -> bool:
    return abs(one[0] - other[0]) > 1 and near(one[1], other[1])


def straight(arris: str, size: float) -> dict[str, Any]:
    shape = ease(box(0, 0, 0, 620, 22, 100), arris, size, lengthwise)
    return areas(shape, with_arrises(board_sort(620, 100, 22)))


def arched(rise: float, arris: tuple[str, float] | None) -> dict[str, Any]:
    length, width, thickness = 620.0, 100.0, 22.0
    radius = (length**2 / 4 + rise**2) / (2 * rise)
    axis = gp_Ax2(gp_Pnt(length / 2, -50, rise - radius), gp_Dir(0, 1, 0))
    shape = cut(box(0, 0, 0, length, thickness, width), BRepPrimAPI_MakeCylinder(axis, radius, 200).Shape())
    sort = board_sort(length, width, thickness)
    if arris:
        shape = ease(shape, *arris, lengthwise)
        sort = with_arrises(sort)
    return areas(shape, sort)


def tapered(to: float, arris: tuple[str, float] | None, groove: tuple[float, float] | None = None) -> dict[str, Any]:
    length, width, thickness = 620.0, 100.0, 22.0
    fall = width - to
    shape = prism([(0, 0, 0), (length, 0, fall), (length, 0, width), (0, 0, width)], (0, thickness, 0))
    sort = board_sort(length, width, thickness)
    if arris:
        shape = ease(shape, *arris, lengthwise)
        sort = with_arrises(sort)
    if groove is None:
        return areas(shape, sort)
    wide, deep = groove
    slant = math.hypot(length, fall) / length  # a depth square to the slope, measured upwards
    up = deep * slant
    tool = prism(
        [(-100, 0, -100 * fall / length - 50), (length + 100, 0, fall + 100 * fall / length - 50),
         (length + 100, 0, fall + 100 * fall / length + up), (-100, 0, -100 * fall / length + up)],
        (0, wide, 0),
    )  # fmt: skip
    move = gp_Trsf()
    move.SetTranslation(gp_Vec(0, (thickness - wide) / 2, 0))
    shape = cut(shape, BRepBuilderAPI_Transform(tool, move).Shape())

    def grooved(point: Vector, normal: Vector) -> str:
        name = sort(point, normal)
        if name == "bottom-edge":
            above = point[2] - point[0] * fall / length
            inside = (thickness - wide) / 2 - CLOSE < point[1] < (thickness + wide) / 2 + CLOSE
            return "grooves" if inside and above > CLOSE else name
        return name

    return areas(shape, grooved)


def grooved(face: str, wide: float, deep: float) -> dict[str, Any]:
    shape = cut(box(0, 0, 0, 620, 22, 100), box(-1, 22 - deep, 40, 622, deep + 1, wide))
    sort = board_sort(620, 100, 22)

    def sorted_too(point: Vector, normal: Vector) -> str:
        name = sort(point, normal)
        return "grooves" if name == "bottom-edge" and point[2] > 1 else name

    return areas(shape, sorted_too)


def bent(radius: float, arris: tuple[str, float] | None, grooves: list[dict[str, Any]]) -> dict[str, Any]:
    """The section, from y = radius - 22 to y = radius (the front), turned about the z axis."""
    length, width, thickness = 620.0, 100.0, 22.0
    angle = length / radius
    inner = radius - thickness
    face = BRepBuilderAPI_MakeFace(
        polygon([(0, inner, 0), (0, radius, 0), (0, radius, width), (0, inner, width)])
    ).Face()
    axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    shape = BRepPrimAPI_MakeRevol(face, axis, angle).Shape()
    if arris:
        shape = ease(shape, *arris, lambda one, _, other: near(one[2], other[2]) and not near(
            math.hypot(one[0] - other[0], one[1] - other[1]), thickness))  # fmt: skip
    for groove in grooves:
        wide, deep = groove["width"], groove["depth"]
        if groove["face"] == "front":
            corners = [
                (radius - deep, 30.0),
                (radius + 1, 30.0),
                (radius + 1, 30.0 + wide),
                (radius - deep, 30.0 + wide),
            ]
        elif groove["face"] == "back":
            corners = [(inner - 1, 60.0), (inner + deep, 60.0), (inner + deep, 60.0 + wide), (inner - 1, 60.0 + wide)]
        else:
            middle = radius - thickness / 2
            low, high = middle - wide / 2, middle + wide / 2
            corners = [(low, width - deep), (high, width - deep), (high, width + 1), (low, width + 1)]
        tool = BRepBuilderAPI_MakeFace(polygon([(0, y, z) for y, z in corners])).Face()
        shape = cut(shape, BRepPrimAPI_MakeRevol(tool, axis, angle).Shape())

    def sort(point: Vector, normal: Vector) -> str:
        r = math.hypot(point[0], point[1])
        outward = (point[0] * normal[0] + point[1] * normal[1]) / r
        if near(normal[2], 1) and near(point[2], width):
            return "top-edge"
        if near(normal[2], -1) and near(point[2], 0):
            return "bottom-edge"
        if near(outward, 1) and near(r, radius):
            return "front"
        if near(outward, -1) and near(r, inner):
            return "back"
        if 0.1 < abs(outward) < 0.9:
            return "arrises"
        return "ends" if near(normal[2], 0) and near(outward, 0) and _at_end(point, normal) else "grooves"

    def _at_end(point: Vector, normal: Vector) -> bool:
        # an end's plane holds the axis, and its normal goes round it
        along = (-point[1] * normal[0] + point[0] * normal[1]) / math.hypot(point[0], point[1])
        return near(abs(along), 1)

    return areas(shape, sort)


# --- legs and mouldings ----------------------------------------------------------------------------------------------


def leg(side: float, to: float, start: float, length: float, sides: str) -> dict[str, Any]:
    def square(size: float, z: float) -> Any:
        low = (side - size) / 2 if sides == "four" else 0.0
        return polygon([(low, low, z), (low + size, low, z), (low + size, low + size, z), (low, low + size, z)])

    maker = BRepOffsetAPI_ThruSections(True, True, 1e-9)
    maker.AddWire(square(side, -start))
    maker.AddWire(square(to, -length))
    maker.Build()
    shape = fuse(box(0, 0, -start, side, side, start), maker.Shape())

    def sort(point: Vector, normal: Vector) -> str:
        if near(normal[2], 1):
            return "top-end"
        return "foot-end" if near(normal[2], -1) else "sides"

    return areas(shape, sort)


def moulding(steps: list[Any], through: list[Any], length: float) -> dict[str, Any]:
    """Points, with for each arc a point half way along it in *through*, worked out by hand."""
    wire = BRepBuilderAPI_MakeWire()
    points = [gp_Pnt(0, *step) for step in steps]
    for start, end, middle in zip(points, points[1:], through, strict=False):
        if middle is None:
            wire.Add(BRepBuilderAPI_MakeEdge(start, end).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, gp_Pnt(0, *middle), end).Value()).Edge())
    wire.Add(BRepBuilderAPI_MakeEdge(points[-1], points[0]).Edge())
    face = BRepBuilderAPI_MakeFace(wire.Wire()).Face()
    shape = BRepPrimAPI_MakePrism(face, gp_Vec(length, 0, 0)).Shape()
    (y0, z0), (y1, z1) = steps[0], steps[-1]

    def sort(point: Vector, normal: Vector) -> str:
        if near(abs(normal[0]), 1):
            return "ends"
        off = (y1 - y0) * (point[2] - z0) - (z1 - z0) * (point[1] - y0)
        along = (y1 - y0) * normal[1] + (z1 - z0) * normal[2]
        return "back" if abs(off) < CLOSE and abs(along) < CLOSE else "face"

    return areas(shape, sort)


# --- composites: x along the width, y from the front (0) to the rear, z upwards --------------------------------------


def carcase(wide: float, high: float, deep: float, thick: float, back: float, shelves: int, closed: bool) -> Any:
    clear = wide - 2 * thick
    at_front = thick if closed else 0.0
    boards = [
        box(0, 0, 0, thick, deep, high),
        box(wide - thick, 0, 0, thick, deep, high),
        box(thick, 0, 0, clear, deep, thick),
        box(thick, 0, high - thick, clear, deep, thick),
    ]
    if back:
        boards.append(box(thick, deep - back, thick, clear, back, high - 2 * thick))
    if closed:
        boards.append(box(thick, 0, thick, clear, thick, high - 2 * thick))
    levels = [thick + (high - 2 * thick) * (n + 1) / (shelves + 1) for n in range(shelves)]
    boards += [box(thick, at_front, z, clear, deep - back - at_front, thick) for z in levels]
    shape = fused(boards)

    def sort(point: Vector, normal: Vector) -> str:
        x, y, z = point
        if near(y, 0) and near(normal[1], -1):
            on_board = closed and thick < x < wide - thick and thick < z < high - thick
            return "outside" if on_board else "edges"
        if near(y, deep) and near(normal[1], 1):
            return "rear"
        outer = (x, wide - x, z, high - z)
        if any(near(distance, 0) for distance in outer) and not near(abs(normal[1]), 1):
            return "outside"
        on_shelf = any(near(z, level) or near(z, level + thick) for level in levels)
        return "shelves" if on_shelf and near(abs(normal[2]), 1) else "inside"

    return areas(shape, sort)


def drawer(wide: float, high: float, deep: float, thick: float, bottom: float) -> dict[str, Any]:
    clear = wide - 2 * thick
    boards = [
        box(0, 0, 0, wide, thick, high),
        box(0, thick, 0, thick, deep - thick, high),
        box(wide - thick, thick, 0, thick, deep - thick, high),
        box(thick, deep - thick, 0, clear, thick, high),
        box(thick, thick, 0, clear, deep - 2 * thick, bottom),
    ]
    shape = fused(boards)

    def sort(point: Vector, normal: Vector) -> str:
        x, y, z = point
        if near(y, 0) and near(normal[1], -1):
            return "front"
        in_plan = thick < x < wide - thick and thick < y < deep - thick
        if near(abs(normal[2]), 1) and not in_plan:
            return "edges"
        return "outside" if near(x, 0) or near(x, wide) or near(y, deep) or near(z, 0) else "inside"

    return areas(shape, sort)


def door(wide: float, high: float, thick: float, stile: float, rail: float, panel: float, raised: Any) -> Any:
    clear_wide, clear_high, recess = wide - 2 * stile, high - 2 * rail, (thick - panel) / 2
    frame = cut(box(0, 0, 0, wide, thick, high), box(stile, -1, rail, clear_wide, thick + 2, clear_high))
    board = box(stile, recess, rail, clear_wide, panel, clear_high)
    if raised:
        slope, fall = raised
        for z, inward in ((rail, slope), (high - rail, -slope)):
            wedge = [(0, recess, z), (0, recess + fall, z), (0, recess, z + inward)]
            board = cut(board, prism([(stile, y, zz) for _, y, zz in wedge], (clear_wide, 0, 0)))
        for x, inward in ((stile, slope), (wide - stile, -slope)):
            wedge = [(x, recess, 0), (x, recess + fall, 0), (x + inward, recess, 0)]
            board = cut(board, prism([(xx, y, rail) for xx, y, _ in wedge], (0, 0, clear_high)))
    shape = BRepAlgoAPI_Fuse(frame, board).Shape()

    def sort(point: Vector, normal: Vector) -> str:
        x, y, z = point
        if any(near(distance, 0) for distance in (x, wide - x, z, high - z)) and not near(abs(normal[1]), 1):
            return "edges"
        return "front" if y < thick / 2 else "back"

    return areas(shape, sort)


def board(**fields: Any) -> dict[str, Any]:
    return {"shape": "board", "length": 620, "width": 100, "thickness": 22, **fields}


def cases() -> dict[str, tuple[dict[str, Any], dict[str, float]]]:
    bend = {"radius": 450}
    many = [
        {"face": "front", "width": 6, "depth": 7},
        {"face": "back", "width": 5, "depth": 4},
        {"face": "top-edge", "width": 4, "depth": 9},
    ]
    cornice = [[0, 0], [18, 0], {"arc": [30, 12], "rise": -3.5}, {"arc": [30, 20], "rise": 4}, [0, 20]]
    half = math.sqrt(0.5) * 3.5
    leg_fields = {"shape": "square-leg", "side": 45, "length": 720}
    carcase_fields = {"shape": "carcase", "width": 800, "height": 1200, "depth": 300, "thickness": 20}
    door_fields = {"shape": "door", "width": 400, "height": 600, "thickness": 20, "frame": {"stile": 60, "rail": 80}}
    return {
        "roundover": (board(arris="roundover 4"), straight("roundover", 4)),
        "chamfer": (board(arris="chamfer 3"), straight("chamfer", 3)),
        "groove": (board(grooves=[{"face": "back", "width": 4, "depth": 9}]), grooved("back", 4, 9)),
        "arch": (board(arch={"rise": 35}), arched(35, None)),
        "arch-roundover": (board(arch={"rise": 35}, arris="roundover 4"), arched(35, ("roundover", 4))),
        "arch-chamfer": (board(arch={"rise": 50}, arris="chamfer 3"), arched(50, ("chamfer", 3))),
        "taper": (board(taper={"to": 60}), tapered(60, None)),
        "taper-roundover": (board(taper={"to": 60}, arris="roundover 4"), tapered(60, ("roundover", 4))),
        "taper-chamfer": (board(taper={"to": 30}, arris="chamfer 5"), tapered(30, ("chamfer", 5))),
        "taper-groove": (
            board(taper={"to": 60}, grooves=[{"face": "bottom-edge", "width": 6, "depth": 8}]),
            tapered(60, None, (6, 8)),
        ),
        "bend": (board(**bend), bent(450, None, [])),
        "bend-roundover": (board(**bend, arris="roundover 4"), bent(450, ("roundover", 4), [])),
        "bend-chamfer": (board(**bend, arris="chamfer 3"), bent(450, ("chamfer", 3), [])),
        "bend-grooves": (board(**bend, grooves=many), bent(450, None, many)),
        "leg-four": (
            {**leg_fields, "taper": {"to": 25, "from-length": 120, "sides": "four"}},
            leg(45, 25, 120, 720, "four"),
        ),
        "leg-two": (
            {**leg_fields, "taper": {"to": 28, "from-length": 150, "sides": "two"}},
            leg(45, 28, 150, 720, "two"),
        ),
        "cornice": (
            {"shape": "moulding", "profile": cornice, "length": 1400},
            moulding(
                [(0, 0), (18, 0), (30, 12), (30, 20), (0, 20)],
                [None, (24 - half, 6 + half), (34, 16), None],
                1400,
            ),
        ),
        "carcase-open": (
            {**carcase_fields, "back": 6, "shelves": 3},
            carcase(800, 1200, 300, 20, 6, 3, closed=False),
        ),
        "carcase-closed": (
            {**carcase_fields, "back": 6, "shelves": 2, "front": "closed"},
            carcase(800, 1200, 300, 20, 6, 2, closed=True),
        ),
        "carcase-no-back": (
            {**carcase_fields, "shelves": 2},
            carcase(800, 1200, 300, 20, 0, 2, closed=False),
        ),
        "drawer": (
            {"shape": "drawer", "width": 400, "height": 100, "depth": 300, "thickness": 12, "bottom": 6},
            drawer(400, 100, 300, 12, 6),
        ),
        "door-flat": ({**door_fields, "panel": {"thickness": 10}}, door(400, 600, 20, 60, 80, 10, None)),
        "door-raised": (
            {**door_fields, "panel": {"thickness": 14, "raised": "40 x 8"}},
            door(400, 600, 20, 60, 80, 14, (40, 8)),
        ),
    }


def main() -> None:
    made = {
        "kernel": f"cadquery-ocp-novtk {version('cadquery-ocp-novtk')}",
        "cases": {
            name: {"fields": fields, "faces_mm2": {face: float(f"{area:.13g}") for face, area in faces.items()}}
            for name, (fields, faces) in cases().items()
        },
    }
    json.dump(made, sys.stdout, indent=1)
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()
