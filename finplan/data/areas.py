"""The areas of a piece."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from finplan.data.csv_text import csv_text, short
from finplan.data.row import CountFromOne, NotNegative, Share, row, row_of, rows_of
from finplan.inputs.shapes import SHAPES, Exposure
from finplan.surface import PieceSurface

COLUMNS = (
    *("piece", "part", "count", "shape", "timber", "face"),
    *("exposure", "finished", "area_m2", "end_grain", "all_m2"),
)
"""The columns of the spreadsheet; a row for every face. ``area_m2`` is of one part, ``all_m2`` of all of them."""

Shape = Annotated[str, Field(json_schema_extra={"enum": list(SHAPES)})]


@row
class FaceRow:
    """Face."""

    face: str
    """Its name."""
    area_m2: NotNegative
    """Of one part, less what the file takes off. [m²]"""
    exposure: Exposure
    """`show` is looked at; `secondary` is finished, but not looked at; `covered` is glued, joined or masked,
    without finish."""
    end_grain: Share
    """The mean over the face of the normal against the grain: 0 along it, 1 an end."""


@row
class PartRow:
    """Part."""

    part: str
    """Its name."""
    shape: Shape
    """Its shape, as in the file."""
    count: CountFromOne
    """How many there are."""
    timber: str | None
    """Its timber, a name in the catalogue."""
    faces: tuple[FaceRow, ...]
    """Its faces."""
    area_m2: NotNegative
    """Of all faces of one part. [m²]"""
    finished_m2: NotNegative
    """The same without covered faces. [m²]"""


@row
class AreasRow:
    """Areas."""

    format: Literal["finplan-areas/1"]
    """Says what this is."""
    piece: str
    """The name in the file."""
    parts: tuple[PartRow, ...]
    """The parts, in the order of the file."""
    area_m2: NotNegative
    """Of all faces of all parts, every part counted. [m²]"""
    finished_m2: NotNegative
    """The same without covered faces. [m²]"""
    set_: CountFromOne | None = None
    """How many alike pieces the file is of; the areas above are of one of them. Left out where it is of one."""
    set_area_m2: NotNegative | None = None
    """Of all faces of all of them. [m²]"""
    set_finished_m2: NotNegative | None = None
    """The same without covered faces. [m²]"""


def areas_data(surface: PieceSurface) -> AreasRow:
    """Return every face of every part; areas in m², of one part, the totals at the end counting every part.

    Those of a set count every piece of it.
    """
    of_set: dict[str, object] = dict.fromkeys(("set_", "set_area_m2", "set_finished_m2"))
    if surface.alike > 1:
        of_set["set_"] = surface.alike
        of_set["set_area_m2"] = surface.alike * surface.area_m2
        of_set["set_finished_m2"] = surface.alike * surface.finished_m2
    parts = tuple(row_of(PartRow, part, faces=rows_of(FaceRow, part.faces)) for part in surface.parts)
    return row_of(AreasRow, surface, format="finplan-areas/1", parts=parts, **of_set)


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
