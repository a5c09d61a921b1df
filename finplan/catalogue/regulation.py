"""Rules for information: what may be sold where, old paint, and what touches food or children."""

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import ConcentrationGL, Name, Sentence, Title


class VocLimit(Sourced):
    """The most organic vapour that a rule lets a litre of a category hold."""

    jurisdiction: Title
    """Where it holds."""
    category: Title
    """What the rule calls it."""
    limit_g_l: ConcentrationGL = Field(gt=0)
    """Of the product ready to use."""
    less_water: bool
    """Whether it counts per litre without the water in it."""
    finishes: tuple[Name, ...] = Field(min_length=1)
    """Which of our finishes fall into the category."""


class OldPaint(Sourced):
    """Until when paint may hold lead."""

    jurisdiction: Title
    """Where."""
    until: int = Field(ge=1900, le=2100)
    """What was painted before this year may hold lead."""


class ContactNote(Sourced):
    """What is published about finishes that touch food or children."""

    contact: Literal["food", "child"]
    """With what it is in contact."""
    pieces: tuple[Title, ...]
    """Words in the name of a piece that is meant for that contact; its care card then says it."""
    text: Sentence
    """What is published, and what it does not promise."""
