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
        self._boards: dict[str, dict[str, float]] = {face: {} for face in faces}

    def add(self, face: str, area_mm2: float, end_grain_mm2: float = 0.0, *, of: str = "") -> None:
        """Add a surface to *face*.

        Parameters
        ----------
        face
            The face
        area_mm2
            How large it is; a negative one takes away. [mm²]
        end_grain_mm2
            The integral of |n·g| over it. [mm²]
        of
            Which board it is of; empty where that is no matter
        """
        if of:
            boards = self._boards[face]
            boards[of] = boards.get(of, 0.0) + area_mm2
        self._areas[face].append(area_mm2)
        self._turned[face].append(end_grain_mm2)

    def faces(self) -> list[BareFace]:
        """Return the faces in the order in which they were named."""
        faces: list[BareFace] = []
        for face, areas in self._areas.items():
            area_mm2 = max(0.0, math.fsum(areas))
            turned_mm2 = math.fsum(self._turned[face])
            end_grain = min(1.0, max(0.0, turned_mm2 / area_mm2)) if area_mm2 else 0.0
            boards = {name: max(0.0, of_mm2) for name, of_mm2 in self._boards[face].items()}
            whole_mm2 = math.fsum(boards.values())
            shares = tuple((name, of_mm2 / whole_mm2) for name, of_mm2 in boards.items() if of_mm2 > 0)
            faces.append(BareFace(face, area_mm2, end_grain, shares))
        return faces
