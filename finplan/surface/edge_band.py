"""The surface that a profile sweeps round an outline."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from finplan.geometry import TOLERANCE, CornerLife, ParallelCurves, PeakLife, integrate, sharpness
from finplan.inputs.shapes import Profile
from finplan.surface.profile import Stroke, strokes


@dataclass(frozen=True, slots=True)
class Band:
    """What one profile makes of a panel."""

    area_mm2: float
    """The profiled surface."""
    seen_mm2: float
    """What an eye along the grain would see of it, from both ends together: ``∫|n·g| dA``."""
    face_mm2: float
    """What is left of the flat face."""


@dataclass(frozen=True, slots=True)
class _Loss:
    """What a corner takes off over one stroke, more than a smooth bend."""

    perimeter_mm: float
    """Off the way round, at the stroke's end."""
    area_mm2: float
    """Off the profiled surface."""
    ring_mm2: float
    """Off what the stroke covers in plan."""


def edge_band(curves: ParallelCurves, profile: Profile) -> Band:
    """Return what *profile* makes of the edge and of the face of a panel.

    Notes
    -----
    At the set-back s the section is the outline's parallel curve, P(s) long, and P = −dA/ds. The profiled surface is
    ``∫P(s) dl`` along the profile, the face ``A(s)`` at its far end. In plan its normals are square to the parallel
    curve, so that ``∫|n·g| dA = ∫ W(s) |dh|`` with ``W = ∮|dy|``. P is what a smooth outline would leave, falling by
    2π, less what each corner takes off; where that is even too, all is in closed form by the profile's moments.

    Raises
    ------
    TooFarError
        The outline cannot be set back so far.
    """
    area_mm2 = seen_mm2 = 0.0
    perimeter_mm, face_mm2 = curves.perimeter_mm, curves.area_mm2
    if profile.set_back_mm:
        corners, peaks = curves.corners(profile.set_back_mm), curves.peaks(profile.set_back_mm)
        for stroke in strokes(profile):
            losses = [_loss(life, stroke, curves.perimeter_mm) for life in corners]
            moments = stroke.moments(stroke.near_mm, stroke.far_mm)
            width_mm = stroke.far_mm - stroke.near_mm
            area_mm2 += perimeter_mm * moments.length_mm - 2 * math.pi * moments.length_moment_mm2
            area_mm2 -= math.fsum(loss.area_mm2 for loss in losses)
            face_mm2 -= perimeter_mm * width_mm - math.pi * width_mm**2
            face_mm2 += math.fsum(loss.ring_mm2 for loss in losses)
            perimeter_mm -= 2 * math.pi * width_mm + math.fsum(loss.perimeter_mm for loss in losses)
            seen_mm2 += _seen_mm2(peaks, stroke, curves.across_mm)
    # Where the whole face is used up, rounding may leave a trace on either side of nothing.
    face_mm2 = 0.0 if face_mm2 < 1e-12 * curves.area_mm2 else face_mm2
    return Band(area_mm2, seen_mm2, face_mm2)


def _loss(life: CornerLife, stroke: Stroke, perimeter_mm: float) -> _Loss:
    """Return what a corner takes off over a stroke.

    With g the corner's sharpness it is ``∫g ds`` off the way round, ``∫g·l ds`` off the surface, with l the length of
    profile still to come, and ``∫g·(far − s) ds`` off the ring in plan.
    """
    low, high, far = max(life.from_mm, stroke.near_mm), min(life.to_mm, stroke.far_mm), stroke.far_mm
    if low >= high:
        return _Loss(0.0, 0.0, 0.0)
    corner = life.corner
    if corner.even:
        rate = sharpness(corner.turn_rad(low))
        along, rest = stroke.moments(low, high), stroke.moments(high, far)
        length_mm2 = (high - low) * rest.length_mm + along.length_moment_mm2
        return _Loss(rate * (high - low), rate * length_mm2, rate * (high - low) * (2 * far - low - high) / 2)
    start, end, last = stroke.parameter(low), stroke.parameter(high), stroke.parameter(far)
    rates: dict[float, float] = {}

    def rate_at(at: float) -> float:
        """g, for a step of the parameter."""
        if at not in rates:
            rates[at] = sharpness(corner.turn_rad(stroke.set_back_mm(at))) * stroke.rates(at).set_back_mm
        return rates[at]

    def total(function: Callable[[float], float], scale: float) -> float:
        # What a corner takes off is a small part of the whole, and need be no more exact than that.
        return integrate(function, start, end, enough=TOLERANCE * perimeter_mm * scale)

    # dl is the same for every step of the parameter, whatever the stroke.
    length_mm = stroke.rates(start).length_mm
    return _Loss(
        perimeter_mm=total(rate_at, 1.0),
        area_mm2=length_mm * total(lambda at: rate_at(at) * (last - at), last - start),
        ring_mm2=total(lambda at: rate_at(at) * (far - stroke.set_back_mm(at)), far - low),
    )


def _seen_mm2(peaks: Sequence[PeakLife], stroke: Stroke, across_mm: float) -> float:
    """Return ``∫ W(s) |dh|`` over a stroke: W is a sum over the highest and lowest places. [mm²]"""
    return math.fsum(_seen_of_peak_mm2(life, stroke, across_mm) for life in peaks)


def _seen_of_peak_mm2(life: PeakLife, stroke: Stroke, across_mm: float) -> float:
    low, high = max(life.from_mm, stroke.near_mm), min(life.to_mm, stroke.far_mm)
    if low >= high:
        return 0.0
    peak = life.peak
    moments = stroke.moments(low, high)
    if peak.even:
        share_mm = peak.share_mm(low)
        rise = (peak.share_mm(high) - share_mm) / (high - low)
        return share_mm * moments.height_mm + rise * moments.height_moment_mm2
    return integrate(
        lambda at: peak.share_mm(stroke.set_back_mm(at)) * stroke.rates(at).height_mm,
        stroke.parameter(low),
        stroke.parameter(high),
        enough=TOLERANCE * across_mm * moments.height_mm,
    )
