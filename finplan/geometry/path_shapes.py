"""Paths of simple shapes, and how paths are joined.

Points are complex numbers in mm, y upwards or downwards. An arc's ``sweep`` is whether its angle grows, in whichever of
the two it lies.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable

from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath

_NOTHING_MM = 1e-9


def line(*points: complex) -> Subpath:
    """Return the open path through *points*."""
    return Subpath(points[0], tuple(LineTo(point) for point in points[1:]))


def closed(*points: complex) -> Subpath:
    """Return the closed path through *points*."""
    return line(*points, points[0])


def rectangle(left: float, bottom: float, right: float, top: float) -> Subpath:
    """Return a rectangle."""
    return closed(complex(left, bottom), complex(right, bottom), complex(right, top), complex(left, top))


def arc(start: complex, centre: complex, turn_rad: float) -> Subpath:
    """Return the open path along a circle, in pieces of a quarter at most: some programs draw longer ones out of round.

    Parameters
    ----------
    start
        Where it starts
    centre
        Of the circle
    turn_rad
        How far it goes round, positive as angles grow. [rad]
    """
    count = max(1, math.ceil(abs(turn_rad) / (math.pi / 2) - 1e-9))
    spoke = start - centre
    ends = [centre + spoke * cmath.rect(1.0, turn_rad * index / count) for index in range(1, count + 1)]
    radii = (abs(spoke), abs(spoke))
    return Subpath(start, tuple(ArcTo(radii, 0.0, False, turn_rad > 0, end) for end in ends))


def circle(centre: complex, radius: float) -> Subpath:
    """Return a circle."""
    return arc(centre + radius, centre, 2 * math.pi)


def closed_of(*paths: Subpath) -> Subpath:
    """Return the closed path of open ones, the gaps between them closed by straight lines."""
    segments: list[Segment] = []
    here = paths[0].start
    for path in (*paths, Subpath(paths[0].start, ())):
        if abs(path.start - here) > _NOTHING_MM:
            segments.append(LineTo(path.start))
        segments += path.segments
        here = path.segments[-1].end if path.segments else path.start
    return Subpath(paths[0].start, tuple(segments))


def backwards(path: Subpath) -> Subpath:
    """Return an open path from its end to its start."""
    points = [path.start, *(segment.end for segment in path.segments)]
    turned = [_backwards(segment, start) for start, segment in zip(points, path.segments, strict=False)]
    return Subpath(points[-1], tuple(reversed(turned)))


def _backwards(segment: Segment, start: complex) -> Segment:
    """Return a segment that ends where it began."""
    match segment:
        case LineTo():
            return LineTo(start)
        case CubicTo(first, second, _):
            return CubicTo(second, first, start)
        case QuadraticTo(control, _):
            return QuadraticTo(control, start)
        case ArcTo(radii, rotation_deg, large, sweep, _):
            return ArcTo(radii, rotation_deg, large, not sweep, start)


def bounds(points: Iterable[complex]) -> tuple[float, float, float, float]:
    """Return the least x, the least y, the greatest x and the greatest y."""
    listed = list(points)
    xs, ys = [p.real for p in listed], [p.imag for p in listed]
    return min(xs), min(ys), max(xs), max(ys)
