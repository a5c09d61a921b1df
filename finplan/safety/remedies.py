"""What to change where the air of a session is not enough, in the order in which to think of it."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.catalogue import Catalogue
from finplan.quantity import Units
from finplan.safety.session import Session, session
from finplan.showing import show_area, show_flow, show_of_limit, show_speed

_MEASURES = {
    "volume": "the room (length × breadth × height: `volume`)",
    "air-changes": "its air changes an hour (`air-changes`)",
    "fan": "what its fan really draws (`fan`)",
}


def remedies(found: Session, catalogue: Catalogue, units: Units) -> tuple[str, ...]:
    """Return what to do about a session, sentence by sentence; nothing where its air is enough."""
    return tuple(_remedies(found, catalogue, units))


def _remedies(found: Session, catalogue: Catalogue, units: Units) -> Iterator[str]:
    if found.isocyanate:
        yield (
            "The hardener holds isocyanate, for which no fresh air answers: breathing protection as the safety data "
            "sheet demands, and nobody else in the room."
        )
    if found.booth_only and not found.in_booth:
        yield f"It is sprayed only in a proper booth: {booth_words(catalogue, units)}. Or brush or wipe it."
        return
    if found.air.missing and found.verdict == "unknown":
        told = " and ".join(_MEASURES[field] for field in found.air.missing)
        yield f"Nobody knows what air this room gets. Measure {told}, and write it under its room in the shop file."
        yield "Until then count on nothing: open doors and windows on two sides, and a mask against vapour."
    if found.fan_on is None:
        return
    if found.fan_on.breathing == "unknown":
        yield "What may be breathed of this solvent is not known here: go by its safety data sheet, and wear its mask."
    if found.fan_on.fire == "over":
        yield "Do not begin like this: the vapour would come closer to what burns than the rule allows."
    if found.verdict in ("enough", "not by air alone"):
        return
    if found.air.missing and found.verdict != "unknown":
        measures = " and ".join(_MEASURES[one] for one in found.air.missing)
        yield f"Only what is known is counted here: measure {measures}."
    if len(found.steps) > 1 and _does_apart(found, catalogue):
        yield "Split the session: put each coat on when the one before is dust-free, and clean tools in another room."
    yield from _more_air(found, units)
    yield from _masks(found, catalogue)


def _times(found: Session) -> str:
    high = None if found.fan_on is None else found.fan_on.high.breathing
    return show_of_limit(high or 0.0, "what may be breathed")


def booth_words(catalogue: Catalogue, units: Units) -> str:
    """Return what a booth of the usual size has to draw, by the rule that asks for a speed of the air at its face."""
    booth = catalogue.exhausts["booth"]
    flow_m3_h = (booth.face_m2 or 0.0) * booth.velocity_m_s * 3600
    return (
        f"air of {show_speed(booth.velocity_m_s, units)} or faster at its face, which of one of "
        f"{show_area(booth.face_m2 or 0.0, units)} is {show_flow(flow_m3_h, units)}"
    )


def _does_apart(found: Session, catalogue: Catalogue) -> bool:
    """Return whether every part of a session by itself has air enough."""
    for step in found.steps:
        of_step = [one for one in found.emissions if one.id == step]
        if session(of_step, of_step, found.air, catalogue).verdict != "enough":
            return False
    return True


def _more_air(found: Session, units: Units) -> Iterator[str]:
    needs, flow_m3_h = found.needs_m3_h, found.air.flow_m3_h or 0.0
    against_fire = found.fan_on is not None and found.fan_on.fire != "ok"
    wanted_m3_h = needs.target if against_fire else needs.health
    if wanted_m3_h is None:
        what = "keeps it far enough from what burns" if against_fire else "makes up for it"
        yield f"No fresh air in the room {what}: it is what stands within reach of the work. Put on less at a time."
    elif wanted_m3_h > flow_m3_h:
        more, whole = show_flow(wanted_m3_h - flow_m3_h, units), show_flow(wanted_m3_h, units)
        yield f"Draw out {more} more by a fan, in all {whole}."
        yield "Open doors and windows on two sides; only what was measured then counts as air changes."


def _masks(found: Session, catalogue: Catalogue) -> Iterator[str]:
    """Give the mask that does, where the air burns nowhere near but is not fit to breathe."""
    if found.fan_on is None or found.verdict != "too little to breathe" or found.fan_on.high.breathing is None:
        return
    if found.mask is None:
        yield "No cartridge mask does for so much: do not work in it before there is more air."
        return
    mask = catalogue.respirators[found.mask]
    yield (
        f"Or wear a mask: the air may hold {_times(found)}, and a "
        f"{mask.title[:1].lower()}{mask.title[1:]} does for {mask.factor:g} times, fitted and with fresh cartridges. "
        "Everybody else stays out."
    )
