"""Rods: from the side, and the section."""

from __future__ import annotations

from finplan.drawing.callout import Callout
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.lettering import across, said, size
from finplan.drawing.section import draw_cut, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.view import place_view
from finplan.geometry import circle, line, rectangle
from finplan.inputs.shapes import Rod
from finplan.quantity import Units

_HIGHEST_MM = 30.0
_SECTION_MM = 16.0


def rod_words(part: Rod, units: Units) -> str:
    """Return a rod in words."""
    diameter, length = said(part.diameter_mm, units=units), said(part.length_mm, units=units)
    return f"rod {diameter} across and {length} long, side and section"


def draw_rod(part: Rod, subject: Subject, canvas: Canvas) -> None:
    """Draw a rod."""
    length, radius = part.length_mm, part.diameter_mm / 2
    names = [Callout(subject.face("side"), complex(length * 0.6, 0.0)), Callout(subject.face("ends"), 0j)]
    placed = place_view(canvas, "from the side", (0.0, -radius, length, radius), names, highest=_HIGHEST_MM)
    outline = placed.path(rectangle(0.0, -radius, length, radius))
    if "side" in subject.covered:
        canvas.cross_hatch([outline])
    canvas.path(outline, Pen.OUTLINE)
    canvas.path(line(placed.at(0j) - 1.5, placed.at(complex(length, 0.0)) + 1.5), Pen.CENTRE)
    draw_width(canvas, outline, size(length, subject.units))
    box = (-radius, -radius, radius, radius)
    section = place_view(canvas, "section", box, highest=_SECTION_MM).path(circle(0j, radius))
    draw_cut(canvas, [section])
    draw_width(canvas, section, across(part.diameter_mm, subject.units))
