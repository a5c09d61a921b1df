"""Abrasive grades and products, and how a surface is sanded from the state in which it comes."""

from math import pi
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from finplan.catalogue.pack import PiecePacks
from finplan.catalogue.ranges import LifeHRange
from finplan.catalogue.record import Grit, Sourced
from finplan.problems import shown
from finplan.reading import (
    DurationHRange,
    Form,
    LengthMm,
    MassPerTimeRange,
    MillimetreRange,
    Name,
    PerAreaRange,
    RatioRange,
    Reads,
    Record,
    SpeedRange,
    Title,
    fail,
)


def _size(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 1 <= value <= 3000:
        fail(f"{shown(value)} is not a grain size", "expected micrometres, 1 to 3000")
    return float(value)


GrainSize = Annotated[float, Reads(_size), Form("a grain size in µm: 58.5")]


class Grades(Sourced):
    """A scale of grades with the mean grain diameter of each, in µm, coarse to fine."""

    sizes_um: dict[str, GrainSize] = Field(alias="sizes")
    """Mean grain diameter of each grade."""


class Caps(Sourced):
    """How far the grain size may fall in one step, as a ratio, for each sort of work."""

    normal: float = Field(gt=1, lt=4)
    """Most work."""
    strict: float = Field(gt=1, lt=4)
    """Figured, dark-stained or gloss work."""
    paint: float = Field(gt=1, lt=4)
    """Work that will be painted."""
    scratch_depth: RatioRange
    """How deep a scratch is, as a share of the grain size."""


class IncomingSurface(Sourced):
    """How a surface comes to the bench, and where sanding it starts."""

    start: Grit
    """The first grade."""
    remove_mm: MillimetreRange
    """How much has to come off."""


class BareWood(Record):
    """How a way of sanding does on bare wood. Speeds are surface per hour and grade."""

    flat_m2_h: SpeedRange
    """How fast flat surfaces are passed over."""
    profile_m2_h: SpeedRange | None = None
    """How fast edges, mouldings and turnings are; none where it cannot sand them."""
    removal_g_min: MassPerTimeRange
    """What it takes off with paper half worn, of the grade and timber that the rules of sanding name."""
    life_h: LifeHRange
    """How long a piece of what is used up cuts."""
    end_grain: RatioRange
    """Factor on the speed and on what it takes off, across end grain."""


class SandingMethod(Sourced):
    """A way of sanding. A grade takes as long as passing over it all, or as cutting off what has to come off."""

    by: Literal["machine", "hand", "lathe"] = "machine"
    """What moves the abrasive: a machine on flat faces, a hand anywhere, or a lathe the work."""
    product: Title
    """What is used up, as a sheet says it: disc, sheet, strip."""
    abrasive: Name
    """The record of what is used up."""
    bare_wood: BareWood | None = None
    """Sanding bare wood; none where it only dulls a coat."""
    scuff_flat_m2_h: SpeedRange
    """Flat surfaces between coats."""
    scuff_profile_m2_h: SpeedRange | None = None
    """Edges, mouldings and turnings between coats."""
    scuff_use_per_m2: PerAreaRange
    """Pieces used up between coats."""
    scuff_grit: Grit
    """Between coats, where a system names none."""
    handling_h: DurationHRange
    """Per part: fetching, clamping, setting down."""
    inside_width_mm: LengthMm | None = None
    """Inside a carcase or a drawer: how wide each surface has to be for it; none where it goes anywhere."""
    inside_clear_mm: LengthMm | None = None
    """There: how far off the surface opposite has to be."""

    follows_hollow_mm: LengthMm | None = None
    """Along a hollow bend: the least radius that it follows; none where it follows any."""

    def follows(self, hollow_mm: float) -> bool:
        """Return whether it follows a hollow bend of such a radius. [mm]"""
        return hollow_mm >= (self.follows_hollow_mm or 0.0)

    def fits_inside(self, width_mm: float, clear_mm: float) -> bool:
        """Return whether it goes where surfaces are so wide and so far from what is opposite. [mm]"""
        return width_mm >= (self.inside_width_mm or 0.0) and clear_mm >= (self.inside_clear_mm or 0.0)


class Abrasive(Sourced):
    """An abrasive as sold: a disc by its diameter, a sheet or pad by length and width, a roll by its width."""

    form: Literal["disc", "sheet", "pad", "roll", "wool"]
    """What it is."""
    diameter_mm: LengthMm | None = None
    """Of a disc."""
    length_mm: LengthMm | None = None
    """Of a sheet or pad."""
    width_mm: LengthMm | None = None
    """Of a sheet, pad or roll."""
    grits: tuple[Grit, ...] = ()
    """Grades in which it is commonly sold."""
    cuts_as: tuple[Grit, ...] = ()
    """Grades between which a pad or wool cuts, coarse to fine; their own numbers and colours are no standard."""
    packs: PiecePacks = ()
    """How many are sold together."""
    lengths_mm: tuple[LengthMm, ...] = Field((), alias="lengths")
    """Lengths in which a roll is sold."""

    @model_validator(mode="after")
    def _sizes_fit_the_form(self) -> Self:
        round_, square, rolled = self.diameter_mm, self.length_mm, self.width_mm
        fits = {
            "disc": round_ is not None and square is None and rolled is None,
            "sheet": round_ is None and square is not None and rolled is not None,
            "pad": round_ is None and square is not None and rolled is not None,
            "roll": round_ is None and square is None and rolled is not None,
            "wool": round_ is None and square is None and rolled is None,
        }
        if not fits[self.form]:
            sizes = {"disc": "a diameter", "roll": "a width", "wool": "no size"}.get(self.form, "a length and a width")
            fail(f"a {self.form} is not given these sizes", f"expected {sizes}")
        if bool(self.lengths_mm) != (self.form == "roll"):
            fail(f"the lengths do not belong to a {self.form}", "expected lengths for a roll and for nothing else")
        if not (self.packs or self.lengths_mm):
            fail("field 'packs' is missing", "expected how many are sold together: [5, 10, 50]")
        return self

    @property
    def area_m2(self) -> float | None:
        """The abrasive face of one piece; None of rolls and wool. [m²]"""
        if self.diameter_mm is not None:
            return pi * self.diameter_mm**2 / 4e6
        if self.length_mm is not None and self.width_mm is not None:
            return self.length_mm * self.width_mm / 1e6
        return None
