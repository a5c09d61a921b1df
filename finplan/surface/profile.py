"""Edge profiles as curves: how far each height of an edge is set back from the outline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

from finplan.inputs.shapes import Profile


@dataclass(frozen=True, slots=True)
class Moments:
    """Four sums along a piece of a profile, each with its distance u from where the piece may have been cut.

    Lengths in mm, moments in mm².
    """

    length_mm: float
    """``∫dl`` along the curve."""
    length_moment_mm2: float
    """``∫u dl``."""
    height_mm: float
    """``∫|dh|``, the height it spans."""
    height_moment_mm2: float
    """``∫u |dh|``."""


@dataclass(frozen=True, slots=True)
class Rates:
    """What a small step of a stroke's parameter adds, each for a parameter's unit. [mm]"""

    length_mm: float
    height_mm: float
    set_back_mm: float


class Stroke(Protocol):
    """One piece of a profile, set back from ``near_mm`` to ``far_mm`` steadily."""

    @property
    def near_mm(self) -> float:
        """Its set-back at the end towards the outline. [mm]"""

    @property
    def far_mm(self) -> float:
        """Its set-back at the end towards the flat face. [mm]"""

    def moments(self, from_mm: float, to_mm: float) -> Moments:
        """Return the sums between two set-backs, u counted from the first."""

    def parameter(self, set_back_mm: float) -> float:
        """Return the place on the stroke with this set-back."""

    def set_back_mm(self, parameter: float) -> float:
        """Return how far a place is set back. [mm]"""

    def rates(self, parameter: float) -> Rates:
        """Return what a step of the parameter adds; the length is the same all along."""


@dataclass(frozen=True, slots=True)
class Slope:
    """A straight stroke: a chamfer, a bevel. Its parameter is the set-back."""

    near_mm: float
    far_mm: float
    rise_mm: float

    def moments(self, from_mm: float, to_mm: float) -> Moments:
        """Return the sums between two set-backs."""
        width_mm = to_mm - from_mm
        rates = self.rates(from_mm)
        half_mm2 = width_mm**2 / 2
        return Moments(
            rates.length_mm * width_mm,
            rates.length_mm * half_mm2,
            rates.height_mm * width_mm,
            rates.height_mm * half_mm2,
        )

    def parameter(self, set_back_mm: float) -> float:
        """Return the place on the stroke: the set-back itself."""
        return set_back_mm

    def set_back_mm(self, parameter: float) -> float:
        """Return how far a place is set back. [mm]"""
        return parameter

    def rates(self, parameter: float) -> Rates:
        """Return what a step of the set-back adds."""
        width_mm = self.far_mm - self.near_mm
        return Rates(math.hypot(width_mm, self.rise_mm) / width_mm, self.rise_mm / width_mm, 1.0)


@dataclass(frozen=True, slots=True)
class Quarter:
    """A quarter of a circle. Its parameter is the angle φ from the end towards the outline.

    Convex, ``u = r(1 − cos φ)`` and ``|dh| = r cos φ dφ``: upright at the outline, level at the face. Concave,
    ``u = r sin φ`` and ``|dh| = r sin φ dφ``: level at the outline, upright at the face. ``dl = r dφ`` for both.
    """

    near_mm: float
    radius_mm: float
    convex: bool

    @property
    def far_mm(self) -> float:
        """Its set-back at the end towards the flat face. [mm]"""
        return self.near_mm + self.radius_mm

    def moments(self, from_mm: float, to_mm: float) -> Moments:
        """Return the sums between two set-backs."""
        low, high = self.parameter(from_mm), self.parameter(to_mm)
        turn, r = high - low, self.radius_mm
        sines, cosines = math.sin(high) - math.sin(low), math.cos(low) - math.cos(high)
        doubles = (math.sin(2 * high) - math.sin(2 * low)) / 4
        skipped = from_mm - self.near_mm
        if self.convex:
            length_moment, height, height_moment = r**2 * (turn - sines), r * sines, r**2 * (sines - turn / 2 - doubles)
        else:
            length_moment, height, height_moment = r**2 * cosines, r * cosines, r**2 * (turn / 2 - doubles)
        return Moments(r * turn, length_moment - skipped * r * turn, height, height_moment - skipped * height)

    def parameter(self, set_back_mm: float) -> float:
        """Return the angle at this set-back. [rad]"""
        share = min(1.0, max(0.0, (set_back_mm - self.near_mm) / self.radius_mm))
        return 2 * math.asin(math.sqrt(share / 2)) if self.convex else math.asin(share)

    def set_back_mm(self, parameter: float) -> float:
        """Return how far a place is set back. [mm]"""
        share = 2 * math.sin(parameter / 2) ** 2 if self.convex else math.sin(parameter)
        return self.near_mm + self.radius_mm * share

    def rates(self, parameter: float) -> Rates:
        """Return what a step of the angle adds."""
        sine, cosine = self.radius_mm * math.sin(parameter), self.radius_mm * math.cos(parameter)
        height_mm, set_back_mm = (cosine, sine) if self.convex else (sine, cosine)
        return Rates(self.radius_mm, height_mm, set_back_mm)


def strokes(profile: Profile) -> tuple[Stroke, ...]:
    """Return the pieces of a profile, from the outline to the flat face.

    >>> [type(stroke).__name__ for stroke in strokes(Profile("ogee", 16.0, 16.0))]
    ['Quarter', 'Quarter']
    """
    width_mm, height_mm = profile.set_back_mm, profile.height_mm
    match profile.kind:
        case "square":
            return ()
        case "chamfer" | "bevel":
            return (Slope(0.0, width_mm, height_mm),)
        case "roundover":
            return (Quarter(0.0, width_mm, convex=True),)
        case "cove":
            return (Quarter(0.0, width_mm, convex=False),)
        case "ogee":
            half_mm = width_mm / 2
            return (Quarter(0.0, half_mm, convex=False), Quarter(half_mm, half_mm, convex=True))
