"""Square legs, straight and tapered."""

from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import model_validator

from finplan.inputs.shapes.part import Part
from finplan.problems import shown
from finplan.reading import Form, LengthMm, LengthOrZeroMm, Reads, Record, check_all, fail


def _two_or_four(value: object) -> int:
    words: dict[Any, int] = {"two": 2, "four": 4, 2: 2, 4: 4}
    if isinstance(value, (str, int)) and not isinstance(value, bool) and value in words:
        return words[value]
    fail(f"{shown(value)} is not a number of tapered sides", "expected two (adjacent) or four")


class LegTaper(Record):
    """Square down to from-length, then straight to this side at the foot."""

    to_mm: LengthMm
    """Its side at the foot."""
    from_length_mm: LengthOrZeroMm = 0.0
    """How far down from the top it stays as thick as there."""
    sides: Annotated[int, Reads(_two_or_four), Form("two or four", {"enum": ["two", "four", 2, 4]})] = 4
    """Whether two adjacent sides are tapered, or all four."""


class SquareLeg(Part):
    """A square leg, straight or tapered on two or four sides."""

    FACES: ClassVar[tuple[str, ...]] = ("sides", "top-end", "foot-end")
    shape: Literal["square-leg"]
    side_mm: LengthMm
    """How thick it is, at the top."""
    length_mm: LengthMm
    """How long it is."""
    taper: LegTaper | None = None
    """How it gets thinner towards the foot."""

    @model_validator(mode="after")
    def _taper_fits(self) -> Self:
        check_all(self._check_foot, self._check_start)
        return self

    def _check_foot(self) -> None:
        if self.taper and self.taper.to_mm > self.side_mm:
            fail(
                f"the taper widens from {self.side_mm:g} to {self.taper.to_mm:g} mm",
                "expected the foot to be the smaller end",
                ("taper", "to"),
            )

    def _check_start(self) -> None:
        if self.taper and self.taper.from_length_mm >= self.length_mm:
            fail(
                f"the taper starts at {self.taper.from_length_mm:g} mm of a leg {self.length_mm:g} mm long",
                "expected from-length to be less than the length",
                ("taper", "from-length"),
            )
