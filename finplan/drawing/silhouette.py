"""The silhouette of a turned part: the lines, arcs and cubics that its surface is swept by, seen from the side."""

from __future__ import annotations

import math
from functools import singledispatch
from itertools import accumulate

from finplan.geometry import CubicTo, LineTo, Pose, Segment, Subpath, arc, backwards, closed_of, spline_spans
from finplan.inputs.shapes import Bead, Block, Cove, Curve, Cylinder, Element, Taper, Turned

_FLAT = 1e-9


def starts_mm(part: Turned) -> list[float]:
    """Return where each element starts, from the top end, and where the last one ends. [mm]"""
    return [0.0, *accumulate(element.length_mm for element in part.elements)]


def silhouette(part: Turned) -> Subpath:
    """Return the silhouette, lying along x with the top end at x = 0, about the axis y = 0."""
    upper = [
        Pose(offset=complex(start, 0.0)).path(upper_line(element))
        for start, element in zip(starts_mm(part), part.elements, strict=False)
    ]
    lower = [backwards(Pose(mirrored=True).path(line)) for line in reversed(upper)]
    return closed_of(*upper, *lower)


@singledispatch
def upper_line(element: Element) -> Subpath:
    """Return the upper half of an element's silhouette, open, from x = 0 to its length."""
    raise NotImplementedError(type(element))


@upper_line.register
def _(element: Block) -> Subpath:
    return _straight(element.side_mm, element.side_mm, element.length_mm)


@upper_line.register
def _(element: Cylinder) -> Subpath:
    return _straight(element.diameter_mm, element.diameter_mm, element.length_mm)


@upper_line.register
def _(element: Taper) -> Subpath:
    return _straight(element.from_mm, element.to_mm, element.length_mm)


@upper_line.register
def _(element: Bead) -> Subpath:
    return _arc(element.neck_mm, (element.diameter_mm - element.neck_mm) / 2, element.length_mm, swells=True)


@upper_line.register
def _(element: Cove) -> Subpath:
    return _arc(element.rim_mm, (element.rim_mm - element.diameter_mm) / 2, element.length_mm, swells=False)


@upper_line.register
def _(element: Curve) -> Subpath:
    segments: list[Segment] = []
    for span in spline_spans(element.points_mm):
        # A cubic by its ends and slopes is a Bézier curve with its control points a third of the way along them.
        third = span.width / 3
        start, end = (complex(point[0], point[1] / 2) for point in (span.start, span.end))
        first = start + complex(third, third * span.start_slope / 2)
        second = end - complex(third, third * span.end_slope / 2)
        segments.append(CubicTo(first, second, end))
    return Subpath(complex(0.0, element.points_mm[0][1] / 2), tuple(segments))


def _straight(from_mm: float, to_mm: float, length_mm: float) -> Subpath:
    return Subpath(complex(0.0, from_mm / 2), (LineTo(complex(length_mm, to_mm / 2)),))


def _arc(across_mm: float, rise_mm: float, length_mm: float, *, swells: bool) -> Subpath:
    """Return the arc that swells out of a straight line, or sinks into it, by *rise_mm* at mid length."""
    if rise_mm <= _FLAT * length_mm:
        return _straight(across_mm, across_mm, length_mm)
    half = length_mm / 2
    below = (half**2 - rise_mm**2) / (2 * rise_mm)
    side = 1.0 if swells else -1.0
    turn_rad = 4 * math.atan2(rise_mm, half)
    start = complex(0.0, across_mm / 2)
    return arc(start, start + complex(half, -side * below), -side * turn_rad)
