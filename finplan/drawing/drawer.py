"""Drawers: from above, the front below, and the section from front to rear at the same scale."""

from __future__ import annotations

from finplan.drawing.callout import Callout
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.dimension import room_at_left
from finplan.drawing.lettering import LINE_GAP_MM, said, size
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told
from finplan.drawing.view import place_view
from finplan.geometry import rectangle
from finplan.inputs.shapes import Drawer
from finplan.quantity import Units

_HIGHEST_MM = 60.0


def drawer_words(part: Drawer, units: Units) -> str:
    """Return a drawer in words."""
    sizes = said(part.width_mm, part.height_mm, part.depth_mm, units=units)
    return f"drawer {sizes}, from above and in section, {_boards(part, units)}"


def _boards(part: Drawer, units: Units) -> str:
    return f"boards {size(part.thickness_mm, units)} thick, bottom {size(part.bottom_mm, units)}"


def draw_drawer(part: Drawer, subject: Subject, canvas: Canvas) -> None:
    """Draw a drawer."""
    _draw_plan(part, subject, canvas)
    _draw_section(part, subject, canvas)
    canvas.notes([_boards(part, subject.units)])


def _draw_plan(part: Drawer, subject: Subject, canvas: Canvas) -> None:
    wide, deep, thick, units = part.width_mm, part.depth_mm, part.thickness_mm, subject.units
    notes = [
        Callout(subject.face("edges"), complex(thick / 2, deep * 0.8)),
        Callout(subject.face("inside"), complex(wide * 0.4, deep * 0.6)),
        Callout(subject.face("outside"), complex(wide * 0.75, deep)),
    ]
    box = (0.0, 0.0, wide, deep)
    placed = place_view(canvas, "from above", box, notes, highest=_HIGHEST_MM, before=room_at_left(size(deep, units)))
    boards = (
        rectangle(0.0, thick, thick, deep),
        rectangle(wide - thick, thick, wide, deep),
        rectangle(thick, deep - thick, wide - thick, deep),
        rectangle(0.0, 0.0, wide, thick),
    )
    canvas.path([placed.path(board) for board in boards], Pen.VISIBLE)
    outline = placed.path(rectangle(*box))
    canvas.path(outline, Pen.OUTLINE)
    below = placed.at(complex(wide / 2, 0.0)) + 3.4j
    canvas.text(below.real, below.imag, subject.face("front"), role="face")
    draw_height(canvas, outline, told(size(deep, units), "depth"))
    draw_width(canvas, outline, told(size(wide, units), "width"), lower=LINE_GAP_MM)


def _draw_section(part: Drawer, subject: Subject, canvas: Canvas) -> None:
    deep, high, thick, bottom = part.depth_mm, part.height_mm, part.thickness_mm, part.bottom_mm
    text = told(size(high, subject.units), "height")
    box = (0.0, 0.0, deep, high)
    placed = place_view(
        canvas, "section, front left", box, highest=_HIGHEST_MM / 2, before=room_at_left(text), clear=1.0
    )
    outline = placed.path(rectangle(*box))
    canvas.path(outline, Pen.VISIBLE)
    boards = (
        rectangle(0.0, 0.0, thick, high),
        rectangle(deep - thick, 0.0, deep, high),
        rectangle(thick, 0.0, deep - thick, bottom),
    )
    draw_cut(canvas, [placed.path(board) for board in boards], Pen.VISIBLE)
    draw_height(canvas, outline, text)
    draw_width(canvas, outline, size(deep, subject.units))
