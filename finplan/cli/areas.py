"""The areas of a piece for a person."""

from __future__ import annotations

from finplan.cli.table import table
from finplan.quantity import Units
from finplan.showing import show_area
from finplan.surface import PieceSurface


def areas_lines(surface: PieceSurface, units: Units) -> list[str]:
    """Return a table by part and face, and the totals."""
    rows: list[list[str]] = []
    for part in surface.parts:
        name = part.part if part.count == 1 else f"{part.part} (1 of {part.count})"
        for face in part.faces:
            rows.append(
                [name, face.face, show_area(face.area_m2, units), face.exposure, f"{face.end_grain * 100:.0f} %"]
            )
            name = ""
        label = "all faces" if part.count == 1 else f"all faces, all {part.count}"
        rows.append(["", label, show_area(part.count * part.area_m2, units), "", ""])
    of_set = f"All {surface.alike} of the set: {_finished(surface, units, surface.alike)}."
    return [
        surface.piece,
        "",
        *table(["part", "face", "area", "exposure", "end grain"], rows, "llrlr"),
        "",
        f"All parts together: {_finished(surface, units)}.",
        *([] if surface.alike == 1 else [of_set]),
    ]


def _finished(surface: PieceSurface, units: Units, alike: int = 1) -> str:
    finished = show_area(alike * surface.finished_m2, units)
    return f"{show_area(alike * surface.area_m2, units)}, of which {finished} get finish"
