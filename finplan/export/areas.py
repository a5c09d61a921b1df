"""The areas of a piece as plain data."""

from __future__ import annotations

from typing import Any

from finplan.export.csv_text import csv_text, short
from finplan.surface import PieceSurface

COLUMNS = (
    *("piece", "part", "count", "shape", "timber", "face"),
    *("exposure", "finished", "area_m2", "end_grain", "all_m2"),
)
"""The columns of the spreadsheet; a row for every face. ``area_m2`` is of one part, ``all_m2`` of all of them."""


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


def areas_csv(surface: PieceSurface) -> str:
    """Return every face as comma-separated values; areas in m²."""
    return csv_text(
        COLUMNS,
        (
            [
                *(surface.piece, part.part, part.count, part.shape, part.timber, face.face, face.exposure),
                "no" if face.exposure == "covered" else "yes",
                *(short(face.area_m2), short(face.end_grain), short(part.count * face.area_m2)),
            ]
            for part in surface.parts
            for face in part.faces
        ),
    )
