"""The faces of one part, whatever its shape."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from finplan.inputs.shapes import Part
from finplan.surface.board import board_faces
from finplan.surface.carcase import carcase_faces
from finplan.surface.door import door_faces
from finplan.surface.drawer import drawer_faces
from finplan.surface.face import BareFace
from finplan.surface.measured import measured_faces
from finplan.surface.mesh import mesh_faces
from finplan.surface.moulding import moulding_faces
from finplan.surface.panel import panel_faces
from finplan.surface.rod import rod_faces
from finplan.surface.square_leg import square_leg_faces
from finplan.surface.turned import turned_faces

GEOMETRY: dict[str, Callable[[Any], Sequence[BareFace]]] = {
    "disc": panel_faces,
    "ellipse": panel_faces,
    "rectangle": panel_faces,
    "stadium": panel_faces,
    "polygon": panel_faces,
    "outline": panel_faces,
    "turned": turned_faces,
    "board": board_faces,
    "square-leg": square_leg_faces,
    "rod": rod_faces,
    "moulding": moulding_faces,
    "carcase": carcase_faces,
    "drawer": drawer_faces,
    "door": door_faces,
    "mesh": mesh_faces,
    "measured": measured_faces,
}
"""What gives the bare faces of each shape; raises FindingsError, its paths from the part down."""


def bare_faces(part: Part) -> Sequence[BareFace]:
    """Return the part's faces as geometry gives them.

    Raises
    ------
    FindingsError
        There is no such thing; paths start at the part.
    """
    return GEOMETRY[part.shape](part)
