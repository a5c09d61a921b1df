"""Areas of panels and turned parts by a solid modelling kernel, for the tests to compare with.

It needs the kernel's Python binding (the package cadquery-ocp), which the project itself does not; run by hand:

    python tests/reference/cad_panels_and_turnings.py > tests/reference/cad_panels_and_turnings.json

How the solids come about. A half plane with a profiled edge is a prism, a disc a solid of revolution. What is set back
from several borders at once is what is set back from each, so that convex panels are the intersection of those; panels
with rounded corners are fused from prisms and quarter turns; an inside corner is fused from prisms and what a full
turn leaves. Ellipses and Bézier outlines: chamfers as ruled surfaces between the outline and the kernel's
offset curve, one round-over by the kernel's rolling ball, which it approximates. Axes: x along the grain, z upwards.
"""

# mypy: ignore-errors
# The kernel's binding has no types, and the project's environment does not have it at all.

from __future__ import annotations

import json
import math
import sys
from collections.abc import Callable, Sequence
from importlib.metadata import version
from typing import Any

from cad_kernel import CLOSE, Vector, areas, box, cut, ease, near
from cad_turnings import Case, turnings
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepFill import BRepFill
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.Geom import Geom_BezierCurve, Geom_Ellipse, Geom_OffsetCurve, Geom_TrimmedCurve
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.OCP.collections import Array1_gp_Pnt

FAR = 4000.0
UP = gp_Dir(0, 0, 1)
HALF = math.sqrt(0.5)

Flat = tuple[float, float]
Run = tuple[Flat, ...]  # two points of a line, or three of an arc


# --- profiles in the plane of (set-back, height) ---------------------------------------------------------------------


def upper(text: str, thickness: float) -> list[Run]:
    """Return the runs of a profile on the upper arris, from the outline to the flat face."""
    kind, *sizes = text.replace("x", " ").split()
    r = float(sizes[0]) if sizes else 0.0
    t = thickness
    match kind:
        case "square":
            return []
        case "chamfer":
            return [((0, t - r), (r, t))]
        case "bevel":
            return [((0, t - float(sizes[1])), (r, t))]
        case "roundover":
            return [((0, t - r), (r - r * HALF, t - r + r * HALF), (r, t))]
        case "cove":
            return [((0, t - r), (r * HALF, t - r * HALF), (r, t))]
        case "ogee":
            return [
                ((0, t - 2 * r), (r * HALF, t - r - r * HALF), (r, t - r)),
                ((r, t - r), (2 * r - r * HALF, t - r + r * HALF), (2 * r, t)),
            ]
    raise ValueError(text)


def section(fields: dict[str, Any]) -> list[Run]:
    """Return the whole profile, from the lower flat face to the upper one."""
    t = fields["thickness"]
    edge = fields.get("edge", "square")
    if edge == "bullnose":
        edge = f"roundover {t / 2}"
    top, bottom = (edge.get("top", "square"), edge.get("bottom", "square")) if isinstance(edge, dict) else (edge, edge)
    above = upper(top, t)
    below = [tuple((s, t - z) for s, z in reversed(run)) for run in reversed(upper(bottom, t))]
    start = above[0][0] if above else (0.0, t)
    end = below[-1][-1] if below else (0.0, 0.0)
    middle = [(end, start)] if math.dist(start, end) > CLOSE else []
    return [*below, *middle, *above]


def face(runs: Sequence[Run], place: Callable[[float, float], Vector]) -> Any:
    maker = BRepBuilderAPI_MakeWire()
    for run in runs:
        points = [gp_Pnt(*place(*point)) for point in run]
        if len(points) == 2:
            maker.Add(BRepBuilderAPI_MakeEdge(*points).Edge())
        else:
            maker.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(*points).Value()).Edge())
    return BRepBuilderAPI_MakeFace(maker.Wire()).Face()


