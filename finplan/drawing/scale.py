"""The scale of a view: one of a few round ratios, as on any workshop drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass

_STEPS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """How many millimetres on paper one millimetre of the part takes."""

    factor: float

    def __str__(self) -> str:
        if self.factor >= 1:
            return f"{self.factor:.6g} : 1"
        return f"1 : {1 / self.factor:.6g}"


def scale_for(*rooms: tuple[float, float]) -> Scale:
    """Return the largest round scale at which every size fits its room.

    Parameters
    ----------
    rooms
        Pairs of a size of the part and the room for it on paper. [mm]

    Examples
    --------
    >>> str(scale_for((1100.0, 70.0), (600.0, 50.0))), str(scale_for((4.0, 30.0)))
    ('1 : 20', '6 : 1')
    """
    limit = min(room / size for size, room in rooms)
    if limit >= 1:
        power = 10.0 ** math.floor(math.log10(limit))
        return Scale(power * max(step for step in _STEPS if step * power <= limit))
    reduction = 1 / limit
    power = 10.0 ** math.floor(math.log10(reduction))
    ratio = next((step * power for step in _STEPS if step * power >= reduction), 10 * power)
    return Scale(1 / ratio)
