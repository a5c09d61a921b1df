"""The exact area, exposure and end grain of every face of every part."""

from finplan.surface.face import BareFace, Face, PartSurface, PieceSurface
from finplan.surface.inside import INNER, Inside, inside_of
from finplan.surface.part import bare_faces
from finplan.surface.piece import measured, piece_surface
from finplan.surface.plan_view import PlanView, plan_view
from finplan.surface.profile import Quarter, strokes

__all__ = [
    "INNER",
    "BareFace",
    "Face",
    "Inside",
    "PartSurface",
    "PieceSurface",
    "PlanView",
    "Quarter",
    "bare_faces",
    "inside_of",
    "measured",
    "piece_surface",
    "plan_view",
    "strokes",
]
