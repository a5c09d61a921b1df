"""What to measure where nothing is known of a room's air, and how the answer would change with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.safety.loads import FreshAir
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Session, session

_ROOMS_M3 = (30.0, 60.0, 120.0)
"""Rooms to tell it of: a single garage, a small workshop, a large one. Examples, no values."""


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
    It is told of the session that brings most vapour near what may be breathed, with no fresh air counted but the fan.
    """
    unknown = [one for one in sessions if one.verdict == "unknown" and one.air.missing and one.loads.day is not None]
    if not unknown:
        return None
    worst = max(unknown, key=lambda one: one.loads.day or 0.0)
    return Unmeasured(worst.room, tuple(_of_room(worst, volume_m3, catalogue) for volume_m3 in _ROOMS_M3))


def _of_room(worst: Session, volume_m3: float, catalogue: Catalogue) -> FanForRoom:
    found = session(worst.emissions, worst.emissions, RoomAir(volume_m3, 0.0, 0.0, ()), catalogue)
    return FanForRoom(volume_m3, found.needs_m3_h)
