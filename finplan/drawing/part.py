"""The drawing of one part, whatever its shape."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from finplan.drawing.board import board_words, draw_board
from finplan.drawing.canvas import Canvas
from finplan.drawing.carcase import carcase_words, draw_carcase
from finplan.drawing.door import door_words, draw_door
from finplan.drawing.drawer import draw_drawer, drawer_words
from finplan.drawing.leg import draw_leg, leg_words
from finplan.drawing.measured import draw_measured, measured_words
from finplan.drawing.mesh import draw_mesh, mesh_words
from finplan.drawing.moulding import draw_moulding, moulding_words
from finplan.drawing.panel import draw_panel, panel_words
from finplan.drawing.rod import draw_rod, rod_words
from finplan.drawing.subject import Subject, covered_faces
from finplan.drawing.turned import draw_turned, turned_words
from finplan.inputs.shapes import Part
from finplan.quantity import Units
from finplan.showing import capital
from finplan.surface import bare_faces

Draw = Callable[[Any, Subject, Canvas], None]
Words = Callable[[Any, Units], str]

DRAWINGS: dict[str, tuple[Draw, Words]] = {
    "disc": (draw_panel, panel_words),
    "ellipse": (draw_panel, panel_words),
    "rectangle": (draw_panel, panel_words),
    "stadium": (draw_panel, panel_words),
    "polygon": (draw_panel, panel_words),
    "outline": (draw_panel, panel_words),
    "turned": (draw_turned, turned_words),
    "board": (draw_board, board_words),
    "square-leg": (draw_leg, leg_words),
    "rod": (draw_rod, rod_words),
    "moulding": (draw_moulding, moulding_words),
    "carcase": (draw_carcase, carcase_words),
    "drawer": (draw_drawer, drawer_words),
    "door": (draw_door, door_words),
    "mesh": (draw_mesh, mesh_words),
    "measured": (draw_measured, measured_words),
}
"""What draws each shape, and what says in words what the drawing shows."""


def part_drawing(
    name: str,
    part: Part,
    units: Units,
    *,
    glued: Collection[str] = (),
    exposures: Mapping[str, str] | None = None,
) -> str:
    """Return the drawing of a part as a self-contained SVG file.

    Parameters
    ----------
    name
        How the file calls the part
    part
        As the file describes it
    units
        How sizes are shown
    glued
        The faces that are covered because they are glued to other parts
    exposures
        How every face is exposed, where fields are to be changed on the drawing: then texts say which fields they
        show (``data-pieces``) and where they stand (``data-box``)

    Raises
    ------
    FindingsError
        There is no such thing; paths start at the part.
    """
    bare_faces(part)
    draw, words = DRAWINGS[part.shape]
    canvas = Canvas(marked=exposures is not None)
    draw(part, Subject(units, covered_faces(part, glued), exposures), canvas)
    return canvas.drawing(f"{capital(name)}, {words(part, units)}")
