"""What lies along one long edge of a board: straight or sloping, bent with the board, or arched.

A place near the edge is given by its set-back, measured into the wood and square to the edge, and by its depth below
the board's front. A bent board is shaped while it is flat, measured on its front, and then bent: so its edges, grooves
and arrises tend to those of the flat board as the radius grows.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass

from finplan.geometry import integrate
from finplan.inputs.shapes import Profile


@dataclass(frozen=True, slots=True)
class ArrisPoint:
    """A point of an arris's section and how fast it moves along it. In mm, and mm per step of the parameter."""

    set_back_mm: float
    depth_mm: float
    d_set_back: float
    d_depth: float


def _arris_point(arris: Profile, share: float) -> ArrisPoint:
    """Return the point at *share* (0 to 1) of the way from the flat face to the edge."""
    size = arris.set_back_mm
    if arris.kind == "chamfer":
        return ArrisPoint(size * (1 - share), size * share, -size, size)
    turn = math.pi / 2
    to_edge, to_face = turn * (1 - share), turn * share
    return ArrisPoint(
        2 * size * math.sin(to_edge / 2) ** 2,  # size·(1 − cos), without its cancellation
        2 * size * math.sin(to_face / 2) ** 2,
        -turn * size * math.sin(to_edge),
        turn * size * math.sin(to_face),
    )


def corner_mm2(arris: Profile) -> float:
    """Return the area that an arris takes off the section square to its edge. [mm²]

    >>> corner_mm2(Profile("chamfer", 2.0, 2.0)), corner_mm2(Profile("roundover", 2.0, 2.0))
    (2.0, 0.8584)
    """
    return arris.set_back_mm**2 * (0.5 if arris.kind == "chamfer" else 1 - math.pi / 4)


class LongEdge(ABC):
    """One long edge of a board, from end to end."""

    @property
    def stretch(self) -> float:
        """The edge's own length for each millimetre of the board's, where that is the same all along."""
        return 1.0

    @abstractmethod
    def across_mm2(self, set_back_mm: float, depth_mm: float) -> float:
        """Return the area of the strip parallel to the front, from the edge to a set-back, at one depth. [mm²]"""

    @abstractmethod
    def through_mm2(self, near_mm: float, far_mm: float) -> float:
        """Return the area of the edge between two depths, or of a groove's floor below it. [mm²]"""

    @abstractmethod
    def through_lengthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """Return the same area as seen along the length: its integral of |n·g|, grain along. [mm²]"""

    @abstractmethod
    def through_widthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """Return the same area as seen along the width: its integral of |n·g|, grain across. [mm²]"""

    @abstractmethod
    def arris_mm2(self, arris: Profile, *, at_back_mm: float | None) -> float:
        """Return the area of the arris with the front, or with the back at this depth. [mm²]"""

    @abstractmethod
    def arris_lengthwise_mm2(self, arris: Profile) -> float:
        """Return the arris's integral of |n·g|, grain along. [mm²]"""

    @abstractmethod
    def end_loss_mm2(self, arris: Profile) -> float:
        """Return the area that the arris takes off one end of the board. [mm²]"""


@dataclass(frozen=True, slots=True)
class FlatEdge(LongEdge):
    """A straight edge of a flat board; with a slope it is not square to the ends."""

    length_mm: float
    slope: float = 0.0
    """How much the width falls for each millimetre of length."""

    @property
    def stretch(self) -> float:
        """The edge's own length for each millimetre of the board's."""
        return math.hypot(1.0, self.slope)

    def across_mm2(self, set_back_mm: float, depth_mm: float) -> float:
        """A parallelogram."""
        return set_back_mm * self.length_mm * self.stretch

    def through_mm2(self, near_mm: float, far_mm: float) -> float:
        """A rectangle."""
        return (far_mm - near_mm) * self.length_mm * self.stretch

    def through_lengthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """What the slope shows from the end."""
        return (far_mm - near_mm) * self.length_mm * self.slope

    def through_widthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """What it shows from below."""
        return (far_mm - near_mm) * self.length_mm

    def arris_mm2(self, arris: Profile, *, at_back_mm: float | None) -> float:
        """A strip as wide as the section's line is long: every line along it has the edge's length."""
        line_mm = arris.set_back_mm * (math.sqrt(2) if arris.kind == "chamfer" else math.pi / 2)
        return line_mm * self.length_mm * self.stretch

    def arris_lengthwise_mm2(self, arris: Profile) -> float:
        """As for the strip through the edge that it replaces."""
        return self.through_lengthwise_mm2(0.0, arris.set_back_mm)

    def end_loss_mm2(self, arris: Profile) -> float:
        """The corner, cut at the slope's angle."""
        return corner_mm2(arris) * self.stretch


