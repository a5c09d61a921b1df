"""Coating systems: the ordered steps from bare wood to the finished surface."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, PlainValidator

from finplan.catalogue.record import Grit, Sourced
from finplan.reading import Name, Percentage, Record, Title, fail

PoreClass = Literal["ring-porous", "semi-ring-porous", "diffuse-porous", "softwood"]
Deed = Literal["sand", "raise-grain", "fill", "coat", "abrade", "rub-out"]
Progression = Literal["normal", "strict", "paint"]

_DEEDS: tuple[Deed, ...] = ("sand", "raise-grain", "fill", "coat", "abrade", "rub-out")


class StopGrit(Record):
    """The last grit on bare wood, by kind of timber."""

    open: Grit
    """Ring-porous, semi-ring-porous or large-pored: oak, ash, walnut, mahogany."""
    closed: Grit
    """Diffuse-porous: maple, beech, birch, cherry."""
    softwood: Grit
    oily: Grit


def _deed(value: object) -> Deed:
    for deed in _DEEDS:
        if value == deed:
            return deed
    fail(f"'{str(value)[:30]}' is not a step", f"expected one of {', '.join(_DEEDS)}")


class Step(Record):
    """One step of a system. ``finish`` and ``method`` belong to coats, ``grit`` to abrading."""

    do: Annotated[Deed, PlainValidator(_deed)]
    finish: Name | None = None
    methods: tuple[Name, ...] = ()
    """Ways of putting it on, the preferred one first; the first that the shop has is used."""
    thin_pct: Percentage = 0.0
    """Thinner, by volume of the finish."""
    grit: Grit | None = None
    note: Title | None = None


class Ratings(Record):
    """What the customer gets, 1 (poor) to 5 (excellent), as commonly rated in the trade."""

    water: int = Field(ge=1, le=5)
    heat: int = Field(ge=1, le=5)
    wear: int = Field(ge=1, le=5)
    repair: int = Field(ge=1, le=5)


class System(Sourced):
    """A coating system."""

    sheen: Title
    use: Title
    """What furniture it suits."""
    opaque: bool = False
    progression: Progression
    stop_grit: StopGrit
    end_grain_steps: int = Field(ge=0, le=3)
    """How many grades finer than the faces end grain is sanded."""
    steps: tuple[Step, ...] = Field(min_length=1)
    ratings: Ratings
    care: tuple[Title, ...] = ()

    def finishes(self) -> tuple[str, ...]:
        """Return the finishes it uses, each once, in order."""
        return tuple(dict.fromkeys(step.finish for step in self.steps if step.finish))
