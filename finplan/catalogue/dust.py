"""Dust: how much of it may be breathed, and what holds it back."""

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import MassInAirMgM3, Percentage, Title


class DustLimit(Sourced):
    """The most wood dust that the air may hold, as a mean over a working day."""

    jurisdiction: Title
    """Where it holds, or who recommends it."""
    timbers: Literal["all", "hardwood"]
    """Of which timbers the dust is; of a mixture with hardwood all counts as hardwood."""
    limit_mg_m3: MassInAirMgM3
    """Mass of dust in the air."""


class DustClass(Sourced):
    """A class of extractors."""

    least_limit_mg_m3: float = Field(ge=0, le=1000)
    """It does for dust of which the air may hold more than this; where at_limit is true, also this much."""
    at_limit: bool
    """Whether it does for dust whose limit is just that."""
    passes_pct: Percentage
    """The most dust that it lets through."""