@dataclass(frozen=True, slots=True)
class BentEdge(LongEdge):
    """An edge of a board bent in plan; sloping, it is a helicoid."""

    radius_mm: float
    """Of the front."""
    angle_rad: float
    slope: float = 0.0

    @property
    def stretch(self) -> float:
        """The edge's own length for each millimetre of the board's, along the front."""
        return math.hypot(1.0, self.slope)

    @property
    def _climb_mm(self) -> float:
        """How much the edge climbs along the width for each radian."""
        return self.slope * self.radius_mm

    def across_mm2(self, set_back_mm: float, depth_mm: float) -> float:
        """A strip of a cylinder."""
        return set_back_mm * self.stretch * self.angle_rad * (self.radius_mm - depth_mm)

    def through_mm2(self, near_mm: float, far_mm: float) -> float:
        """A sector of a ring, or of a helicoid: sqrt(r² + climb²) over r and the angle."""
        outer, inner = self.radius_mm - near_mm, self.radius_mm - far_mm
        if not self.slope:
            return self.through_widthwise_mm2(near_mm, far_mm)
        return self.angle_rad * integrate(lambda r: math.hypot(r, self._climb_mm), inner, outer)

    def through_lengthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """What the slope shows along the bend."""
        return (far_mm - near_mm) * self.angle_rad * self._climb_mm

    def through_widthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """The sector of a ring."""
        return self.angle_rad * (far_mm - near_mm) * (self.radius_mm - (near_mm + far_mm) / 2)

    def arris_mm2(self, arris: Profile, *, at_back_mm: float | None) -> float:
        """The area element of the point (r, angle, slope·angle + stretch·set-back), over the section's line."""

        def line(share: float) -> float:
            point = _arris_point(arris, share)
            r = self.radius_mm - (point.depth_mm if at_back_mm is None else at_back_mm - point.depth_mm)
            return math.hypot(math.hypot(r, self._climb_mm) * point.d_depth, r * self.stretch * point.d_set_back)

        return self.angle_rad * integrate(line, 0.0, 1.0)

    def arris_lengthwise_mm2(self, arris: Profile) -> float:
        """As for the strip through the edge that it replaces."""
        return self.through_lengthwise_mm2(0.0, arris.set_back_mm)

    def end_loss_mm2(self, arris: Profile) -> float:
        """As while the board was flat."""
        return corner_mm2(arris) * self.stretch


@dataclass(frozen=True, slots=True)
class ArchedEdge(LongEdge):
    """An edge hollowed by a circular arc over the whole length; a set-back is a wider circle about the same centre."""

    length_mm: float
    rise_mm: float

    @property
    def _half_mm(self) -> float:
        return self.length_mm / 2

    @property
    def _radius_mm(self) -> float:
        return (self._half_mm**2 + self.rise_mm**2) / (2 * self.rise_mm)

    def _spring_mm(self, set_back_mm: float) -> float:
        """Return how high above the centre the wider circle meets the ends; zero for a half circle."""
        beyond = (self._half_mm - self.rise_mm) ** 2 / (2 * self.rise_mm) + set_back_mm
        return math.sqrt(beyond * (beyond + self.length_mm))

    def _height_at_end_mm(self, set_back_mm: float) -> float:
        """Return how far up the end of the board this set-back reaches: never as far as it does at mid length."""
        if not set_back_mm:
            return 0.0
        rise = set_back_mm * (2 * self._radius_mm + set_back_mm)
        return rise / (self._spring_mm(set_back_mm) + self._spring_mm(0.0))

    def _height_mm(self, set_back_mm: float, x_mm: float) -> float:
        """Return how high this set-back is, on the front, at a distance from mid length."""
        radius = self._radius_mm + set_back_mm
        fall = x_mm**2 / (radius + math.sqrt(max(0.0, (radius - x_mm) * (radius + x_mm))))
        return self.rise_mm + set_back_mm - fall

    def hollow_mm2(self) -> float:
        """Return the area that the arch takes off the front. [mm²]"""
        return 2 * integrate(lambda x: self._height_mm(0.0, x), 0.0, self._half_mm)

    def across_mm2(self, set_back_mm: float, depth_mm: float) -> float:
        """Between two circles and the ends."""
        return 2 * integrate(lambda x: self._height_mm(set_back_mm, x) - self._height_mm(0.0, x), 0.0, self._half_mm)

    def _arc_mm(self, set_back_mm: float) -> float:
        radius = self._radius_mm + set_back_mm
        return 2 * radius * math.atan2(self._half_mm, self._spring_mm(set_back_mm))

    def _sagitta_mm(self, set_back_mm: float) -> float:
        radius = self._radius_mm + set_back_mm
        return self._half_mm**2 / (radius + self._spring_mm(set_back_mm))

    def through_mm2(self, near_mm: float, far_mm: float) -> float:
        """The arc's length by the depth."""
        return (far_mm - near_mm) * self._arc_mm(0.0)

    def through_lengthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """Both flanks, seen from either end."""
        return (far_mm - near_mm) * 2 * self._sagitta_mm(0.0)

    def through_widthwise_mm2(self, near_mm: float, far_mm: float) -> float:
        """What it shows from below."""
        return (far_mm - near_mm) * self.length_mm

    def arris_mm2(self, arris: Profile, *, at_back_mm: float | None) -> float:
        """The arcs of all set-backs, over the section's line."""

        def line(share: float) -> float:
            point = _arris_point(arris, share)
            return self._arc_mm(point.set_back_mm) * math.hypot(point.d_depth, point.d_set_back)

        return integrate(line, 0.0, 1.0)

    def arris_lengthwise_mm2(self, arris: Profile) -> float:
        """Both flanks of all set-backs, over the depth."""

        def line(share: float) -> float:
            point = _arris_point(arris, share)
            return 2 * self._sagitta_mm(point.set_back_mm) * point.d_depth

        return integrate(line, 0.0, 1.0)

    def end_loss_mm2(self, arris: Profile) -> float:
        """How far up the end the set-back reaches, over the depth."""

        def line(share: float) -> float:
            point = _arris_point(arris, share)
            return self._height_at_end_mm(point.set_back_mm) * point.d_depth

        return integrate(line, 0.0, 1.0)
