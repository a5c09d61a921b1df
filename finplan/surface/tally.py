"""Adding up the surfaces that make a face."""

from __future__ import annotations

import math
from collections.abc import Sequence

from finplan.surface.face import BareFace


class Tally:
    """Collects surfaces by face. Areas in mm²."""

    def __init__(self, faces: Sequence[str]) -> None:
        self._areas: dict[str, list[float]] = {face: [] for face in faces}
        self._turned: dict[str, list[float]] = {face: [] for face in faces}

    def add(self, face: str, area_mm2: float, end_grain_mm2: float = 0.0) -> None:
        """Add a surface to *face*; *end_grain_mm2* is the integral of |n·g| over it. A negative area takes away."""
        self._areas[face].append(area_mm2)
        self._turned[face].append(end_grain_mm2)

    def faces(self) -> list[BareFace]:
        """Return the faces in the order in which they were named."""
        faces: list[BareFace] = []
        for face, areas in self._areas.items():
            area_mm2 = max(0.0, math.fsum(areas))
            turned_mm2 = math.fsum(self._turned[face])
            end_grain = min(1.0, max(0.0, turned_mm2 / area_mm2)) if area_mm2 else 0.0
            faces.append(BareFace(face, area_mm2, end_grain))
        return faces
