"""Paths: lines, curves and arcs from point to point, as SVG has them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight line to a point."""

    end: complex


@dataclass(frozen=True, slots=True)
class CubicTo:
    """A cubic Bézier curve to a point."""

    first: complex
    second: complex
    end: complex


@dataclass(frozen=True, slots=True)
class QuadraticTo:
    """A quadratic Bézier curve to a point."""

    control: complex
    end: complex


@dataclass(frozen=True, slots=True)
class ArcTo:
    """An arc of an ellipse to a point."""

    radii: tuple[float, float]
    rotation_deg: float
    large: bool
    sweep: bool
    end: complex


Segment = LineTo | CubicTo | QuadraticTo | ArcTo


@dataclass(frozen=True, slots=True)
class Subpath:
    """A closed run of segments from a point back to it, in path units."""

    start: complex
    segments: tuple[Segment, ...]
