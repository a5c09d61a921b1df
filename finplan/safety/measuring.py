"""What to measure where nothing is known of a room's air, and how the answer would change with it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.safety.emission import Emission
from finplan.safety.loads import FreshAir
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Session, session


@dataclass(frozen=True, slots=True)
class FanForRoom:
    """What a fan would have to draw in a room of some size, nothing else coming in."""

    volume_m3: float
    needs_m3_h: FreshAir


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """A room of whose air nothing is known."""

    room: str
    rooms: tuple[FanForRoom, ...]
    """What rooms of several sizes would take."""


def to_measure(sessions: Sequence[Session], catalogue: Catalogue) -> Unmeasured | None:
    """Return what room to measure, with what fan rooms of three sizes would take; None where every room is known.

    Notes
    -----
    It is told of the session that takes most: of those with the same solvents the one that brings most vapour near what
    may be breathed is reckoned, with what is left of others, and no fresh air counted but the fan.
    """
    unknown = [
        session_
        for session_ in sessions
        if session_.verdict == "unknown" and session_.air.missing and session_.loads.day is not None
    ]
    if not unknown:
        return None
    first = max(unknown, key=_by_day)
    there = [session_ for session_ in unknown if session_.room == first.room]
    in_room = [emission for session_ in there for emission in session_.emissions]
    worst: dict[frozenset[str], Session] = {}
    for reckoned in sorted(there, key=_by_day):
        worst[frozenset(emission.solvent for emission in reckoned.emissions)] = reckoned
    told = catalogue.shop_air["common"].rooms_m3
    rooms = (
        max((_of_room(session_, in_room, volume_m3, catalogue) for session_ in worst.values()), key=_most)
        for volume_m3 in (told.low, told.typical, told.high)
    )
    return Unmeasured(first.room, tuple(rooms))


def _by_day(session_: Session) -> float:
    return session_.loads.day or 0.0


def _most(room: FanForRoom) -> tuple[float, float]:
    """Return how much a fan has to draw, first against fire where none is enough, then where a mask is worn too."""
    needs = room.needs_m3_h
    target = math.inf if needs.target is None else needs.target
    return (target if math.isinf(target) else 0.0, math.inf if needs.health is None else max(target, needs.health))


def _of_room(session_: Session, in_room: Sequence[Emission], volume_m3: float, catalogue: Catalogue) -> FanForRoom:
    aired = session(session_.emissions, in_room, RoomAir(volume_m3, 0.0, 0.0, ()), catalogue)
    return FanForRoom(volume_m3, aired.needs_m3_h)
