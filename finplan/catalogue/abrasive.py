"""Abrasive grades, and how a surface is sanded from the state in which it comes."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, PlainValidator

from finplan.catalogue.record import Grit, Sourced
from finplan.reading import (
    DurationHRange,
    MillimetreRange,
    PerAreaRange,
    RatioRange,
    SpeedRange,
    Title,
    fail,
)


def _size(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 1 <= value <= 3000:
        fail(f"'{value}' is not a grain size", "expected micrometres, 1 to 3000")
    return float(value)


Size = Annotated[float, PlainValidator(_size)]


class Grades(Sourced):
    """A scale of grades with the mean grain diameter of each, in µm, coarse to fine."""

    sizes_um: dict[str, Size] = Field(alias="sizes")


class Caps(Sourced):
    """How far the grain size may fall in one step, as a ratio, for each sort of work."""

    normal: float = Field(gt=1, lt=4)
    strict: float = Field(gt=1, lt=4)
    paint: float = Field(gt=1, lt=4)
    scratch_depth: RatioRange
    """How deep a scratch is, as a share of the grain size."""


class IncomingSurface(Sourced):
    """How a surface comes to the bench, and where sanding it starts. Removal in mm."""

    start: Grit
    remove_mm: MillimetreRange


class SandingMethod(Sourced):
    """A way of sanding. Speeds in m² of surface per hour and grit, abrasives per m² and grit, handling in h a part."""

    product: Title
    """What is used up: disc, sheet, strip."""
    first_m2_h: SpeedRange
    """Flat surfaces, the first grit, which levels."""
    later_m2_h: SpeedRange
    """Flat surfaces, each finer grit."""
    profile_m2_h: SpeedRange | None = None
    """Edges, mouldings and turnings, each grit; None where it cannot sand them."""
    scuff_flat_m2_h: SpeedRange
    """Flat surfaces between coats."""
    scuff_profile_m2_h: SpeedRange | None = None
    use_first_per_m2: PerAreaRange
    use_later_per_m2: PerAreaRange
    use_scuff_per_m2: PerAreaRange
    scuff_grit: Grit
    """Between coats, where a system names none."""
    handling_h: DurationHRange
    end_grain: RatioRange
    """Factor on the speed across end grain."""
    packs: tuple[int, ...] = Field(min_length=1)
    """How many are sold together."""
