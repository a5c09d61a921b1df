"""The areas of a piece as plain data."""

from __future__ import annotations

from typing import Any

from finplan.surface import PieceSurface


def areas_data(surface: PieceSurface) -> dict[str, Any]:
    """Return every face of every part; areas in m², of one part, the totals at the end counting every part."""
    return {
        "format": "finplan-areas/1",
        "piece": surface.piece,
        "parts": [
            {
                "part": part.part,
                "shape": part.shape,
                "count": part.count,
                "timber": part.timber,
                "faces": [
                    {
                        "face": face.face,
                        "area_m2": face.area_m2,
                        "exposure": face.exposure,
                        "end_grain": face.end_grain,
                    }
                    for face in part.faces
                ],
                "area_m2": part.area_m2,
                "finished_m2": part.finished_m2,
            }
            for part in surface.parts
        ],
        "area_m2": surface.area_m2,
        "finished_m2": surface.finished_m2,
    }
