"""What to change where the air of a session is not enough, in the order in which to think of it."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.catalogue import Catalogue
from finplan.safety.air_remedy import (
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
from finplan.safety.session import Session, session


def remedies(session_: Session, catalogue: Catalogue) -> tuple[AirRemedy, ...]:
    """Return what to do about a session; nothing where its air is enough."""
    return tuple(_remedies(session_, catalogue))


def _remedies(session_: Session, catalogue: Catalogue) -> Iterator[AirRemedy]:
    if session_.isocyanate:
        yield BreatheBySheet()
    if session_.booth_only and not session_.in_booth:
        yield _in_booth(catalogue)
        return
    if session_.air.missing and session_.verdict == "unknown":
        yield MeasureAir(session_.air.missing, nothing_known=True)
    if session_.fan_on is None:
        return
    if session_.fan_on.breathing == "unknown":
        yield LimitNotKnown()
    if session_.fan_on.fire == "over":
        yield NotLikeThis()
    if session_.verdict in ("enough", "not by air alone"):
        return
    if session_.air.missing and session_.verdict != "unknown":
        yield MeasureAir(session_.air.missing, nothing_known=False)
    if len(session_.steps) > 1 and _does_apart(session_, catalogue):
        yield SplitSession()
    yield from _more_air(session_, catalogue)
    yield from _masks(session_)


def _in_booth(catalogue: Catalogue) -> OnlyInBooth:
    """Return what a booth of the usual size has to draw, by the rule that asks for a speed of the air at its face."""
    booth = catalogue.exhausts["booth"]
    face_m2 = booth.face_m2 or 0.0
    return OnlyInBooth(booth.velocity_m_s, face_m2, face_m2 * booth.velocity_m_s * 3600)


def _does_apart(session_: Session, catalogue: Catalogue) -> bool:
    """Return whether every part of a session by itself has air enough."""
    for step in session_.steps:
        of_step = [emission for emission in session_.emissions if emission.id == step]
        if session(of_step, of_step, session_.air, catalogue).verdict != "enough":
            return False
    return True


def _more_air(session_: Session, catalogue: Catalogue) -> Iterator[AirRemedy]:
    needs, flow_m3_h, volume_m3 = session_.needs_m3_h, session_.air.flow_m3_h or 0.0, session_.air.volume_m3
    most = catalogue.shop_air["common"].most_air_changes
    against_fire = session_.fan_on is not None and session_.fan_on.fire != "ok"
    wanted_m3_h = needs.target if against_fire else needs.health
    if wanted_m3_h is None:
        yield PutOnLess(against_fire)
    elif volume_m3 and not session_.in_booth and wanted_m3_h > most * volume_m3:
        yield NoFanDoes(wanted_m3_h, wanted_m3_h / volume_m3)
    elif wanted_m3_h > flow_m3_h:
        yield DrawMore(wanted_m3_h - flow_m3_h, wanted_m3_h)


def _masks(session_: Session) -> Iterator[AirRemedy]:
    """Give the mask that does, where the air burns nowhere near but is not fit to breathe."""
    most = None if session_.fan_on is None else session_.fan_on.high.breathing
    if session_.verdict != "too little to breathe" or most is None:
        return
    yield NoMaskDoes() if session_.mask is None else WearMask(session_.mask, most)
