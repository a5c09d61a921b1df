"""Flat panels: an outline, a thickness and an edge."""

from typing import Annotated, ClassVar, Literal, Self

from pydantic import ValidationError, ValidationInfo, model_validator

from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.edge import Edge, EdgeField
from finplan.inputs.shapes.part import OptionalLength, Part, given_once
from finplan.problems import shown
from finplan.reading import (
    LengthMm,
    LengthOrZeroMm,
    Reads,
    fail,
    findings_of,
    whole_number,
)


class Panel(Part):
    """What all panels share."""

    FACES: ClassVar[tuple[str, ...]] = ("top", "underside", "edge")

    thickness_mm: LengthMm
    """How thick it is."""
    edge: EdgeField = Edge()
    """The profile of its edge, all round."""


def _hole(value: object, info: ValidationInfo) -> Circle:
    data = value if isinstance(value, dict) else {"diameter": value}
    try:
        return Circle.model_validate(data, context=info.context)
    except ValidationError as error:
        first = findings_of(error, Circle)[0]
        fail(first.wrong, first.expected, first.path if isinstance(value, dict) else ())


class Disc(Circle, Panel):
    """A round panel, with a round hole in the middle if wanted."""

    shape: Literal["disc"]
    hole: Annotated[Circle | None, Reads(_hole, in_context=True)] = None
    """A round hole in the middle: its diameter, or {radius: …}, {circumference: …}."""

    def face_names(self) -> tuple[str, ...]:
        """Top, underside, edge and, where there is one, hole."""
        return (*self.FACES, "hole") if self.hole else self.FACES


class Ellipse(Panel):
    """An elliptical panel."""

    HAS_WIDTH: ClassVar[bool] = True
    shape: Literal["ellipse"]
    length_mm: LengthMm
    """The longer axis, along the grain."""
    width_mm: LengthMm
    """The axis across that."""


class Rectangle(Panel):
    """A rectangular panel, its corners square or rounded in plan."""

    HAS_WIDTH: ClassVar[bool] = True
    shape: Literal["rectangle"]
    length_mm: LengthMm
    """Along the grain."""
    width_mm: LengthMm
    """Across the grain."""
    corners_mm: LengthOrZeroMm = 0.0
    """The radius of its corners, seen from above; 0 where they are sharp."""

    @model_validator(mode="after")
    def _corners_fit(self) -> Self:
        half = min(self.length_mm, self.width_mm) / 2
        if self.corners_mm > half * (1 + 1e-12):
            fail(
                f"corners of radius {self.corners_mm:g} mm do not fit",
                f"expected at most half the shorter side, {half:g} mm",
                ("corners",),
            )
        return self


class Stadium(Panel):
    """Two half circles joined by straight sides; the length is over all."""

    HAS_WIDTH: ClassVar[bool] = True
    shape: Literal["stadium"]
    length_mm: LengthMm
    """Over all, from end to end."""
    width_mm: LengthMm
    """Across, which is the diameter of its ends."""

    @model_validator(mode="after")
    def _longer_than_wide(self) -> Self:
        if self.width_mm > self.length_mm:
            fail(
                f"the stadium is {self.width_mm:g} mm wide but only {self.length_mm:g} mm long",
                "expected length over all to be at least the width",
                ("width",),
            )
        return self


def _sides(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 3 <= value <= 1000:
        fail(f"{shown(value)} is not a number of sides", "expected 3 to 1000")
    return value


class Polygon(Panel):
    """A regular polygon."""

    shape: Literal["polygon"]
    sides: Annotated[int, Reads(_sides), whole_number(3, 1000)]
    """How many sides it has, all alike."""
    across_flats_mm: OptionalLength = None
    """From one side to that opposite; of an even number of sides. Give this or across-corners."""
    across_corners_mm: OptionalLength = None
    """The diameter of the circle through its corners. Give this or across-flats."""

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        given = given_once(
            {"across-flats": self.across_flats_mm, "across-corners": self.across_corners_mm}, "the polygon"
        )
        if given == "across-flats" and self.sides % 2:
            fail(
                f"a polygon of {self.sides} sides has no opposite flats",
                "give across-corners, or an even number of sides",
                ("across-flats",),
                at_key=True,
            )
        return self
