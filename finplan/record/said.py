"""What the record has to say beside what was asked: of a tick what it does not teach, of a held plan why it is left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Finish

NoLesson = Literal["liquid", "in-part", "no-density", "not-dried-on"]
"""A liquid of a step beside the coats; a coat put on in part; a weight without a density; dry, with no coat waiting."""
HeldLeft = Literal["left-out", "other-version", "breaks-a-rule", "planned-together"]


@dataclass(frozen=True, slots=True)
class NothingLearnt:
    """A tick that teaches nothing of what it tells."""

    why: NoLesson
    name: str = ""
    """The liquid or the finish, a name in the catalogue."""


@dataclass(frozen=True, slots=True)
class UnfitAir:
    """A finish was put on in air that it does not bear."""

    finish: Finish
    temperature_c: float | None
    """None where it is within what is asked for, or was not told."""
    humidity_pct: float | None
    """Likewise."""


TickNote = NothingLearnt | UnfitAir


@dataclass(frozen=True, slots=True)
class HeldNote:
    """A held plan that is not shown as it is."""

    why: HeldLeft
    plan: int
    """Its number."""
    steps: tuple[int, ...] = ()
    """The numbers of steps that it leaves out."""
    rule: str = ""
    """The rule of the shop that it breaks."""
    others: tuple[str, ...] = ()
    """The files that were planned together with those that are asked for."""
