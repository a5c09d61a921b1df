"""Square legs: straight, or tapered on four sides or on two adjacent ones."""

from __future__ import annotations

import math

from finplan.inputs.shapes import SquareLeg
from finplan.surface.face import BareFace


def square_leg_faces(part: SquareLeg) -> list[BareFace]:
    """Return the sides and both ends of a square leg.

    Tapered on four sides it ends in a frustum about the leg's axis; on two, the other two sides stay flat, and all
    four narrow to the foot. Either way the slopes show side² − foot² from the end, which makes their end grain.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> fields = {"shape": "square-leg", "side": 45, "length": 720, "taper": {"to": 25, "sides": "two"}}
    >>> leg, _ = validate(SquareLeg, fields, lengths="mm")
    >>> [(face.face, face.area_mm2, face.end_grain) for face in square_leg_faces(leg)]
    [('sides', 100819.4, 0.01389), ('top-end', 2025.0, 1.0), ('foot-end', 625.0, 1.0)]
    """
    side, foot, straight = part.side_mm, part.side_mm, part.length_mm
    sides_mm2 = 0.0
    if part.taper:
        foot, straight = part.taper.to_mm, part.taper.from_length_mm
        fall, run = side - foot, part.length_mm - straight
        if part.taper.sides == 4:
            sides_mm2 = 2 * (side + foot) * math.hypot(run, fall / 2)
        else:
            sides_mm2 = (side + foot) * (run + math.hypot(run, fall))
    sides_mm2 += 4 * side * straight
    return [
        BareFace("sides", sides_mm2, (side**2 - foot**2) / sides_mm2),
        BareFace("top-end", side**2, 1.0),
        BareFace("foot-end", foot**2, 1.0),
    ]
