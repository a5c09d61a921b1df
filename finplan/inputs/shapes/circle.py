"""A circle, given by its diameter, its radius or the way round."""

import math
from typing import Self

from pydantic import Field, model_validator

from finplan.inputs.shapes.part import OptionalLength, given_once
from finplan.reading import Record


class Circle(Record):
    """Exactly one of diameter, radius and circumference. Lengths are in mm."""

    given_diameter_mm: OptionalLength = Field(None, alias="diameter")
    """Across it. Give one of diameter, radius and circumference."""
    given_radius_mm: OptionalLength = Field(None, alias="radius")
    """From its centre to its edge."""
    given_circumference_mm: OptionalLength = Field(None, alias="circumference")
    """All the way round it, as a tape says."""

    @model_validator(mode="after")
    def _given_once(self) -> Self:
        sizes = {
            "diameter": self.given_diameter_mm,
            "radius": self.given_radius_mm,
            "circumference": self.given_circumference_mm,
        }
        given_once(sizes, "the circle")
        return self

    @property
    def diameter_mm(self) -> float:
        """The diameter, however it was given. [mm]"""
        if self.given_diameter_mm is not None:
            return self.given_diameter_mm
        if self.given_radius_mm is not None:
            return 2 * self.given_radius_mm
        return (self.given_circumference_mm or 0.0) / math.pi
