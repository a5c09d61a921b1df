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
    of_set = (
        []
        if surface.alike == 1
        else [
            f"All {surface.alike} of the set: {show_area(surface.alike * surface.area_m2, units)}, "
            f"of which {show_area(surface.alike * surface.finished_m2, units)} get finish."
        ]
    )
    return [
        surface.piece,
        "",
        *table(["part", "face", "area", "exposure", "end grain"], rows, "llrlr"),
        "",
        f"All parts together: {show_area(surface.area_m2, units)}, "
        f"of which {show_area(surface.finished_m2, units)} get finish.",
        *of_set,
    ]
