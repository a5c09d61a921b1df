"""What has to be there before the tin is opened, for what is said of the air of a session to hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from finplan.safety.session import Session

ConditionKind = Literal["fan", "openings", "booth", "mask", "breathing-protection"]
"""The fan of the room; doors and windows; a spray booth, or the word of the shop file that it is sprayed without; a
mask with cartridges; what the safety data sheet demands."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing to tick before the tin is opened."""

    kind: ConditionKind
    steps: tuple[str, ...]
    """The ids of the rows that rest on it."""


def session_conditions(session: Session, *, without_booth: bool) -> tuple[Condition, ...]:
    """Return what a session rests on; *without_booth* is whether the shop file says that it is sprayed without one."""
    return tuple(_conditions(session, without_booth=without_booth))


def _conditions(session: Session, *, without_booth: bool) -> Iterator[Condition]:
    if session.air.fan_m3_h and (session.rests_on_fan or session.verdict != "enough"):
        yield Condition("fan", session.steps)
    if session.verdict == "unknown" and session.air.missing:
        yield Condition("openings", session.steps)
    drawn_off = [emission.id for emission in session.emissions if emission.at_booth]
    asked = [emission.id for emission in session.emissions if emission.booth_asked]
    sprayed = tuple(dict.fromkeys(drawn_off if session.in_booth else asked if without_booth else ()))
    if sprayed:
        yield Condition("booth", sprayed)
    if session.isocyanate:
        yield Condition("breathing-protection", session.steps)
    if session.mask is not None and not session.isocyanate:
        yield Condition("mask", session.steps)
