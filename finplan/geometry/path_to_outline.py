"""Outlines from SVG path data."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from finplan.geometry.curves import Cubic, EllipseArc, quadratic
from finplan.geometry.outline import Arc, Line, Link, Outline
from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath

_ROUND = 1e-9
_NOTHING = 1e-9


def outline_of(subpath: Subpath, unit_mm: float, origin: complex) -> Outline:
    """Return the outline that a closed subpath draws, in mm, seen from *origin*, a point in path units.

    >>> square = Subpath(0j, (LineTo(2 + 0j), LineTo(2 + 2j), LineTo(2j), LineTo(0j)))
    >>> outline_of(square, 25.4, 0j).area_mm2
    2580.64
    """
    links: list[Link] = []
    here = subpath.start
    for segment in subpath.segments:
        links += _links(segment, here, unit_mm, origin)
        here = segment.end
    if here != subpath.start:
        links.append(Line((here - origin) * unit_mm, (subpath.start - origin) * unit_mm))
    longest_mm = max((link.length_mm for link in links), default=0.0)
    return Outline.of([link for link in links if link.length_mm > _NOTHING * longest_mm])


def _links(segment: Segment, here: complex, unit_mm: float, origin: complex) -> Sequence[Link]:
    """Return what a segment draws from *here*; nothing where it draws nothing."""

    def mm(point: complex) -> complex:
        return (point - origin) * unit_mm

    match segment:
        case LineTo(end):
            return [] if end == here else [Line(mm(here), mm(end))]
        case CubicTo(first, second, end):
            return [] if here == first == second == end else [Cubic((mm(here), mm(first), mm(second), mm(end)))]
        case QuadraticTo(control, end):
            return [] if here == control == end else [quadratic(mm(here), mm(control), mm(end))]
        case ArcTo():
            return [_arc(mm(here), segment, mm(segment.end), unit_mm)]


def _arc(start: complex, arc: ArcTo, end: complex, unit_mm: float) -> Link:
    """Return the arc between two points; radii too small to reach are made just large enough.

    Source: SVG 2, appendix B.2, conversion from endpoint to centre parameterization.
    """
    x_radius, y_radius = (radius * unit_mm for radius in arc.radii)
    tilt = cmath.rect(1.0, math.radians(math.fmod(arc.rotation_deg, 360.0)))
    # In the ellipse's own axes, scaled to a circle of radius 1.
    half = (end - start) / 2 * tilt.conjugate()
    half = complex(half.real / x_radius, half.imag / y_radius)
    reach = abs(half)
    if reach > 1:
        x_radius, y_radius, half, reach = x_radius * reach, y_radius * reach, half / reach, 1.0
    offset = math.sqrt(max(0.0, (1 - reach) * (1 + reach))) / reach
    left = 1 if arc.large != arc.sweep else -1
    centre = half + left * offset * half * 1j
    from_rad, to_rad = cmath.phase(-centre), cmath.phase(2 * half - centre)
    sweep_rad = (to_rad - from_rad) % (2 * math.pi)
    if not arc.sweep:
        sweep_rad -= 2 * math.pi
    middle = start + tilt * complex(centre.real * x_radius, centre.imag * y_radius)
    if math.isclose(x_radius, y_radius, rel_tol=_ROUND):
        return Arc(middle, x_radius, from_rad + cmath.phase(tilt), sweep_rad)
    return EllipseArc(middle, tilt * x_radius, tilt * 1j * y_radius, from_rad, sweep_rad)
