"""A bend: of how wide a circle a board or a rod is a part."""

import math
from typing import Self

from pydantic import model_validator

from finplan.inputs.shapes.part import OptionalLength, given_once
from finplan.reading import Record, fail

_ROUNDING = 1 + 1e-9


class Bend(Record):
    """An even bend over the whole length, by its radius or by how far it rises. Lengths are in mm."""

    radius_mm: OptionalLength = None
    """Of a board to its front, of a rod to its middle."""
    rise_mm: OptionalLength = None
    """How far the middle stands above the straight line from end to end; of a board that of its front."""

    @model_validator(mode="after")
    def _given_once(self) -> Self:
        given_once({"radius": self.radius_mm, "rise": self.rise_mm}, "the bend")
        return self

    def radius_for(self, length_mm: float) -> float:
        """Return the radius of a bend along which a length runs. [mm]

        Notes
        -----
        An arc of length L on a circle of radius r rises by ``r·(1 − cos(L/2r))``. With half its angle φ that is
        ``L·(1 − cos φ)/2φ``, which grows until beyond a half circle, and so is solved by halving.

        >>> round(Bend.model_construct(rise_mm=100.0).radius_for(math.pi * 100), 6)    # a half circle
        100.0
        """
        if self.radius_mm is not None:
            return self.radius_mm
        share = (self.rise_mm or 0.0) / length_mm
        low, high = 0.0, math.pi / 2
        for _ in range(100):
            middle = (low + high) / 2
            low, high = (middle, high) if math.sin(middle / 2) ** 2 / middle < share else (low, middle)
        return length_mm / 2 / high

    def check(self, length_mm: float) -> None:
        """Fail where a length does not fit on the bend."""
        if self.rise_mm is not None and self.rise_mm > length_mm / math.pi * _ROUNDING:
            fail(
                f"the bend rises {self.rise_mm:g} mm over a length of {length_mm:g} mm",
                f"expected at most {length_mm / math.pi:.4g} mm: a half circle",
                ("bend", "rise"),
            )
        if self.radius_mm is not None and length_mm > 2 * math.pi * self.radius_mm * _ROUNDING:
            fail(
                f"a length of {length_mm:g} mm runs more than once round a bend of radius {self.radius_mm:g} mm",
                f"expected at most {2 * math.pi * self.radius_mm:.4g} mm, or a wider bend",
                ("length",),
            )
