"""Which faces of a part are covered, and how a face is named on its drawing."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from finplan.drawing.told import told
from finplan.inputs.shapes import Part
from finplan.quantity import Units


@dataclass(frozen=True, slots=True)
class Subject:
    """What a drawing needs besides the part."""

    units: Units
    covered: Collection[str] = ()
    """The faces that get no finish."""
    exposures: Mapping[str, str] | None = None
    """How every face is exposed, where that can be changed on the drawing: it stands at each that is not for show."""

    def face(self, name: str) -> str:
        """Return how a face is named on the drawing.

        >>> Subject("metric", {"top-end"}).face("top-end")
        'top-end, covered'
        """
        if self.exposures is not None:
            exposure = self.exposures.get(name, "show")
            return told(name if exposure == "show" else f"{name}, {exposure}", "faces", name)
        return f"{name}, covered" if name in self.covered else name


def covered_faces(part: Part, glued: Collection[str] = ()) -> frozenset[str]:
    """Return the faces that the file covers, or that are glued to another part."""
    return frozenset(face for face in part.face_names() if face in glued or part.exposure(face) == "covered")
