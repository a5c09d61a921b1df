"""What the reference scripts share: making solids with the modelling kernel, and measuring their faces."""

# mypy: ignore-errors
# The kernel's binding has no types, and the project's environment does not have it at all.

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any

from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
from OCP.BRepFilletAPI import BRepFilletAPI_MakeChamfer, BRepFilletAPI_MakeFillet
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism
from OCP.gp import gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

Vector = tuple[float, float, float]
CLOSE = 1e-6


def box(x: float, y: float, z: float, dx: float, dy: float, dz: float) -> Any:
    return BRepPrimAPI_MakeBox(gp_Pnt(x, y, z), dx, dy, dz).Shape()


def polygon(points: Iterable[Vector]) -> Any:
    maker = BRepBuilderAPI_MakePolygon()
    for point in points:
        maker.Add(gp_Pnt(*point))
    maker.Close()
    return maker.Wire()


def prism(points: Iterable[Vector], along: Vector) -> Any:
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon(points)).Face(), gp_Vec(*along)).Shape()


def cut(shape: Any, *tools: Any) -> Any:
    for tool in tools:
        shape = BRepAlgoAPI_Cut(shape, tool).Shape()
    return shape


def fuse(*shapes: Any) -> Any:
    whole = shapes[0]
    for shape in shapes[1:]:
        whole = BRepAlgoAPI_Fuse(whole, shape).Shape()
    unify = ShapeUpgrade_UnifySameDomain(whole)
    unify.Build()
    return unify.Shape()


def fused(boards: list[Any]) -> Any:
    """Fuse boards without joining their faces, so that a front board and the edges round it stay apart."""
    shape = boards[0]
    for board in boards[1:]:
        shape = BRepAlgoAPI_Fuse(shape, board).Shape()
    return shape


def explore(shape: Any, kind: Any) -> list[Any]:
    explorer = TopExp_Explorer(shape, kind)
    found: list[Any] = []
    while explorer.More():
        if not any(explorer.Current().IsSame(one) for one in found):
            found.append(explorer.Current())
        explorer.Next()
    return found


def ease(shape: Any, kind: str, size: float, wanted: Callable[[Vector, Vector, Vector], bool]) -> Any:
    """Fillet or chamfer every edge whose start, middle and end are *wanted*."""
    maker = BRepFilletAPI_MakeFillet(shape) if kind == "roundover" else BRepFilletAPI_MakeChamfer(shape)
    for one in explore(shape, TopAbs_EDGE):
        edge = TopoDS.Edge(one)
        curve = BRepAdaptor_Curve(edge)
        first, last = curve.FirstParameter(), curve.LastParameter()
        places = [curve.Value(t) for t in (first, (first + last) / 2, last)]
        if wanted(*((p.X(), p.Y(), p.Z()) for p in places)):
            maker.Add(size, edge)
    return maker.Shape()


def areas(shape: Any, sort: Callable[[Vector, Vector], str]) -> dict[str, float]:
    """Return the area of each face as *sort* names it by a point on it and its outward normal there."""
    sums: dict[str, list[float]] = {}
    for one in explore(shape, TopAbs_FACE):
        face = TopoDS.Face(one)
        properties = GProp_GProps()
        BRepGProp.SurfaceProperties_s(face, properties, 1e-12)
        surface = BRepAdaptor_Surface(face)
        u = (surface.FirstUParameter() + surface.LastUParameter()) / 2
        v = (surface.FirstVParameter() + surface.LastVParameter()) / 2
        point, along_u, along_v = gp_Pnt(), gp_Vec(), gp_Vec()
        surface.D1(u, v, point, along_u, along_v)
        normal = along_u.Crossed(along_v).Normalized()
        sign = -1 if face.Orientation() == TopAbs_REVERSED else 1
        name = sort((point.X(), point.Y(), point.Z()), (sign * normal.X(), sign * normal.Y(), sign * normal.Z()))
        sums.setdefault(name, []).append(properties.Mass())
    return {name: math.fsum(parts) for name, parts in sorted(sums.items())}


def near(a: float, b: float) -> bool:
    return abs(a - b) < CLOSE
