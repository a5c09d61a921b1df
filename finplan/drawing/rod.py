"""Rods: from the side, and the section."""

from __future__ import annotations

import cmath
import math

from finplan.drawing.bend import bend_size, bend_words
from finplan.drawing.callout import Callout, size_at
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.dimension import OFF_MM, level_size
from finplan.drawing.lettering import across, said, size
from finplan.drawing.section import draw_cut, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told
from finplan.drawing.view import place_view
from finplan.geometry import LineTo, Subpath, bounds, circle, closed_of, flattened, line
from finplan.inputs.shapes import Rod
from finplan.quantity import Units

_HIGHEST_MM = 30.0
_SECTION_MM = 16.0
_STEPS = 64
"""So many straight lines stand for the bent side of a rod."""


def rod_words(part: Rod, units: Units) -> str:
    """Return a rod in words."""
    diameter, length = said(part.diameter_mm, units=units), said(part.length_mm, units=units)
    words = f"rod {diameter} across and {length} long"
    if part.taper:
        words += f", tapered to {said(part.far_diameter_mm, units=units)}"
    if part.radius_of_bend_mm is not None:
        words += f", bent to {bend_words(part.bend, part.radius_of_bend_mm, units)}"
    return f"{words}, side and section"


def draw_rod(part: Rod, subject: Subject, canvas: Canvas) -> None:
    """Draw a rod."""
    if part.radius_of_bend_mm is None:
        _draw_straight(part, subject, canvas)
    else:
        _draw_bent(part, part.radius_of_bend_mm, subject, canvas)
    near: tuple[str, ...] = ("diameter",)
    ends = [("section", part.diameter_mm, near)]
    if part.taper:
        ends = [("thick end", part.diameter_mm, near), ("thin end", part.far_diameter_mm, ("taper", "to"))]
    for caption, diameter, path in ends:
        radius = diameter / 2
        box = (-radius, -radius, radius, radius)
        section = place_view(canvas, caption, box, highest=_SECTION_MM).path(circle(0j, radius))
        draw_cut(canvas, [section])
        draw_width(canvas, section, across(diameter, subject.units, *path))


def _draw_straight(part: Rod, subject: Subject, canvas: Canvas) -> None:
    length, near, far = part.length_mm, part.diameter_mm / 2, part.far_diameter_mm / 2
    names = [Callout(subject.face("side"), complex(length * 0.6, 0.0)), Callout(subject.face("ends"), 0j)]
    placed = place_view(canvas, "from the side", (0.0, -near, length, near), names, highest=_HIGHEST_MM)
    side = closed_of(line(complex(0.0, near), complex(length, far)), line(complex(length, -far), complex(0.0, -near)))
    _draw_side(placed.path(side), subject, canvas)
    canvas.path(line(placed.at(0j) - 1.5, placed.at(complex(length, 0.0)) + 1.5), Pen.CENTRE)
    draw_width(canvas, placed.path(side), told(size(length, subject.units), "length"))


def _draw_bent(part: Rod, radius_mm: float, subject: Subject, canvas: Canvas) -> None:
    """Draw a bent rod lying on its side, about the upright axis x = 0; the near end at the left."""
    half = part.length_mm / radius_mm / 2
    near, fall = part.diameter_mm / 2, (part.diameter_mm - part.far_diameter_mm) / 2
    shares = [step / _STEPS for step in range(_STEPS + 1)]
    spokes = [(cmath.rect(1.0, math.pi / 2 + half - 2 * half * share), near - fall * share) for share in shares]
    outer = [spoke * (radius_mm + thick) for spoke, thick in spokes]
    inner = [spoke * (radius_mm - thick) for spoke, thick in spokes]
    side = Subpath(outer[0], tuple(LineTo(point) for point in (*outer[1:], *inner[::-1], outer[0])))
    left, bottom, right, top = bounds(flattened(side))
    units = subject.units
    notes = [
        size_at(bend_size(part.bend, radius_mm, units), 1j * radius_mm),
        Callout(subject.face("side"), cmath.rect(radius_mm, math.pi / 2 - half / 2)),
        Callout(subject.face("ends"), cmath.rect(radius_mm, math.pi / 2 + half)),
    ]
    placed = place_view(canvas, "from the side", (left, bottom, right, top), notes, highest=_HIGHEST_MM)
    _draw_side(placed.path(side), subject, canvas)
    middle = [placed.at(spoke * radius_mm) for spoke, _ in spokes]
    canvas.path(Subpath(middle[0], tuple(LineTo(point) for point in middle[1:])), Pen.CENTRE)
    ends = placed.at(complex(left, bottom)), placed.at(complex(right, bottom))
    level_size(canvas, *ends, ends[0].imag + OFF_MM, size(right - left, units))
    canvas.notes([f"{size(part.length_mm, units)} long, along its middle."])


def _draw_side(side: Subpath, subject: Subject, canvas: Canvas) -> None:
    if "side" in subject.covered:
        canvas.cross_hatch([side])
    canvas.path(side, Pen.OUTLINE)