def kept(runs: list[Run], depth: float) -> list[Run]:
    """Close the profile on the side of the wood, *depth* from the outline."""
    (s0, z0), (s1, z1) = runs[0][0], runs[-1][-1]
    closing = [((s1, z1), (depth, z1)), ((depth, z1), (depth, z0)), ((depth, z0), (s0, z0))]
    return [*runs, *(run for run in closing if math.dist(*run) > CLOSE)]


def air(runs: list[Run]) -> list[Run]:
    """Close the profile on the other side, back to a set-back of 0: what an inside corner's full turn takes out."""
    (s0, z0), (s1, z1) = runs[0][0], runs[-1][-1]
    closing = [((s1, z1), (0.0, z1)), ((0.0, z1), (0.0, z0)), ((0.0, z0), (s0, z0))]
    return [*runs, *(run for run in closing if math.dist(*run) > CLOSE)]


def half_plane(runs: list[Run], at: Flat, inward: Flat, length: float = 2 * FAR, depth: float = FAR) -> Any:
    """Return the wood on one side of a straight border through *at*, *length* long about it."""
    nx, ny = inward
    x, y = at[0] + ny * length / 2, at[1] - nx * length / 2
    return BRepPrimAPI_MakePrism(
        face(kept(runs, depth), lambda s, z: (x + nx * s, y + ny * s, z)), gp_Vec(-ny * length, nx * length, 0)
    ).Shape()


def turned(runs: list[Run], centre: Flat, radius: float, from_rad: float = 0.0, angle: float = 2 * math.pi) -> Any:
    """Return the wood inside a round border, or a part of it."""
    c, s = math.cos(from_rad), math.sin(from_rad)
    wood = face(kept(runs, radius), lambda u, z: (centre[0] + (radius - u) * c, centre[1] + (radius - u) * s, z))
    axis = gp_Ax1(gp_Pnt(*centre, 0), UP)
    if angle > 6.28:
        return BRepPrimAPI_MakeRevol(wood, axis).Shape()
    return BRepPrimAPI_MakeRevol(wood, axis, angle).Shape()


def common(*shapes: Any) -> Any:
    whole = shapes[0]
    for shape in shapes[1:]:
        whole = BRepAlgoAPI_Common(whole, shape).Shape()
    return whole


def panel_sort(thickness: float, hole: float = 0.0) -> Callable[[Vector, Vector], str]:
    def sort(point: Vector, normal: Vector) -> str:
        if near(normal[2], 1) and near(point[2], thickness):
            return "top"
        if near(normal[2], -1) and near(point[2], 0):
            return "underside"
        return "hole" if hole and near(math.hypot(point[0], point[1]), hole / 2) else "edge"

    return sort


# --- panels ----------------------------------------------------------------------------------------------------------


def disc(fields: dict[str, Any]) -> dict[str, float]:
    t, hole = fields["thickness"], fields.get("hole", 0.0)
    solid = turned(section(fields), (0, 0), fields["diameter"] / 2)
    if hole:
        solid = cut(solid, BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), UP), hole / 2, t + 2).Shape())
    return areas(solid, panel_sort(t, hole))


def convex(runs: list[Run], corners: Sequence[Flat]) -> Any:
    """Return a convex panel with straight sides, its corners given counter-clockwise."""
    sides = []
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        sides.append(half_plane(runs, middle, (-(y1 - y0) / length, (x1 - x0) / length)))
    return common(*sides)


