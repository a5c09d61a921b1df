"""Turned parts as solids of revolution, for ``cad_panels_and_turnings.py``, which says what it needs."""

# mypy: ignore-errors
# The kernel's binding has no types, and the project's environment does not have it at all.

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from cad_kernel import Vector, areas, box, near
from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.Geom import Geom_BezierCurve
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt
from OCP.OCP.collections import Array1_gp_Pnt
from scipy.interpolate import PchipInterpolator

Case = tuple[dict[str, Any], Callable[[dict[str, Any]], dict[str, float]]]


def turning(fields: dict[str, Any]) -> dict[str, float]:
    solids, place = [], 0.0
    steps = []
    for element in fields["elements"]:
        ((kind, size),) = element.items()
        length = size["length"] if "length" in size else size["points"][-1][0]
        if kind == "block":
            side = size["side"]
            solids.append(box(-side / 2, -side / 2, place, side, side, length))
        else:
            solids.append(revolved(kind, size, place, length))
        place += length
        steps.append(place)
    solid = solids[0]
    for other in solids[1:]:
        solid = BRepAlgoAPI_Fuse(solid, other).Shape()

    def sort(point: Vector, normal: Vector) -> str:
        if near(abs(normal[2]), 1):
            if near(point[2], 0):
                return "top-end"
            if near(point[2], place):
                return "foot-end"
            if any(near(point[2], step) for step in steps):
                return "shoulders"
        flat = max(abs(normal[0]), abs(normal[1]))
        across = max(abs(point[0]), abs(point[1]))
        sides = [e["block"]["side"] / 2 for e in fields["elements"] if "block" in e]
        return "blocks" if near(flat, 1) and any(near(across, half) for half in sides) else "turning"

    return areas(solid, sort)


def revolved(kind: str, size: dict[str, Any], place: float, length: float) -> Any:
    top, foot = {
        "cylinder": lambda: (size["diameter"], size["diameter"]),
        "fillet": lambda: (size["diameter"], size["diameter"]),
        "taper": lambda: (size["from"], size["to"]),
        "bead": lambda: (size["neck"], size["neck"]),
        "cove": lambda: (size["rim"], size["rim"]),
        "curve": lambda: (size["points"][0][1], size["points"][-1][1]),
    }[kind]()
    start, end = gp_Pnt(top / 2, 0, place), gp_Pnt(foot / 2, 0, place + length)
    if kind in ("bead", "cove"):
        middle = gp_Pnt(size["diameter"] / 2, 0, place + length / 2)
        sides = [BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, middle, end).Value()).Edge()]
    elif kind == "curve":
        sides = [BRepBuilderAPI_MakeEdge(curve).Edge() for curve in pchip(size["points"], place)]
    else:
        sides = [BRepBuilderAPI_MakeEdge(start, end).Edge()]
    low, high = gp_Pnt(0, 0, place), gp_Pnt(0, 0, place + length)
    maker = BRepBuilderAPI_MakeWire()
    maker.Add(BRepBuilderAPI_MakeEdge(low, start).Edge())
    for side in sides:
        maker.Add(side)
    maker.Add(BRepBuilderAPI_MakeEdge(end, high).Edge())
    maker.Add(BRepBuilderAPI_MakeEdge(high, low).Edge())
    return BRepPrimAPI_MakeRevol(
        BRepBuilderAPI_MakeFace(maker.Wire()).Face(), gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    ).Shape()


def pchip(points: list[list[float]], place: float) -> list[Any]:
    """Return the spans of scipy's interpolator as Bézier curves of the radius along the axis."""
    along, across = zip(*points, strict=True)
    slopes = PchipInterpolator(along, across).derivative()(along)
    curves = []
    for k in range(len(points) - 1):
        width = along[k + 1] - along[k]
        radii = (
            across[k] / 2,
            across[k] / 2 + slopes[k] * width / 6,
            across[k + 1] / 2 - slopes[k + 1] * width / 6,
            across[k + 1] / 2,
        )
        array = Array1_gp_Pnt(1, 4)
        for index, radius in enumerate(radii):
            array.SetValue(index + 1, gp_Pnt(radius, 0, place + along[k] + width * index / 3))
        curves.append(Geom_BezierCurve(array))
    return curves


def turnings() -> dict[str, Case]:
    block = {"block": {"side": 70, "length": 130}}
    legs = {
        "leg of the example": [
            block,
            {"fillet": {"diameter": 52, "length": 8}},
            {"bead": {"diameter": 64, "neck": 48, "length": 22}},
            {"cove": {"diameter": 40, "rim": 48, "length": 18}},
            {"curve": {"points": [[0, 48], [150, 62], [420, 36]]}},
            {"taper": {"from": 36, "to": 30, "length": 102}},
        ],
        "round partly wider than the square": [block, {"cylinder": {"diameter": 85, "length": 40}}, block],
        "round wholly wider than the square": [{"cylinder": {"diameter": 120, "length": 40}}, block],
        "squares": [{"block": {"side": 50, "length": 60}}, block, {"block": {"side": 40.5, "length": 20}}],
        "half circles": [
            {"bead": {"diameter": 60, "neck": 40, "length": 20}},
            {"cove": {"diameter": 30, "rim": 40, "length": 10}},
        ],
        "flat arcs": [
            {"bead": {"diameter": 40.01, "neck": 40, "length": 300}},
            {"cove": {"diameter": 39.9, "rim": 40, "length": 300}},
        ],
        "wavy curve": [{"curve": {"points": [[0, 20], [30, 60], [45, 60], [80, 25], [81, 50], [200, 34]]}}],
    }
    return {name: ({"shape": "turned", "elements": elements}, turning) for name, elements in legs.items()}
