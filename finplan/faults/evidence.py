"""What bears a cause out in a plan, or rules it out: facts with their figures, which others word."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import PlanFact

BornOut = Literal["found", "possible", "excluded"]
"""The plan or the record bears it out; neither can say; or one of them rules it out."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was found of one fact. Which unit the figures have follows from the fact."""

    fact: PlanFact
    standing: BornOut
    value: float | None = None
    """What was: °C, % humidity, hours, ml, a share of 1, %."""
    limit: float | None = None
    """What is asked, in the same unit."""
    names: tuple[str, ...] = ()
    """Steps, finishes, timbers that it speaks of."""
    clock_h: float | None = None
    """Of drying, how long it lay by the clock, in the air that there was; ``value`` is what that is worth at 23 °C."""
    recorded: bool = False
    """Whether the record says it; else it is the plan's, or the shop file's."""
