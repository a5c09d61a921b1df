"""Lines and curves as SVG path data, from the outlines whose areas are taken.

Points are complex numbers in mm, y upwards on the part and downwards on paper. An arc's ``sweep`` is whether its angle
grows, in whichever of the two it lies.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from finplan.inputs.shapes.path_data import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath
from finplan.surface.crossing import Strand
from finplan.surface.outline import Arc, Line, Outline
from finplan.surface.outline_curve import Cubic, EllipseArc
from finplan.surface.outline_path import outline_of

_SPANS = 4
"""Cubics for one steady piece of a curve that is set back: what they miss is far below what a pen shows."""
_SAMPLES = 12
_NOTHING_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a part lies on paper: mirrored about its x axis if need be, then turned and scaled, then moved."""

    factor: complex = 1 + 0j
    offset: complex = 0j
    mirrored: bool = False

    def at(self, point: complex) -> complex:
        """Return where a point comes to lie."""
        return self.offset + self.factor * (point.conjugate() if self.mirrored else point)

    def path(self, path: Subpath) -> Subpath:
        """Return where a path comes to lie."""
        return Subpath(self.at(path.start), tuple(self._segment(segment) for segment in path.segments))

    def _segment(self, segment: Segment) -> Segment:
        match segment:
            case LineTo(end):
                return LineTo(self.at(end))
            case CubicTo(first, second, end):
                return CubicTo(self.at(first), self.at(second), self.at(end))
            case QuadraticTo(control, end):
                return QuadraticTo(self.at(control), self.at(end))
            case ArcTo(radii, rotation_deg, large, sweep, end):
                size, turned = abs(self.factor), math.degrees(cmath.phase(self.factor))
                rotation = turned - rotation_deg if self.mirrored else turned + rotation_deg
                x_radius, y_radius = radii
                return ArcTo((size * x_radius, size * y_radius), rotation, large, sweep != self.mirrored, self.at(end))


AS_IT_IS = Placement()


def on_paper(factor: float, at: complex, of: complex = 0j) -> Placement:
    """Return the placement, y upwards, at a scale, that puts the part's point *of* on the paper's point *at*."""
    return Placement(factor + 0j, at - factor * of.conjugate(), mirrored=True)


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


def joined(*paths: Subpath) -> Subpath:
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


def outline_path(outline: Outline) -> Subpath:
    """Return an outline as a path, exactly."""
    return strands_path([Strand(piece) for piece in outline.pieces])


def strands_path(strands: Sequence[Strand]) -> Subpath:
    """Return the closed path of a chain that may be set back; curves that are set back become cubics."""
    segments = [segment for strand in strands for segment in _strand(strand)]
    return Subpath(strands[0].start, tuple(segments))


def _strand(strand: Strand) -> Iterable[Segment]:
    piece, set_back_mm, end = strand.piece, strand.set_back_mm, strand.end
    match piece:
        case Line():
            return [LineTo(end)]
        case Arc(_, radius_mm, _, turn_rad):
            radius = abs(radius_mm - math.copysign(set_back_mm, turn_rad))
            return [ArcTo((radius, radius), 0.0, False, turn_rad > 0, end)] if radius > _NOTHING_MM else [LineTo(end)]
        case EllipseArc(_, along, across, _, sweep_rad) if not set_back_mm:
            rotation = math.degrees(cmath.phase(along))
            return [ArcTo((abs(along), abs(across)), rotation, False, sweep_rad > 0, end)]
        case Cubic() if not set_back_mm:
            part = piece.between(strand.low, strand.high)
            return [CubicTo(*part.points[1:])]
    return _cubics(strand)


def _cubics(strand: Strand) -> Iterable[Segment]:
    """Return cubics that meet a moved curve, and its direction and speed, at a few places."""
    piece, s = strand.piece, strand.set_back_mm
    step = (strand.high - strand.low) / _SPANS
    places = [strand.low + step * index for index in range(_SPANS + 1)]
    points = [piece.at(t, s) for t in places]
    thirds = [piece.direction(t) * piece.speed(t, s) * step / 3 for t in places]
    for index in range(_SPANS):
        yield CubicTo(points[index] + thirds[index], points[index + 1] - thirds[index + 1], points[index + 1])


def flattened(path: Subpath) -> list[complex]:
    """Return points along a closed path, near enough together for hatching and for finding room."""
    pieces = outline_of(path, 1.0, 0j).pieces
    return [
        piece.at(index / count)
        for piece in pieces
        for count in [1 if piece.straight else _SAMPLES]
        for index in range(count)
    ]


def bounds(points: Iterable[complex]) -> tuple[float, float, float, float]:
    """Return the least x, the least y, the greatest x and the greatest y."""
    listed = list(points)
    xs, ys = [p.real for p in listed], [p.imag for p in listed]
    return min(xs), min(ys), max(xs), max(ys)


def number(value: float) -> str:
    """Return a coordinate to the thousandth, without idle zeros.

    >>> number(2.0), number(-0.0001), number(1 / 3)
    ('2', '0', '0.333')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Subpath) -> str:
    """Return the SVG path data of a path; it ends in Z where the path comes back to its start.

    >>> path_data(rectangle(0, 0, 2, 1))
    'M0 0L2 0L2 1L0 1L0 0Z'
    """
    text = f"M{_point(path.start)}"
    for segment in path.segments:
        match segment:
            case LineTo(end):
                text += f"L{_point(end)}"
            case CubicTo(first, second, end):
                text += f"C{_point(first)} {_point(second)} {_point(end)}"
            case QuadraticTo(control, end):
                text += f"Q{_point(control)} {_point(end)}"
            case ArcTo((x_radius, y_radius), rotation_deg, large, sweep, end):
                radii = f"{number(x_radius)} {number(y_radius)}"
                text += f"A{radii} {number(rotation_deg)} {large:d} {sweep:d} {_point(end)}"
    returned = bool(path.segments) and abs(path.segments[-1].end - path.start) <= 1e-6
    return text + ("Z" if returned and len(path.segments) > 1 else "")


def _point(point: complex) -> str:
    return f"{number(point.real)} {number(point.imag)}"
