"""What to change where the air of a session is not enough, in the order in which to think of it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from finplan.catalogue import Catalogue
from finplan.quantity import Units
from finplan.safety.session import Session, needed_air
from finplan.showing import show_flow

_MEASURES = {
    "volume": "the room (length × width × height: `volume`)",
    "air-changes": "its air changes an hour (`air-changes`)",
    "fan": "what its fan really draws (`fan`)",
}


def remedies(session: Session, catalogue: Catalogue, units: Units) -> tuple[str, ...]:
    """Return what to do about a session, sentence by sentence; nothing where its air is enough."""
    return tuple(_remedies(session, catalogue, units))


def _remedies(session: Session, catalogue: Catalogue, units: Units) -> Iterator[str]:
    flow_m3_h = session.air.flow_m3_h
    if session.isocyanate:
        yield (
            "The hardener holds isocyanate, for which no fresh air answers: breathing protection as the safety data "
            "sheet demands, and nobody else in the room."
        )
    wanted_m3_h = max(session.needs_m3_h.target, session.needs_m3_h.health or 0.0)
    if session.booth_only:
        yield (
            f"What burns is sprayed only in a proper booth, its exhaust drawing {show_flow(wanted_m3_h, units)} or "
            "more, never in an open room."
        )
        return
    if flow_m3_h is None:
        told = " and ".join(_MEASURES[field] for field in session.air.missing)
        yield f"Nobody knows what air this room gets. Measure {told}, and write it under its room in the shop file."
        yield f"Until then count on nothing: {_needed(session, units)}, and open doors and windows on two sides."
        return
    if session.needs_m3_h.health is None:
        yield "What may be breathed of this solvent is not known here: go by its safety data sheet, and wear its mask."
    if wanted_m3_h <= flow_m3_h:
        return
    if flow_m3_h < session.needs_m3_h.fire:
        yield "Do not begin like this: the vapour would come closer to what burns than the rule allows."
    if session.air.missing:
        yield f"Only the fan is counted here: measure {' and '.join(_MEASURES[one] for one in session.air.missing)}."
    alone = _largest_alone(session, catalogue)
    if len(session.steps) > 1 and alone <= flow_m3_h:
        yield "Split the session: put each coat on when the one before is dust-free, and clean tools in another room."
    elif math.isfinite(alone) and alone < 0.8 * wanted_m3_h:
        share, whole = show_flow(alone, units), show_flow(wanted_m3_h, units)
        yield f"Split the session, one coat when the one before is dust-free: that takes {share} instead of {whole}."
    yield f"Draw out {show_flow(wanted_m3_h - flow_m3_h, units)} more by a fan, in all {show_flow(wanted_m3_h, units)}."
    yield "Open doors and windows on two sides; only what was measured then counts as air changes."
    yield from _masks(session, catalogue, flow_m3_h)


def _needed(session: Session, units: Units) -> str:
    needs = session.needs_m3_h
    told = f"it takes {show_flow(needs.target, units)} to stay far from what burns"
    if needs.health is not None:
        told += f" and {show_flow(needs.health, units)} to be breathed without a mask"
    return told


def _largest_alone(session: Session, catalogue: Catalogue) -> float:
    """Return the air that the worst part of a session takes by itself; infinite where that is not known. [m³/h]"""
    highest = 0.0
    for step in session.steps:
        of_step = [one for one in session.emissions if one.id == step]
        air = needed_air(of_step, of_step, session.air.mixing, catalogue)
        if air.health is None:
            return math.inf
        highest = max(highest, air.target, air.health)
    return highest


def _masks(session: Session, catalogue: Catalogue, flow_m3_h: float) -> Iterator[str]:
    """Give the mask that does, where the air burns nowhere near but is not fit to breathe."""
    needs = session.needs_m3_h
    if session.isocyanate or needs.health is None or flow_m3_h < needs.target or flow_m3_h >= needs.health:
        return
    times = math.inf if flow_m3_h == 0 else needs.health / flow_m3_h
    masks = sorted(catalogue.respirators.values(), key=lambda mask: mask.factor)
    fit = next((mask for mask in masks if mask.factor >= times), None)
    if fit is None:
        yield "No cartridge mask does for so much: do not work in it before there is more air."
        return
    how = f"{times:.1f}" if times < 10 else f"{times:.0f}"
    mask = f"{fit.title[:1].lower()}{fit.title[1:]}"
    yield (
        f"Or wear a mask: the air may hold {how} times what may be breathed, and a {mask} "
        f"does for {fit.factor:g} times, fitted and with fresh cartridges. Everybody else stays out."
    )
