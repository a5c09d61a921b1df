"""Straight round rods."""

from __future__ import annotations

import math

from finplan.inputs.shapes import Rod
from finplan.surface.face import BareFace


def rod_faces(part: Rod) -> list[BareFace]:
    """Return the side of a rod, and its two ends together.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> rod, _ = validate(Rod, {"shape": "rod", "diameter": 20, "length": 400}, lengths="mm")
    >>> [(face.face, face.area_mm2) for face in rod_faces(rod)]
    [('side', 25132.7), ('ends', 628.32)]
    """
    diameter = part.diameter_mm
    return [
        BareFace("side", math.pi * diameter * part.length_mm, 0.0),
        BareFace("ends", math.pi * diameter**2 / 2, 1.0),
    ]