def rectangle(fields: dict[str, Any]) -> dict[str, float]:
    length, width, t, r = fields["length"], fields["width"], fields["thickness"], fields.get("corners", 0.0)
    x, y, runs = length / 2, width / 2, section(fields)
    if not r:
        return areas(convex(runs, [(-x, -y), (x, -y), (x, y), (-x, y)]), panel_sort(t))
    # Where the set-back is more than r the corners are sharp: that part lies in the cross of the two bars.
    wide, tall = box(-x, r - y, 0, length, width - 2 * r, t), box(r - x, -y, 0, length - 2 * r, width, t)
    sharp = convex(runs, [(-x, -y), (x, -y), (x, y), (-x, y)])
    solid = BRepAlgoAPI_Fuse(common(sharp, wide), common(sharp, tall)).Shape()
    for quarter, (cx, cy) in enumerate(((x - r, y - r), (r - x, y - r), (r - x, r - y), (x - r, r - y))):
        solid = BRepAlgoAPI_Fuse(solid, corner(runs, (cx, cy), r, quarter * math.pi / 2)).Shape()
    return areas(solid, panel_sort(t))


def corner(runs: list[Run], centre: Flat, radius: float, from_rad: float) -> Any:
    """Return a quarter of a rounded corner, as far as its radius lasts."""
    x, y = centre
    reach = max(point[0] for run in runs for point in run)
    if reach < radius:
        return turned(runs, centre, radius, from_rad, math.pi / 2)
    # The profile goes on past the centre: cut the section there before it is turned.
    t = max(point[1] for run in runs for point in run)
    c, s = math.cos(from_rad), math.sin(from_rad)
    wood = face(kept(runs, reach + 1), lambda u, z: (x + (radius - u) * c, y + (radius - u) * s, z))
    window = face(
        [
            ((0, -1), (radius, -1)),
            ((radius, -1), (radius, t + 1)),
            ((radius, t + 1), (0, t + 1)),
            ((0, t + 1), (0, -1)),
        ],
        lambda u, z: (x + (radius - u) * c, y + (radius - u) * s, z),
    )
    half = BRepAlgoAPI_Common(wood, window).Shape()
    return BRepPrimAPI_MakeRevol(half, gp_Ax1(gp_Pnt(x, y, 0), UP), math.pi / 2).Shape()


def stadium(fields: dict[str, Any]) -> dict[str, float]:
    length, width, t = fields["length"], fields["width"], fields["thickness"]
    runs, c = section(fields), (length - width) / 2
    bar = common(half_plane(runs, (0, -width / 2), (0, 1), 2 * c), half_plane(runs, (0, width / 2), (0, -1), 2 * c))
    solid = bar
    for centre, from_rad in ((c, -math.pi / 2), (-c, math.pi / 2)):
        solid = BRepAlgoAPI_Fuse(solid, turned(runs, (centre, 0), width / 2, from_rad, math.pi)).Shape()
    return areas(solid, panel_sort(t))


def polygon(fields: dict[str, Any]) -> dict[str, float]:
    n = fields["sides"]
    radius = fields.get("across-corners", 0.0) / 2 or fields["across-flats"] / 2 / math.cos(math.pi / n)
    corners = [(radius * math.cos(2 * math.pi * k / n), radius * math.sin(2 * math.pi * k / n)) for k in range(n)]
    return areas(convex(section(fields), corners), panel_sort(fields["thickness"]))


def ell(fields: dict[str, Any]) -> dict[str, float]:
    """An L of 400 x 300 with a notch of 200 x 150 in the corner away from the origin."""
    runs, t = section(fields), fields["thickness"]
    whole = convex(runs, [(0, 0), (400, 0), (400, 300), (0, 300)])
    # Two bars that end in the inside corner, and between them what its full turn leaves.
    upright = half_plane(runs, (200, 225), (-1, 0), 150)
    level = half_plane(runs, (300, 150), (0, -1), 200)
    about = BRepPrimAPI_MakeRevol(
        face(air(runs), lambda s, z: (200 - s, 150, z)), gp_Ax1(gp_Pnt(200, 150, 0), UP)
    ).Shape()
    between = cut(box(200 - FAR, 150 - FAR, 0, FAR, FAR, t), about)
    bars = BRepAlgoAPI_Fuse(BRepAlgoAPI_Fuse(upright, level).Shape(), between).Shape()
    return areas(common(whole, bars), panel_sort(t))


