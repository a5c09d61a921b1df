"""Round rods: straight or bent, of one thickness or tapered."""

from __future__ import annotations

import math

from finplan.geometry import integrate
from finplan.inputs.shapes import Rod
from finplan.surface.face import BareFace


def rod_faces(part: Rod) -> list[BareFace]:
    """Return the side of a rod, and its two ends together.

    Notes
    -----
    The length of a bent rod runs along its middle, so that what the inside loses the outside gains: ``π·d·length``, by
    Pappus and Guldin's first rule. Tapered and bent at once, a strip at the angle φ round the middle has the area
    ``r·sqrt((1 − κ·r·cos φ)² + r'²)·dφ·ds``, κ being one over the radius of the bend. The grain follows the bend; a
    taper shows it ``π·(r² − r_end²)``.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> rod, _ = validate(Rod, {"shape": "rod", "diameter": 20, "length": 400}, lengths="mm")
    >>> [(face.face, face.area_mm2) for face in rod_faces(rod)]
    [('side', 25132.7), ('ends', 628.32)]
    """
    near, far = part.diameter_mm / 2, part.far_diameter_mm / 2
    side_mm2 = _side_mm2(part, near, far)
    return [
        BareFace("side", side_mm2, math.pi * (near - far) * (near + far) / side_mm2),
        BareFace("ends", math.pi * (near**2 + far**2), 1.0),
    ]


def _side_mm2(part: Rod, near: float, far: float) -> float:
    length = part.length_mm
    if part.radius_of_bend_mm is None or near == far:
        return math.pi * (near + far) * math.hypot(length, near - far)
    curvature, slope = 1 / part.radius_of_bend_mm, (near - far) / length

    def girth(along: float) -> float:
        radius = near - slope * along
        half = integrate(lambda turn: math.hypot(1 - curvature * radius * math.cos(turn), slope), 0.0, math.pi)
        return 2 * radius * half

    return integrate(girth, 0.0, length)
