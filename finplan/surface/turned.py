"""Turned parts: the surface that a profile of lines, arcs and smooth curves sweeps round the axis."""

from __future__ import annotations

import math
from functools import singledispatch
from itertools import pairwise

from finplan.geometry import SplineSpan, integrate, spline_spans
from finplan.inputs.shapes import Bead, Block, Cove, CrossSection, Curve, Cylinder, Taper, Turned
from finplan.surface.face import BareFace


def turned_faces(part: Turned) -> list[BareFace]:
    """Return the faces of a turned part; those that do not occur are left out.

    Notes
    -----
    The end grain of the turning is the sum of ``π·|Δ(r²)|`` over the stretches where the radius rises or falls, what
    an eye on the axis would see of it, divided by the area.
    """
    rounds = [element for element in part.elements if not isinstance(element, Block)]
    turning_mm2 = math.fsum(_side_mm2(element) for element in rounds)
    seen_mm2 = math.fsum(_seen_along_axis_mm2(element) for element in rounds)
    blocks_mm2 = math.fsum(_side_mm2(element) for element in part.elements if isinstance(element, Block))
    shoulders_mm2 = math.fsum(
        _shoulder_mm2(above.foot_section, below.top_section) for above, below in pairwise(part.elements)
    )
    faces = {
        "turning": (turning_mm2, seen_mm2 / turning_mm2 if rounds else 0.0),
        "shoulders": (shoulders_mm2, 1.0),
        "blocks": (blocks_mm2, 0.0),
        "top-end": (_section_mm2(part.elements[0].top_section), 1.0),
        "foot-end": (_section_mm2(part.elements[-1].foot_section), 1.0),
    }
    return [BareFace(name, *faces[name]) for name in part.face_names()]


@singledispatch
def _side_mm2(element: object) -> float:
    """Return the surface of one element, without its ends. [mm²]"""
    raise NotImplementedError(type(element))


@_side_mm2.register
def _(element: Block) -> float:
    return 4 * element.side_mm * element.length_mm


@_side_mm2.register
def _(element: Cylinder) -> float:
    return math.pi * element.diameter_mm * element.length_mm


@_side_mm2.register
def _(element: Taper) -> float:
    return _frustum_mm2(element.from_mm, element.to_mm, element.length_mm)


@_side_mm2.register
def _(element: Bead) -> float:
    along, bulge = _arc(element.length_mm, (element.diameter_mm - element.neck_mm) / 2)
    return 2 * math.pi * (element.diameter_mm / 2 * along - bulge)


@_side_mm2.register
def _(element: Cove) -> float:
    along, bulge = _arc(element.length_mm, (element.rim_mm - element.diameter_mm) / 2)
    return 2 * math.pi * (element.diameter_mm / 2 * along + bulge)


@_side_mm2.register
def _(element: Curve) -> float:
    return math.fsum(_span_mm2(span) for span in spline_spans(element.points_mm))


def _span_mm2(span: SplineSpan) -> float:
    """Return the surface that the cubic between two points sweeps, diameters along the axis. [mm²]"""
    value_and_slope = span.polynomials()

    def girth_per_length(along_mm: float) -> float:
        diameter_mm, slope = value_and_slope(along_mm)
        return diameter_mm * math.sqrt(1 + slope * slope / 4)

    return math.pi * integrate(girth_per_length, 0.0, span.width)


def _frustum_mm2(from_mm: float, to_mm: float, length_mm: float) -> float:
    """Return the side of a cone frustum: half the sum of the rounds' ways about, times the slant. [mm²]"""
    return math.pi * (from_mm + to_mm) / 2 * math.hypot(length_mm, (from_mm - to_mm) / 2)


