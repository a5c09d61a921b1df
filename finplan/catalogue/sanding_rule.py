"""Rules of sanding that hold in every system: grades, undersides, veneer, cutting, joints, what is worth buying."""

from pydantic import Field

from finplan.catalogue.finish import Family
from finplan.catalogue.record import Grit, Sourced
from finplan.reading import AreaM2, CountRange, DurationHRange, LengthMm, Percentage, Record


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


class Cutting(Record):
    """What the removal of a way of sanding holds for, and how it changes with the timber."""

    grit: Grit
    """The grade. What is taken off is proportional to the size of the grain."""
    specific_gravity: float = Field(gt=0.1, lt=1.4)
    """The specific gravity of the timber at 12 % moisture."""
    hardness: float = Field(ge=0, le=5)
    """Side hardness rises with this power of the specific gravity, and the volume taken off falls with hardness."""


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
    cutting: Cutting
    """How fast wood comes off."""
    resin_wear: float = Field(ge=1, le=5)
    """How many times as much is used up on resinous timber, which clogs it."""
    joint_h: DurationHRange
    """Levelling and sanding one joint by hand when the glue is off."""
    worth_buying_m2: AreaM2
    """A grade that is not at hand and is wanted for less than this is not bought; the nearest does."""
    kept_pieces: int = Field(ge=0, le=100)
    """How many pieces of each grade that it keeps a shop is taken to have, where its shelf does not count them."""
    masking_h: DurationHRange
    """Covering one face that is to be glued, per part."""
    not_masked_for: tuple[Family, ...]
    """Under finishes of these families no face is covered: the cloth stays off it."""
    loose_kg_m3: CountRange
    """How much a cubic metre of heaped dust weighs, in kg."""
    airborne_pct: Percentage
    """The share of the dust that is taken to hang in still air where nothing draws it off: an assumption."""
