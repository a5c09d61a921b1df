"""Rules of sanding that hold in every system: the ladder of grades, undersides, veneer, wear, and what is gone over."""

from __future__ import annotations

from pydantic import Field

from finplan.catalogue.record import Grit, Sourced
from finplan.reading import CountRange, DurationHRange, LengthMm, Percentage, RatioRange, Record


class HiddenFaces(Record):
    """Faces that are finished but not looked at."""

    sooner: int = Field(ge=0, le=4)
    """How many grades of the ladder sooner they stop."""
    not_coarser: Grit
    """They are sanded at least to this grade, or to that of the faces where that is coarser."""


class VeneerLimits(Record):
    """How much of a veneer may be sanded."""

    share_pct: Percentage
    """Of its thickness."""
    most_mm: LengthMm
    """However thick it is."""
    coarsest: Grit
    """No grade coarser than this goes on it."""


class Wear(Record):
    """How much of an abrasive is used up, against hardwood."""

    resinous: float = Field(gt=0, le=5)
    """On resinous timber, which clogs it."""
    veneer: float = Field(gt=0, le=5)
    """On veneer, of which little is taken."""


class SandingRules(Sourced):
    """Rules of sanding that hold in every system."""

    ladder: tuple[Grit, ...] = Field(min_length=2)
    """The grades that shops commonly keep, coarse to fine; steps finer and sooner are counted along it."""
    as_good: float = Field(ge=1, lt=1.2)
    """A grade whose grain is no more than so many times larger or smaller does for another."""
    hidden: HiddenFaces
    """Faces that are not looked at."""
    veneer: VeneerLimits
    """Veneered faces."""
    wear: Wear
    """What is used up on other wood than hardwood."""
    joints: RatioRange
    """The share of the flat show faces of an assembly that is gone over by hand when the glue is off."""
    masking_h: DurationHRange
    """Covering one face that is to be glued, per part."""
    loose_kg_m3: CountRange
    """How much a cubic metre of heaped dust weighs, in kg."""
    airborne_pct: Percentage
    """The share of the dust that is taken to hang in still air where nothing draws it off: an assumption."""
