"""What to change where the air of a session is not enough, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from finplan.catalogue import Catalogue
from finplan.quantity import Units
from finplan.safety import (
    AirField,
    AirRemedy,
    BreatheBySheet,
    DrawMore,
    LimitNotKnown,
    MeasureAir,
    NoFanDoes,
    NoMaskDoes,
    NotLikeThis,
    OnlyInBooth,
    PutOnLess,
    SplitSession,
    WearMask,
)
from finplan.showing import plain, show_area, show_flow, show_of_limit, show_speed

_MEASURES: dict[AirField, str] = {
    "volume": "the room (length × breadth × height: `volume`)",
    "air-changes": "its air changes an hour (`air-changes`)",
    "fan": "what its fan really draws (`fan`)",
}


def air_remedy_words(remedies: Iterable[AirRemedy], catalogue: Catalogue, units: Units) -> tuple[str, ...]:
    """Return what to do about a session, sentence by sentence; nothing where its air is enough."""
    return tuple(words for remedy in remedies for words in _words(remedy, catalogue, units))


def _words(remedy: AirRemedy, catalogue: Catalogue, units: Units) -> Iterator[str]:
    match remedy:
        case BreatheBySheet():
            yield (
                "The hardener holds isocyanate, for which no fresh air answers: breathing protection as the safety "
                "data sheet demands, and nobody else in the room."
            )
        case OnlyInBooth():
            yield f"It is sprayed only in a proper booth: {_booth(remedy, units)}. Or brush or wipe it."
        case MeasureAir():
            yield from _measured(remedy)
        case LimitNotKnown():
            yield (
                "What may be breathed of this solvent is not known here: go by its safety data sheet, and wear its "
                "mask."
            )
        case NotLikeThis():
            yield "Do not begin like this: the vapour would come closer to what burns than the rule allows."
        case SplitSession():
            yield (
                "Split the session: put each coat on when the one before is dust-free, and clean tools in another room."
            )
        case PutOnLess():
            does = "keeps it far enough from what burns" if remedy.against_fire else "makes up for it"
            yield f"No fresh air in the room {does}: it is what stands within reach of the work. Put on less at a time."
        case DrawMore():
            more, whole = show_flow(remedy.more_m3_h, units), show_flow(remedy.whole_m3_h, units)
            yield f"Draw out {more} more by a fan, in all {whole}."
            yield "Open doors and windows on two sides; only what was measured then counts as air changes."
        case NoFanDoes():
            whole = show_flow(remedy.whole_m3_h, units)
            yield (
                f"No fan does it: the {whole} that it takes would change the air of this room "
                f"{plain(remedy.air_changes, 2)} times an hour. "
                "Work outdoors or in a larger room, or put on less at a time."
            )
        case NoMaskDoes():
            yield (
                "No cartridge mask does for so much: do not work in it before there is more air, or wear one that is "
                "supplied with air."
            )
        case WearMask():
            yield _mask(remedy, catalogue)


def _booth(booth: OnlyInBooth, units: Units) -> str:
    return (
        f"air of {show_speed(booth.velocity_m_s, units)} or faster at its face, which of one of "
        f"{show_area(booth.face_m2, units)} is {show_flow(booth.flow_m3_h, units)}"
    )


def _measured(measure: MeasureAir) -> Iterator[str]:
    told = " and ".join(_MEASURES[field] for field in measure.fields)
    if measure.nothing_known:
        yield f"Nobody knows what air this room gets. Measure {told}, and write it under its room in the shop file."
        yield "Until then count on nothing: open doors and windows on two sides, and a mask against vapour."
    else:
        yield f"Only what is known is counted here: measure {told}."


def _mask(remedy: WearMask, catalogue: Catalogue) -> str:
    mask = catalogue.respirators[remedy.respirator]
    return (
        f"Or wear a mask: the air may hold {show_of_limit(remedy.breathing, 'what may be breathed')}, and a "
        f"{mask.title[:1].lower()}{mask.title[1:]} does for {mask.factor:g} times, fitted and with fresh cartridges. "
        "Everybody else stays out."
    )
