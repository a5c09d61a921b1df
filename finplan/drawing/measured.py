"""Measured parts: a box with the names and areas of the faces, since no shape is known."""

from __future__ import annotations

from finplan.drawing.canvas import MARGIN_MM, WIDTH_MM, Canvas, Pen
from finplan.drawing.lettering import LINE_GAP_MM, shortened_to_fit, text_width
from finplan.drawing.subject import Subject
from finplan.geometry import rectangle
from finplan.inputs.shapes import MeasuredPart
from finplan.quantity import Units
from finplan.showing import show_area

_PADDING_MM = 2.0


def measured_words(part: MeasuredPart, units: Units) -> str:
    """Return a measured part in words."""
    faces = ", ".join(f"{name} {show_area(face.area_m2, units)}" for name, face in part.faces.items())
    return f"measured by hand: {faces}"


def draw_measured(part: MeasuredPart, subject: Subject, canvas: Canvas) -> None:
    """Draw a box that lists the faces."""
    baseline = canvas.caption("measured by hand, no drawing") + 1.5 + _PADDING_MM + 2.5
    head = baseline - _PADDING_MM - 2.5
    left, right = MARGIN_MM + _PADDING_MM, WIDTH_MM - MARGIN_MM - _PADDING_MM
    for name, face in part.faces.items():
        area = show_area(face.area_m2, subject.units)
        room = right - left - text_width(area) - 2.0
        canvas.text(left, baseline, shortened_to_fit(subject.face(name), room), anchor="start", role="face")
        canvas.text(right, baseline, area, anchor="end")
        baseline += LINE_GAP_MM
    foot = baseline - LINE_GAP_MM + _PADDING_MM
    canvas.path(rectangle(MARGIN_MM + 0.25, head, WIDTH_MM - MARGIN_MM - 0.25, foot), Pen.OUTLINE)