def _arc(chord_mm: float, rise_mm: float) -> tuple[float, float]:
    """Return the length of a circular arc [mm] and the moment of its fall from its crown along its length [mm²].

    Notes
    -----
    Half the angle α is ``2·atan(rise / half chord)`` and the radius ρ is ``half chord / sin α``; the length is 2ρα and
    the moment ``∫ρ(1 − cos ψ)·ρ dψ = 2ρ²(α − sin α)``. Pappus and Guldin's first rule, written so that nothing is lost
    where the arc is flat: ρ grows without bound, both results stay exact.
    """
    half_mm = chord_mm / 2
    angle = 2 * math.atan2(rise_mm, half_mm)
    if angle < 1e-9:
        # The limit, right to the last digit, where the square of the sine could vanish.
        return chord_mm, 2 * half_mm**2 * angle / 6
    sine = math.sin(angle)
    return chord_mm * angle / sine, 2 * (half_mm / sine) ** 2 * _angle_less_sine(angle)


def _angle_less_sine(angle: float) -> float:
    """Return ``angle − sin(angle)`` without cancellation."""
    if angle > 0.5:
        return angle - math.sin(angle)
    square = angle * angle
    term = angle * square / 6
    total, order = 0.0, 3
    while term != 0 and abs(term) > 1e-18 * abs(total):
        total += term
        term *= -square / ((order + 1) * (order + 2))
        order += 2
    return total


@singledispatch
def _seen_along_axis_mm2(element: object) -> float:
    """Return what an eye on the axis would see of an element's side, both ways together. [mm²]"""
    raise NotImplementedError(type(element))


@_seen_along_axis_mm2.register
def _(element: Cylinder) -> float:
    return 0.0


@_seen_along_axis_mm2.register
def _(element: Taper) -> float:
    return _ring_mm2(element.from_mm, element.to_mm)


@_seen_along_axis_mm2.register
def _(element: Bead) -> float:
    return 2 * _ring_mm2(element.diameter_mm, element.neck_mm)


@_seen_along_axis_mm2.register
def _(element: Cove) -> float:
    return 2 * _ring_mm2(element.diameter_mm, element.rim_mm)


@_seen_along_axis_mm2.register
def _(element: Curve) -> float:
    # Between two neighbouring points the curve rises or falls, never both.
    return sum(_ring_mm2(start[1], end[1]) for start, end in pairwise(element.points_mm))


def _ring_mm2(one_mm: float, other_mm: float) -> float:
    """Return the flat ring between two rounds. [mm²]"""
    return math.pi / 4 * abs(one_mm - other_mm) * (one_mm + other_mm)


def _section_mm2(section: CrossSection) -> float:
    return section.across_mm**2 * (1.0 if section.square else math.pi / 4)


def _shoulder_mm2(one: CrossSection, other: CrossSection) -> float:
    """Return the flat parts that two sections leave open of each other. [mm²]

    >>> _shoulder_mm2(CrossSection(70, square=True), CrossSection(50))   # 70² − π·50²/4
    2936.504
    """
    if one.fits(other):
        return 0.0
    if one.square and other.square:
        return abs(one.across_mm - other.across_mm) * (one.across_mm + other.across_mm)
    if not one.square and not other.square:
        return _ring_mm2(one.across_mm, other.across_mm)
    square, round_ = (one, other) if one.square else (other, one)
    return _section_mm2(square) + _section_mm2(round_) - 2 * _shared_mm2(square.across_mm, round_.across_mm)


def _shared_mm2(side_mm: float, diameter_mm: float) -> float:
    """Return what a square and a round on the same axis have in common. [mm²]"""
    if diameter_mm <= side_mm:
        return math.pi / 4 * diameter_mm**2
    if diameter_mm >= side_mm * math.sqrt(2):
        return side_mm**2
    half_mm, radius_mm = side_mm / 2, diameter_mm / 2
    reach_mm = math.sqrt((radius_mm - half_mm) * (radius_mm + half_mm))
    segment_mm2 = radius_mm**2 * math.atan2(reach_mm, half_mm) - half_mm * reach_mm
    return math.pi * radius_mm**2 - 4 * segment_mm2
