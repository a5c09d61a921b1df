"""Timbers: what their pores, oils, tannins and dust mean for a finish."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.catalogue.system import PoreClass
from finplan.reading import PercentageRange, Record, Title


class Shrinkage(Record):
    """Shrinkage from green to oven-dry."""

    radial_pct: PercentageRange
    tangential_pct: PercentageRange
    volumetric_pct: PercentageRange | None = None


class Movement(Record):
    """Dimensional change coefficients: change of width per width and per 1 % of moisture content."""

    radial: float = Field(gt=0, lt=0.01)
    tangential: float = Field(gt=0, lt=0.01)


class Dust(Record):
    """What the dust is known to do."""

    sensitiser: int = Field(ge=0, le=4)
    """Potency, 0 (not listed) to 4."""
    hardwood: bool
    """Counts as hardwood dust in exposure limits."""


class Timber(Sourced):
    """A timber."""

    botanical: Title
    pores: PoreClass
    large_pores: bool = False
    """Diffuse-porous, but open to the eye and finished like ring-porous timber: mahogany."""
    specific_gravity: float = Field(gt=0.1, lt=1.4)
    """Oven-dry mass over volume at 12 % moisture content."""
    tannin: Literal["none", "low", "medium", "high"]
    oily: bool = False
    blotches: bool = False
    resinous: bool = False
    filler_for_flat: bool = False
    """Needs its pores filled for a flat finish."""
    shrinkage: Shrinkage | None = None
    movement: Movement | None = None
    dust: Dust

    @property
    def open_pored(self) -> bool:
        """Whether the pores show under a thin finish."""
        return self.large_pores or self.pores in ("ring-porous", "semi-ring-porous")
