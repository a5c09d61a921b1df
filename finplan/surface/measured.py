"""Faces whose areas the maker measured."""

from __future__ import annotations

from finplan.inputs.shapes import MeasuredPart
from finplan.surface.face import BareFace


def measured_faces(part: MeasuredPart) -> list[BareFace]:
    """Return the faces as they stand in the file."""
    return [BareFace(name, face.area_m2 * 1e6, face.end_grain_pct / 100) for name, face in part.faces.items()]
