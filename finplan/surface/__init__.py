"""The exact area, exposure and end grain of every face of every part."""

from finplan.surface.face import Face, PartSurface, PieceSurface
from finplan.surface.part import part_surface
from finplan.surface.piece import piece_surface, surface_findings

__all__ = ["Face", "PartSurface", "PieceSurface", "part_surface", "piece_surface", "surface_findings"]
