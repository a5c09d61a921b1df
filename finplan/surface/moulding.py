"""Mouldings: a section of straight lines and arcs, run out to a length. Drawn in ``finplan/guide/moulding.svg``."""

from __future__ import annotations

from finplan.inputs.shapes import Moulding
from finplan.surface.face import BareFace


def moulding_faces(part: Moulding) -> list[BareFace]:
    """Return the profiled face, the flat back that closes the section, and the two ends together.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> half_round = [[0, 0], {"arc": [20, 0], "rise": 10}]
    >>> fields = {"shape": "moulding", "profile": half_round, "length": 1000}
    >>> moulding, _ = validate(Moulding, fields, lengths="mm")
    >>> [(face.face, face.area_mm2) for face in moulding_faces(moulding)]
    [('face', 31415.9), ('back', 20000.0), ('ends', 314.16)]
    """
    section = part.profile
    return [
        BareFace("face", section.face_mm * part.length_mm, 0.0),
        BareFace("back", section.back_mm * part.length_mm, 0.0),
        BareFace("ends", 2 * section.area_mm2, 1.0),
    ]
