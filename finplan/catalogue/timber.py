"""Timbers: what their pores, oils, tannins and dust mean for a finish."""

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.catalogue.system import PoreClass, StopClass
from finplan.reading import LengthMm, Name, PercentageRange, Record, Title

Tannin = Literal["none", "low", "medium", "high"]


class Shrinkage(Record):
    """Shrinkage from green to oven-dry."""

    radial_pct: PercentageRange
    """Across the rings."""
    tangential_pct: PercentageRange
    """Along the rings."""
    volumetric_pct: PercentageRange | None = None
    """Of the volume."""


class Movement(Record):
    """Dimensional change coefficients: change of width per width and per 1 % of moisture content."""

    radial: float = Field(gt=0, lt=0.01)
    """Across the rings."""
    tangential: float = Field(gt=0, lt=0.01)
    """Along the rings."""


class Dust(Record):
    """What the dust is known to do."""

    sensitiser: int = Field(ge=0, le=4)
    """Potency, 0 (not listed) to 4."""
    hardwood: bool
    """Counts as hardwood dust in exposure limits."""


class SheetGoods(Record):
    """What is otherwise on a sheet of boards or fibres than on solid wood."""

    faces: Name
    """How its faces come to the bench: a name in surfaces.yaml."""
    edges: Name
    """How its cut edges do."""
    faces_drink: Name
    """How much its faces drink: a name in absorption.yaml."""
    edges_drink: Name
    """How much its cut edges drink."""
    veneer_mm: LengthMm | None = None
    """How thick the veneer is that its faces are of; none where they are not veneered."""
    resin: bool = True
    """Its dust is fine, and holds the resin that binds it."""


class Timber(Sourced):
    """A timber, or a sheet that is made of wood."""

    botanical: Title
    """The Latin name; of a sheet, what it is made of."""
    pores: PoreClass
    """How its pores lie in a ring."""
    large_pores: bool = False
    """Diffuse-porous, but open to the eye and finished like ring-porous timber: mahogany."""
    specific_gravity: float = Field(gt=0.1, lt=1.4)
    """Oven-dry mass over volume at 12 % moisture content."""
    tannin: Tannin
    """How strongly it stains with iron and water."""
    oily: bool = False
    """Oils in it slow drying and keep a film from holding."""
    blotches: bool = False
    """It takes colour unevenly."""
    resinous: bool = False
    """Resin bleeds from knots and streaks."""
    dark: bool = False
    """Too dark for a finish that is to keep it pale."""
    filler_for_flat: bool = False
    """Needs its pores filled for a flat finish."""
    sheet: SheetGoods | None = None
    """What is otherwise where it is a sheet: fibreboard, plywood, veneered board."""
    wants: tuple[Name, ...] = ()
    """Steps beside the coats that it always gets before its first coat."""
    shrinkage: Shrinkage | None = None
    """How much it shrinks from green to oven-dry."""
    movement: Movement | None = None
    """How much its width changes with each 1 % of moisture."""
    dust: Dust
    """What its dust is known to do."""

    @property
    def open_pored(self) -> bool:
        """Whether the pores show under a thin finish."""
        return self.large_pores or self.pores in ("ring-porous", "semi-ring-porous")

    @property
    def stop_class(self) -> StopClass:
        """Which of a system's stop grits is for this timber."""
        if self.oily:
            return "oily"
        if self.pores == "softwood":
            return "softwood"
        return "open" if self.open_pored else "closed"
