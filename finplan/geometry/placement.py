"""Where a path comes to lie: mirrored, turned, scaled and moved."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from finplan.geometry.path import ArcTo, CubicTo, LineTo, QuadraticTo, Segment, Subpath


@dataclass(frozen=True, slots=True)
class Pose:
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


AS_IT_IS = Pose()


def on_paper(factor: float, at: complex, of: complex = 0j) -> Pose:
    """Return the placement, y upwards, at a scale, that puts the part's point *of* on the paper's point *at*."""
    return Pose(factor + 0j, at - factor * of.conjugate(), mirrored=True)
