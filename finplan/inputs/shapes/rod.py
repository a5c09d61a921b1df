"""Round rods, straight, bent and tapered."""

from typing import ClassVar, Literal, Self

from pydantic import model_validator

from finplan.inputs.shapes.bend import Bend
from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.part import Part
from finplan.reading import LengthMm, Record, check_all, fail


class RodTaper(Record):
    """The rod gets thinner in a straight line."""

    to_mm: LengthMm
    """The diameter at the far end."""


class Rod(Circle, Part):
    """A round rod: straight or bent, of one thickness or tapered."""

    FACES: ClassVar[tuple[str, ...]] = ("side", "ends")
    shape: Literal["rod"]
    length_mm: LengthMm
    """Along its middle."""
    taper: RodTaper | None = None
    """How it gets thinner."""
    bend: Bend | None = None
    """How it is bent; the grain follows the bend."""

    @property
    def far_diameter_mm(self) -> float:
        """The diameter at the far end. [mm]"""
        return self.taper.to_mm if self.taper else self.diameter_mm

    @property
    def radius_of_bend_mm(self) -> float | None:
        """The radius of its bend, to its middle; None where it is straight. [mm]"""
        return self.bend.radius_for(self.length_mm) if self.bend else None

    @model_validator(mode="after")
    def _can_be_made(self) -> Self:
        check_all(self._check_far_end, self._check_bend)
        return self

    def _check_far_end(self) -> None:
        if self.far_diameter_mm > self.diameter_mm:
            fail(
                f"the taper thickens from {self.diameter_mm:g} to {self.far_diameter_mm:g} mm",
                "expected the near end to be the thicker",
                ("taper", "to"),
            )

    def _check_bend(self) -> None:
        if self.bend is None:
            return
        self.bend.check(self.length_mm)
        radius_mm = self.bend.radius_for(self.length_mm)
        if radius_mm <= self.diameter_mm / 2:
            fail(
                f"the bend of radius {radius_mm:.6g} mm is not wider than half the rod's {self.diameter_mm:g} mm",
                "expected a radius, measured to the middle, above half the diameter",
                ("bend",),
            )
