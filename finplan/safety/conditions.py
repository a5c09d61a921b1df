"""What has to be there before the tin is opened, for what is said of the air of a session to hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.quantity import Units
from finplan.safety.session import Session
from finplan.showing import capital, show_flow

ConditionKind = Literal["fan", "openings", "booth", "mask", "breathing-protection"]
"""The fan of the room; doors and windows; a spray booth; a mask with cartridges; what the safety data sheet demands."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing to tick before the tin is opened."""

    kind: ConditionKind
    steps: tuple[str, ...]
    """The ids of the rows that rest on it."""
    text: str


def conditions(session: Session, catalogue: Catalogue, units: Units) -> tuple[Condition, ...]:
    """Return what a session rests on."""
    return tuple(_conditions(session, catalogue, units))


def _conditions(session: Session, catalogue: Catalogue, units: Units) -> Iterator[Condition]:
    if session.air.fan_m3_h and (session.rests_on_fan or session.verdict != "enough"):
        flow = show_flow(session.air.fan_m3_h, units)
        yield Condition(
            "fan", session.steps, f"{session.air.draws} of {session.room} ON ({flow}), the way in and out free."
        )
    if session.verdict == "unknown" and session.air.missing:
        yield Condition("openings", session.steps, f"Doors and windows of {session.room} open on two sides.")
    sprayed = tuple(dict.fromkeys(one.id for one in session.emissions if one.at_booth))
    if sprayed and session.in_booth:
        flow = show_flow(session.air.booth_m3_h, units)
        text = f"In the spray booth, its exhaust ON ({flow}), filters clean; it runs on until the vapour is gone."
        yield Condition("booth", sprayed, text)
    elif sprayed:
        text = "Without a spray booth, on the word of the shop file: nothing within 6 m that sparks or burns."
        yield Condition("booth", sprayed, text)
    if session.isocyanate:
        text = "Breathing protection as the safety data sheet demands ON; nobody else in the room."
        yield Condition("breathing-protection", session.steps, text)
    if session.mask is not None and not session.isocyanate:
        mask = capital(catalogue.respirators[session.mask].title)
        yield Condition("mask", session.steps, f"{mask} ON, fitted, cartridges fresh; everybody else out.")
