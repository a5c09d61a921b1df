"""The curved links of outlines that are no arcs of circles: cubics and arcs of ellipses."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from finplan.geometry.outline import Line, Link, cross, joined_cuts, quarters, turn_between
from finplan.geometry.quadrature import integrate

_FLAT = 1e-12
_STILL = 1e-9
_SAMPLES = 256
_DEPTH = 24


@dataclass(frozen=True)
class EllipseArc:
    """An arc of an ellipse: ``centre + along·cos(angle) + across·sin(angle)``, *across* a quarter turn left of *along*.

    Once cut at its axes, its sharpest bend is at one of its ends.
    """

    centre: complex
    along: complex
    across: complex
    from_rad: float
    sweep_rad: float

    @property
    def _product(self) -> float:
        return math.copysign(abs(self.along) * abs(self.across), self.sweep_rad)

    def _velocity(self, t: float) -> complex:
        angle = self.from_rad + self.sweep_rad * t
        return self.across * math.cos(angle) - self.along * math.sin(angle)

    @cached_property
    def length_mm(self) -> float:
        """How long it is. [mm]"""
        return integrate(self.speed, 0.0, 1.0)

    @cached_property
    def turn_rad(self) -> float:
        """How far its direction turns. [rad]"""
        return turn_between(self.direction(0.0), self.direction(1.0))

    @property
    def swept_mm2(self) -> float:
        """The sector about its centre and the triangles with the origin. [mm²]"""
        return (cross(self.centre, self.at(1.0) - self.at(0.0)) + self._product * abs(self.sweep_rad)) / 2

    @property
    def straight(self) -> bool:
        """No."""
        return False

    def at(self, t: float, s: float = 0.0) -> complex:
        """Return the point at t, moved by s square to the arc."""
        angle = self.from_rad + self.sweep_rad * t
        point = self.centre + self.along * math.cos(angle) + self.across * math.sin(angle)
        return point + s * 1j * self.direction(t) if s else point

    def direction(self, t: float) -> complex:
        """Return the unit vector along the arc at t."""
        velocity = self._velocity(t)
        return velocity / math.copysign(abs(velocity), self.sweep_rad)

    def speed(self, t: float, s: float = 0.0) -> float:
        """Return how fast the moved point runs with t. [mm]"""
        speed = abs(self._velocity(t))
        return abs(self.sweep_rad) * (speed - s * self._product / speed**2)

    def sharpest_bend(self, s: float) -> tuple[float, complex]:
        """Return the radius at the sharper end where the arc turns left, else infinity. [mm]"""
        t = min((0.0, 1.0), key=lambda end: abs(self._velocity(end)))
        return abs(self._velocity(t)) ** 3 / self._product if self.sweep_rad > 0 else math.inf, self.at(t)

    def vanishes_at_mm(self) -> float:
        """Return infinity."""
        return math.inf

    def reversed(self) -> EllipseArc:
        """Return it from end to start."""
        return EllipseArc(self.centre, self.along, self.across, self.from_rad + self.sweep_rad, -self.sweep_rad)

    def steady(self) -> Sequence[Link]:
        """Return it cut at its axes and where it turns in x or in y."""
        cuts: set[float] = set()
        turns_x = math.atan2(self.across.real, self.along.real)
        turns_y = math.atan2(self.across.imag, self.along.imag)
        for first, step in ((0.0, math.pi / 2), (turns_x, math.pi), (turns_y, math.pi)):
            cuts.update(quarters(self.from_rad, self.sweep_rad, first, step))
        ordered = joined_cuts(cuts)
        return [
            EllipseArc(
                self.centre, self.along, self.across, self.from_rad + self.sweep_rad * a, self.sweep_rad * (b - a)
            )
            for a, b in pairwise(ordered)
        ]


@dataclass(frozen=True)
class Cubic:
    """A cubic Bézier curve by its four control points."""

    points: tuple[complex, complex, complex, complex]

    @cached_property
    def _steps(self) -> tuple[complex, complex, complex]:
        """Return a third of the control points of the derivative."""
        p, q, r, s = self.points
        return q - p, r - q, s - r

    @cached_property
    def _bends(self) -> tuple[float, float, float]:
        """Return the control values of ``velocity × acceleration``, a quadratic, divided by 18."""
        first, second, third = self._steps
        return cross(first, second), cross(first, third) / 2, cross(second, third)

    @cached_property
    def _size(self) -> float:
        return sum(map(abs, self._steps))

    def _velocity(self, t: float) -> complex:
        first, second, third = self._steps
        u = 1 - t
        return 3 * (u * u * first + 2 * u * t * second + t * t * third)

    def _bend(self, t: float) -> float:
        first, second, third = self._bends
        u = 1 - t
        return 18 * (u * u * first + 2 * u * t * second + t * t * third)

    @cached_property
    def length_mm(self) -> float:
        """How long it is. [mm]"""
        return integrate(self.speed, 0.0, 1.0)

    @cached_property
    def turn_rad(self) -> float:
        """How far its direction turns. [rad]"""
        return turn_between(self.direction(0.0), self.direction(1.0))

    @property
    def swept_mm2(self) -> float:
        """The area that the ray to it from the origin sweeps. [mm²]"""
        p, q, r, s = self.points
        return (
            6 * cross(p, q) + 3 * cross(p, r) + cross(p, s) + 3 * cross(q, r) + 3 * cross(q, s) + 6 * cross(r, s)
        ) / 20

    @property
    def straight(self) -> bool:
        """No: straight ones have been made lines."""
        return False

    def at(self, t: float, s: float = 0.0) -> complex:
        """Return the point at t, moved by s square to the curve."""
        p, q, r, e = self.points
        u = 1 - t
        point = u * u * u * p + 3 * u * t * (u * q + t * r) + t * t * t * e
        return point + s * 1j * self.direction(t) if s else point

    def direction(self, t: float) -> complex:
        """Return the unit vector along the curve at t."""
        velocity = self._velocity(t)
        if abs(velocity) <= _STILL * self._size:
            # A control point on the end itself: the direction is that of the next one.
            p, q, r, s = self.points
            along = (r - p, s - p) if t < 0.5 else (s - q, s - p)
            velocity = along[0] if abs(along[0]) > _STILL * self._size else along[1]
        return velocity / abs(velocity)

    def speed(self, t: float, s: float = 0.0) -> float:
        """Return how fast the moved point runs with t. [mm]"""
        speed = abs(self._velocity(t))
        return speed - s * self._bend(t) / speed**2 if s else speed

    def sharpest_bend(self, s: float) -> tuple[float, complex]:
        """Return the least radius of its bends to the left [mm] if that may be under s, else infinity; and where."""
        if self.turn_rad <= 0 or self._bends_wider_than(s, 0.0, 1.0, _DEPTH):
            return math.inf, self.points[0]
        places = (index / _SAMPLES for index in range(_SAMPLES + 1))
        return min(
            ((abs(self._velocity(t)) ** 3 / max(self._bend(t), 1e-300), self.at(t)) for t in places),
            key=lambda bend: bend[0],
        )

    def _bends_wider_than(self, radius_mm: float, low: float, high: float, depth: int) -> bool:
        """Return whether the radius of its bends is certainly more than this between two places.

        The bend is at most the largest of its control values, and the speed is at least the shortest of the
        derivative's control points along the middle direction; where that does not settle it, each half is asked.
        """
        part = self.between(low, high)
        most = 18 * max(part._bends)
        middle = part._velocity(0.5)
        along = middle / abs(middle) if middle else 1 + 0j
        least = 3 * min((step * along.conjugate()).real for step in part._steps)
        if least > 0 and most * radius_mm < least**3:
            return True
        if depth == 0 or part._bend(0.5) * radius_mm >= abs(middle) ** 3:
            return False
        half = (low + high) / 2
        return self._bends_wider_than(radius_mm, low, half, depth - 1) and self._bends_wider_than(
            radius_mm, half, high, depth - 1
        )

    def vanishes_at_mm(self) -> float:
        """Return infinity."""
        return math.inf

    def reversed(self) -> Cubic:
        """Return it from end to start."""
        p, q, r, s = self.points
        return Cubic((s, r, q, p))

    def between(self, low: float, high: float) -> Cubic:
        """Return the part from one parameter to another, as a curve of its own."""
        p, q, r, s = self.points

        def blossom(a: float, b: float, c: float) -> complex:
            pq, qr, rs = p + (q - p) * a, q + (r - q) * a, r + (s - r) * a
            pqr, qrs = pq + (qr - pq) * b, qr + (rs - qr) * b
            return pqr + (qrs - pqr) * c

        return Cubic(
            (blossom(low, low, low), blossom(low, low, high), blossom(low, high, high), blossom(high, high, high))
        )

    def steady(self) -> Sequence[Link]:
        """Return it cut where it turns in x or in y and where it bends the other way."""
        first, second, third = self._steps
        flat = max(map(abs, self._bends)) <= _FLAT * self._size**2
        roots = [
            *_roots(first.real, second.real, third.real),
            *_roots(first.imag, second.imag, third.imag),
            *(() if flat else _roots(*self._bends)),
        ]
        cuts = joined_cuts(roots)
        parts = [self.between(a, b) for a, b in pairwise(cuts)]
        if flat:
            return [Line(part.points[0], part.points[3]) for part in parts if part.points[0] != part.points[3]]
        return parts


def _roots(first: float, middle: float, last: float) -> list[float]:
    """Return where the quadratic with these Bernstein coefficients is zero."""
    square, half = first - 2 * middle + last, middle - first
    scale = max(abs(first), abs(middle), abs(last))
    if abs(square) <= 1e-14 * scale:
        return [-first / (2 * half)] if abs(half) > 1e-14 * scale else []
    inside = half * half - square * first
    if inside < 0:
        return []
    sum_ = -half - math.copysign(math.sqrt(inside), half)
    return [root for root in (sum_ / square, first / sum_ if sum_ else math.nan) if math.isfinite(root)]


def quadratic(start: complex, control: complex, end: complex) -> Cubic:
    """Return the cubic that is this quadratic Bézier curve."""
    return Cubic((start, start + (control - start) * 2 / 3, end + (control - end) * 2 / 3, end))