def half_moon(fields: dict[str, Any]) -> dict[str, float]:
    """A disc of radius 300 cut off by the line y = -100."""
    runs = section(fields)
    return areas(
        common(turned(runs, (0, 0), 300), half_plane(runs, (0, -100), (0, 1))), panel_sort(fields["thickness"])
    )


def boat(fields: dict[str, Any]) -> dict[str, float]:
    """What two discs of radius 500, 700 apart across the grain, have in common."""
    runs = section(fields)
    return areas(common(turned(runs, (0, 350), 500), turned(runs, (0, -350), 500)), panel_sort(fields["thickness"]))


# --- smooth outlines -------------------------------------------------------------------------------------------------


def bezier(*points: Flat) -> Any:
    array = Array1_gp_Pnt(1, len(points))
    for index, point in enumerate(points, start=1):
        array.SetValue(index, gp_Pnt(*point, 0))
    return Geom_BezierCurve(array)


def smooth(fields: dict[str, Any], curves: list[Any]) -> dict[str, float]:
    """A smooth outline with a chamfer or bevel above, by ruled surfaces; all counter-clockwise."""
    t = fields["thickness"]
    ((low, high),) = upper(fields["edge"]["top"], t)
    band = above = round_ = 0.0
    wire = BRepBuilderAPI_MakeWire()
    for curve in curves:
        outer = Geom_TrimmedCurve(curve, curve.FirstParameter(), curve.LastParameter())
        inner = Geom_OffsetCurve(outer, -high[0], UP)
        inner.Translate(gp_Vec(0, 0, t))
        bottom = BRepBuilderAPI_MakeEdge(outer).Edge()
        round_ += GCPnts_AbscissaPoint.Length_s(BRepAdaptor_Curve(bottom), 1e-12)
        outer = outer.Translated(gp_Vec(0, 0, low[1]))
        edges = BRepBuilderAPI_MakeEdge(outer).Edge(), BRepBuilderAPI_MakeEdge(inner).Edge()
        band += mass(BRepFill.Face_s(*edges))
        wire.Add(edges[1])
    above = mass(BRepBuilderAPI_MakeFace(wire.Wire(), True).Face())
    return {"edge": band + round_ * low[1], "top": above}


def mass(shape: Any) -> float:
    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, properties, 1e-13)
    return properties.Mass()


def rolled(fields: dict[str, Any], curves: list[Any]) -> dict[str, float]:
    """A smooth outline with a round-over above, by the kernel's rolling ball."""
    t = fields["thickness"]
    wire = BRepBuilderAPI_MakeWire()
    for curve in curves:
        wire.Add(BRepBuilderAPI_MakeEdge(curve).Edge())
    block = BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp_Vec(0, 0, t)).Shape()
    radius = float(fields["edge"]["top"].split()[1])
    solid = ease(block, "roundover", radius, lambda *places: all(near(place[2], t) for place in places))
    return areas(solid, panel_sort(t))


def ellipse_curves(fields: dict[str, Any]) -> list[Any]:
    axes = gp_Ax2(gp_Pnt(0, 0, 0), UP)
    return [Geom_Ellipse(axes, fields["length"] / 2, fields["width"] / 2)]


PEBBLE = [
    ((300, 0), (300, 180), (150, 220), (0, 200)),
    ((0, 200), (-150, 180), (-250, 120), (-250, 0)),
    ((-250, 0), (-250, -140), (-120, -190), (0, -190)),
    ((0, -190), (140, -190), (300, -160), (300, 0)),
]
PEBBLE_PATH = "M300 0 " + " ".join("C" + " ".join(f"{x} {y}" for x, y in points[1:]) for points in PEBBLE) + " Z"


# --- the cases -------------------------------------------------------------------------------------------------------

