"""Outlines of panels: closed chains of lines, arcs and smooth curves, inside on the left.

Points are complex numbers, x + iy, in mm. Every link is steady in x and in y and bends one way only, so that its ends
bound it, and turns by a right angle at most.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

SMOOTH_RAD = 1e-4
"""Two links whose directions differ by less meet smoothly: the mitre between them is some 1e-13 of the set-back."""


class Link(Protocol):
    """One link of an outline, a parameter t running along it from 0 to 1; s is the set-back to its left. [mm]"""

    @property
    def length_mm(self) -> float:
        """How long it is. [mm]"""

    @property
    def turn_rad(self) -> float:
        """How far its direction turns, to the left positive. [rad]"""

    @property
    def swept_mm2(self) -> float:
        """The area that the ray to it from the origin sweeps, to the left positive. [mm²]"""

    @property
    def straight(self) -> bool:
        """Whether it is a line."""

    def at(self, t: float, s: float = 0.0) -> complex:
        """Return the point at t, moved by s square to the link."""

    def direction(self, t: float) -> complex:
        """Return the unit vector along the link at t."""

    def speed(self, t: float, s: float = 0.0) -> float:
        """Return how fast the moved point runs with t. [mm]"""

    def sharpest_bend(self, s: float) -> tuple[float, complex]:
        """Return the least radius of its bends to the left [mm] if that may be under s, else infinity; and where."""

    def vanishes_at_mm(self) -> float:
        """Return the set-back at which nothing is left of it, whatever its neighbours are. [mm]"""

    def reversed(self) -> Link:
        """Return the same link, run from end to start."""

    def steady(self) -> Sequence[Link]:
        """Return it cut where it turns in x or in y and where it bends the other way."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight link."""

    start: complex
    end: complex

    @property
    def length_mm(self) -> float:
        """How long it is. [mm]"""
        return abs(self.end - self.start)

    @property
    def turn_rad(self) -> float:
        """None."""
        return 0.0

    @property
    def swept_mm2(self) -> float:
        """The triangle with the origin. [mm²]"""
        return cross(self.start, self.end) / 2

    @property
    def straight(self) -> bool:
        """Yes."""
        return True

    def at(self, t: float, s: float = 0.0) -> complex:
        """Return the point at t, moved by s."""
        run = self.end - self.start
        return self.start + run * (t + 1j * s / abs(run))

    def direction(self, t: float) -> complex:
        """Return the unit vector along the line."""
        run = self.end - self.start
        return run / abs(run)

    def speed(self, t: float, s: float = 0.0) -> float:
        """Return its length: t runs evenly."""
        return self.length_mm

    def sharpest_bend(self, s: float) -> tuple[float, complex]:
        """Return infinity."""
        return math.inf, self.start

    def vanishes_at_mm(self) -> float:
        """Return infinity."""
        return math.inf

    def reversed(self) -> Line:
        """Return it from end to start."""
        return Line(self.end, self.start)

    def steady(self) -> Sequence[Link]:
        """Return the line itself."""
        return (self,)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc; with the radius 0 and a turn to the right, an inside corner that rounds off as it is set back."""

    centre: complex
    radius_mm: float
    from_rad: float
    turn_rad: float

    @property
    def length_mm(self) -> float:
        """How long it is. [mm]"""
        return self.radius_mm * abs(self.turn_rad)

    @property
    def swept_mm2(self) -> float:
        """The sector about its centre and the triangles with the origin. [mm²]"""
        return (cross(self.centre, self.at(1.0) - self.at(0.0)) + self.radius_mm**2 * self.turn_rad) / 2

    @property
    def straight(self) -> bool:
        """No."""
        return False

    def at(self, t: float, s: float = 0.0) -> complex:
        """Return the point at t, moved by s: towards the centre where the arc turns left."""
        radius_mm = self.radius_mm - math.copysign(s, self.turn_rad)
        return self.centre + cmath.rect(radius_mm, self.from_rad + self.turn_rad * t)

    def direction(self, t: float) -> complex:
        """Return the unit vector along the arc at t."""
        return cmath.rect(1.0, self.from_rad + self.turn_rad * t + math.copysign(math.pi / 2, self.turn_rad))

    def speed(self, t: float, s: float = 0.0) -> float:
        """Return the length of the arc when it is set back by s."""
        return (self.radius_mm - math.copysign(s, self.turn_rad)) * abs(self.turn_rad)

    def sharpest_bend(self, s: float) -> tuple[float, complex]:
        """Return infinity: an arc that is used up leaves a corner between its neighbours, which is no fault."""
        return math.inf, self.centre

    def vanishes_at_mm(self) -> float:
        """Return the radius where it turns left, else infinity."""
        return self.radius_mm if self.turn_rad > 0 else math.inf

    def reversed(self) -> Arc:
        """Return it from end to start."""
        return Arc(self.centre, self.radius_mm, self.from_rad + self.turn_rad, -self.turn_rad)

    def steady(self) -> Sequence[Link]:
        """Return it cut at its quarters."""
        quarter = math.pi / 2
        cuts = quarters(self.from_rad, self.turn_rad, 0.0, quarter)
        return [
            Arc(self.centre, self.radius_mm, self.from_rad + self.turn_rad * a, self.turn_rad * (b - a))
            for a, b in pairwise(cuts)
        ]


def cross(one: complex, other: complex) -> float:
    """Return the cross product of two plane vectors.

    >>> cross(2 + 0j, 3j)
    6.0
    """
    return one.real * other.imag - one.imag * other.real


def quarters(from_rad: float, turn_rad: float, first_rad: float, step_rad: float) -> list[float]:
    """Return 0, 1 and where between them an angle passes a multiple of a step, all as shares of the turn."""
    low, high = sorted((from_rad, from_rad + turn_rad))
    count = range(math.ceil((low - first_rad) / step_rad), math.floor((high - first_rad) / step_rad) + 1)
    shares = ((first_rad + k * step_rad - from_rad) / turn_rad for k in count)
    return joined_cuts(shares)


def joined_cuts(shares: Iterable[float]) -> list[float]:
    """Return 0, the *shares* well between 0 and 1 in order, and 1; what lies as good as together is one cut."""
    cuts = [0.0]
    for share in sorted(shares):
        if share - cuts[-1] > 1e-9 and share < 1 - 1e-9:
            cuts.append(share)
    return [*cuts, 1.0]


def turn_between(before: complex, after: complex) -> float:
    """Return the angle from one direction to another, from -π to π. [rad]"""
    return cmath.phase(after * before.conjugate())


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed chain of steady links, inside on the left."""

    links: tuple[Link, ...]

    @classmethod
    def of(cls, links: Sequence[Link]) -> Outline:
        """Return the outline that a closed chain makes, whichever way it runs."""
        steady = [part for link in links for part in link.steady()]
        if sum(link.swept_mm2 for link in steady) < 0:
            steady = [link.reversed() for link in reversed(steady)]
        return cls(tuple(steady))

    @property
    def area_mm2(self) -> float:
        """What it encloses. [mm²]"""
        return math.fsum(link.swept_mm2 for link in self.links)

    @property
    def perimeter_mm(self) -> float:
        """The way round. [mm]"""
        return math.fsum(link.length_mm for link in self.links)

    @property
    def across_mm(self) -> float:
        """``∮|dy|``: twice its width across the grain where it is convex. [mm]"""
        return math.fsum(abs((link.at(1.0) - link.at(0.0)).imag) for link in self.links)

    def corners_rad(self) -> list[float]:
        """Return how far the direction turns from each link to the next. [rad]"""
        following = (*self.links[1:], self.links[0])
        return [
            turn_between(link.direction(1.0), after.direction(0.0))
            for link, after in zip(self.links, following, strict=True)
        ]

    def is_convex(self) -> bool:
        """Return whether it turns left all round."""
        return all(link.turn_rad >= 0 for link in self.links) and min(self.corners_rad()) > -SMOOTH_RAD
