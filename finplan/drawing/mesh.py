"""Meshes: the box that holds one, seen three ways."""

from __future__ import annotations

from finplan.drawing.canvas import WIDTH_MM, Canvas, Pen
from finplan.drawing.dimension import OFF_MM, UPRIGHT_OFF_MM, level_size, room_at_left, upright_size
from finplan.drawing.lettering import said, shortened_to_fit, size
from finplan.drawing.scale import scale_for
from finplan.drawing.subject import Subject
from finplan.geometry import rectangle
from finplan.inputs.shapes import Mesh
from finplan.quantity import Units
from finplan.showing import show_area

_GAP_MM = 7.0
_HIGHEST_MM = 75.0


def mesh_words(part: Mesh, units: Units) -> str:
    """Return a mesh in words."""
    sizes = said(*part.figures.extents_mm, units=units)
    return f"modelled in {part.file}, {sizes} over all, drawn as the box that holds it, seen three ways"


def draw_mesh(part: Mesh, subject: Subject, canvas: Canvas) -> None:
    """Draw the box of a mesh: x to the right, z up; at its right the side view, below it that from above."""
    x, y, z = part.figures.extents_mm
    units = subject.units
    margin = max(room_at_left(size(extent, units)) for extent in (y, z))
    wide = WIDTH_MM - margin - _GAP_MM - 2.0
    scale = scale_for((x + y, wide), (z + y, _HIGHEST_MM))
    head = canvas.caption("box: front, side and plan", scale) + 5.0
    width, depth, height = (extent * scale.factor for extent in (x, y, z))
    side = margin + width + _GAP_MM
    plan = head + height + OFF_MM + _GAP_MM
    for left, top, right, bottom in (
        (margin, head, margin + width, head + height),
        (side, head, side + depth, head + height),
        (margin, plan, margin + width, plan + depth),
    ):
        canvas.path(rectangle(left, top, right, bottom), Pen.HIDDEN)
    corner = margin - UPRIGHT_OFF_MM
    upright_size(canvas, complex(margin, head), complex(margin, head + height), corner, size(z, units))
    upright_size(canvas, complex(margin, plan), complex(margin, plan + depth), corner, size(y, units))
    low = head + height
    level_size(canvas, complex(margin, low), complex(margin + width, low), low + OFF_MM, size(x, units))
    area = show_area(part.figures.area_mm2 / 1e6, units)
    canvas.notes([shortened_to_fit(f"{subject.face('surface')}: {area}, {part.figures.triangles} triangles", 84.0)])