EDGES: dict[str, Any] = {
    "square": "square",
    "roundover": "roundover 6",
    "cove": {"top": "cove 7"},
    "chamfer": "chamfer 4",
    "bevel": {"bottom": "bevel 20 x 9"},
    "ogee": {"top": "ogee 5"},
    "ogee below, cove above": {"top": "cove 6", "bottom": "ogee 4"},
    "roundover above, chamfer below": {"top": "roundover 6", "bottom": "chamfer 3"},
    "bullnose": "bullnose",
}


def cases() -> dict[str, Case]:
    found: dict[str, Case] = {}
    for name, edge in EDGES.items():
        found[f"disc, {name}"] = ({"shape": "disc", "diameter": 1100, "thickness": 28, "edge": edge}, disc)
        sides = {"shape": "rectangle", "length": 600, "width": 400, "thickness": 28, "edge": edge}
        found[f"rectangle, {name}"] = (sides, rectangle)
        found[f"rounded rectangle, {name}"] = ({**sides, "corners": 60}, rectangle)
        six = {"shape": "polygon", "sides": 6, "across-flats": 500, "thickness": 28, "edge": edge}
        found[f"hexagon, {name}"] = (six, polygon)
        bar = {"shape": "stadium", "length": 700, "width": 300, "thickness": 28, "edge": edge}
        found[f"stadium, {name}"] = (bar, stadium)
        drawn = {"shape": "outline", "unit": "mm", "thickness": 28, "edge": edge}
        if name != "ogee below, cove above":  # there the kernel loses faces
            found[f"L, {name}"] = ({**drawn, "path": "M0 0 H400 V150 H200 V300 H0 Z"}, ell)
        chord = math.sqrt(300**2 - 100**2)
        moon = f"M{-chord!r} -100 A300 300 0 1 0 {chord!r} -100 Z"
        found[f"half moon, {name}"] = ({**drawn, "path": moon}, half_moon)
        tip = math.sqrt(500**2 - 350**2)
        lens = f"M{-tip!r} 0 A500 500 0 0 0 {tip!r} 0 A500 500 0 0 0 {-tip!r} 0 Z"
        found[f"boat, {name}"] = ({**drawn, "path": lens}, boat)
    ring = {"shape": "disc", "diameter": 500, "hole": 120, "thickness": 30, "edge": EDGES["roundover"]}
    found["ring"] = (ring, disc)
    five = {"shape": "polygon", "sides": 5, "across-corners": 500, "thickness": 30, "edge": EDGES["ogee"]}
    found["pentagon"] = (five, polygon)
    for name, edge in (("roundover", "roundover 12"), ("ogee", {"top": "ogee 7"}), ("bevel", {"top": "bevel 25 x 9"})):
        tight = {"shape": "rectangle", "length": 600, "width": 400, "thickness": 28, "corners": 5, "edge": edge}
        found[f"corners smaller than the set-back, {name}"] = (tight, rectangle)
    oval = {"shape": "ellipse", "length": 1200, "width": 700, "thickness": 25}
    found["ellipse, bevel"] = (
        {**oval, "edge": {"top": "bevel 30 x 12"}},
        lambda fields: smooth(fields, ellipse_curves(fields)),
    )
    pebble = {"shape": "outline", "path": PEBBLE_PATH, "unit": "mm", "thickness": 25}
    curves = [bezier(*points) for points in PEBBLE]
    found["pebble, bevel"] = ({**pebble, "edge": {"top": "bevel 30 x 12"}}, lambda fields: smooth(fields, curves))
    found["pebble, roundover"] = ({**pebble, "edge": {"top": "roundover 10"}}, lambda fields: rolled(fields, curves))
    found.update(turnings())
    return found


def main() -> None:
    results = {}
    for name, (fields, build) in cases().items():
        faces = {face: float(f"{area:.13g}") for face, area in build(fields).items()}
        results[name] = {"fields": fields, "faces_mm2": faces}
    kernel = f"cadquery-ocp-novtk {version('cadquery-ocp-novtk')}"
    json.dump({"kernel": kernel, "cases": results}, sys.stdout, indent=1)
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()
