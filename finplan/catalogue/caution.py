"""Cautions: what to print, when it applies, why, and on whose word."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import Sentence

Moment = Literal["before", "sanding", "coating", "end of each step", "end of the day", "drying", "delivery", "always"]
Trigger = Literal[
    "always",
    "self-heating",
    "fresh-oil-dust",
    "flammable",
    "flammable-cleaner",
    "isocyanate",
    "sensitiser",
    "acid",
    "sanding",
    "machine-sanding",
    "hardwood-dust",
    "allergenic-dust",
    "reactive-dust",
    "old-paint",
    "spraying",
    "spraying-flammable",
    "oxidising-cure",
    "tannin-and-water",
    "oily-timber",
]


class Caution(Sourced):
    """One caution. It is printed when any of its triggers is there."""

    applies: tuple[Trigger, ...] = Field(min_length=1)
    """What calls for it."""
    when: Moment
    """When the person at the bench has to read it."""
    rank: int = Field(ge=1, le=9)
    """1 is the worst danger."""
    text: Sentence
    """What to do."""
    reason: Sentence
    """Why, so that it is heeded."""
