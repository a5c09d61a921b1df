"""Outlines as paths: exact where they are not set back."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence

from finplan.geometry.crossing import Strand
from finplan.geometry.curves import Cubic, EllipseArc
from finplan.geometry.outline import Arc, Line, Outline
from finplan.geometry.path import ArcTo, CubicTo, LineTo, Segment, Subpath
from finplan.geometry.path_to_outline import outline_of

_SPANS = 4
"""Cubics for one steady link of a curve that is set back: what they miss is far below what a pen shows."""
_SAMPLES = 12
_NOTHING_MM = 1e-9


def outline_path(outline: Outline) -> Subpath:
    """Return an outline as a path, exactly."""
    return strands_path([Strand(link) for link in outline.links])


def strands_path(strands: Sequence[Strand]) -> Subpath:
    """Return the closed path of a chain that may be set back; curves that are set back become cubics."""
    segments = [segment for strand in strands for segment in _strand(strand)]
    return Subpath(strands[0].start, tuple(segments))


def _strand(strand: Strand) -> Iterable[Segment]:
    link, set_back_mm, end = strand.link, strand.set_back_mm, strand.end
    match link:
        case Line():
            return [LineTo(end)]
        case Arc(_, radius_mm, _, turn_rad):
            radius = abs(radius_mm - math.copysign(set_back_mm, turn_rad))
            return [ArcTo((radius, radius), 0.0, False, turn_rad > 0, end)] if radius > _NOTHING_MM else [LineTo(end)]
        case EllipseArc(_, along, across, _, sweep_rad) if not set_back_mm:
            rotation = math.degrees(cmath.phase(along))
            return [ArcTo((abs(along), abs(across)), rotation, False, sweep_rad > 0, end)]
        case Cubic() if not set_back_mm:
            part = link.between(strand.low, strand.high)
            return [CubicTo(*part.points[1:])]
    return _cubics(strand)


def _cubics(strand: Strand) -> Iterable[Segment]:
    """Return cubics that meet a moved curve, and its direction and speed, at a few places."""
    link, s = strand.link, strand.set_back_mm
    step = (strand.high - strand.low) / _SPANS
    places = [strand.low + step * index for index in range(_SPANS + 1)]
    points = [link.at(t, s) for t in places]
    thirds = [link.direction(t) * link.speed(t, s) * step / 3 for t in places]
    for index in range(_SPANS):
        yield CubicTo(points[index] + thirds[index], points[index + 1] - thirds[index + 1], points[index + 1])


def flattened(path: Subpath) -> list[complex]:
    """Return points along a closed path, near enough together for hatching and for finding room."""
    links = outline_of(path, 1.0, 0j).links
    return [
        link.at(index / count)
        for link in links
        for count in [1 if link.straight else _SAMPLES]
        for index in range(count)
    ]
