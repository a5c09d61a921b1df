"""Cautions: what to print, when it applies, why, and on whose word."""

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import Name, Sentence

Moment = Literal[
    "before",
    "sanding",
    "coating",
    "end of each step",
    "end of the day",
    "drying",
    "emergency",
    "delivery",
    "always",
]
Trigger = Literal[
    "always",
    "self-heating",
    "fresh-oil-dust",
    "flammable",
    "burning-waste",
    "flammable-cleaner",
    "vapour",
    "short-of-air",
    "air-near-burning",
    "isocyanate",
    "sensitiser",
    "acid",
    "acid-to-mix",
    "acid-within",
    "lime",
    "powder",
    "sanding",
    "machine-sanding",
    "lathe-sanding",
    "hardwood-dust",
    "allergenic-dust",
    "reactive-dust",
    "lime-dust",
    "old-paint",
    "old-paint-test",
    "old-paint-clean-up",
    "old-paint-untested",
    "old-paint-found",
    "old-paint-traces",
    "old-film-below",
    "spraying",
    "spraying-flammable",
    "residue-of-another",
    "oxidising-cure",
    "reactive-cure",
    "tannin-and-water",
    "oily-timber",
    "board-dust",
    "hot-tool",
    "hot-air",
    "stripper",
    "old-film-waste",
]


class Caution(Sourced):
    """One caution. It is printed when any of its triggers is there.

    What it asks for in the rows of work in which that is so stands beside it; all that is said, ticked, worn, had and
    bought there is read from these fields and from nothing else.
    """

    applies: tuple[Trigger, ...] = Field(min_length=1)
    """What calls for it."""
    when: Moment
    """When the person at the bench has to read it."""
    rank: int = Field(ge=1, le=9)
    """1 is the worst danger."""
    text: Sentence
    """What to do."""
    where_isocyanate: Sentence | None = None
    """What to do where isocyanate hardener is in the job as well, whose gas bursts what is shut tightly."""
    reason: Sentence
    """Why, so that it is heeded."""
    row: Sentence | None = None
    """What is said of it in a row of work, in short."""
    before: Sentence | None = None
    """What is ticked before the work is begun, or the tin opened."""
    after: Sentence | None = None
    """What is ticked when the work ends."""
    evening: Sentence | None = None
    """What is ticked at the end of a day on which it was there."""
    evening_where_isocyanate: Sentence | None = None
    """What is ticked instead where something was wet with isocyanate hardener on that day, which is never shut in."""
    uses: tuple[Name, ...] = ()
    """Consumables that are worn or used in that work, and bought."""
    needs: tuple[Name, ...] = ()
    """Equipment that is worn or stands ready in that work, and is had in the shop."""
