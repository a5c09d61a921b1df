"""Parts modelled as a triangle mesh."""

from __future__ import annotations

from finplan.inputs.shapes import Mesh
from finplan.surface.face import BareFace


def mesh_faces(part: Mesh) -> list[BareFace]:
    """Return the one face of a mesh; it was measured when the file was read."""
    return [BareFace("surface", part.figures.area_mm2, part.figures.end_grain)]
