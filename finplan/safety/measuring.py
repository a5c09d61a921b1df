"""What to measure where nothing is known of a room's air, and how the answer would change with it."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.catalogue import Catalogue
from finplan.quantity import Units
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Session, session
from finplan.showing import show_air, show_flow

_ROOMS_M3 = (30.0, 60.0, 120.0)
"""Rooms to tell it of: a single garage, a small workshop, a large one. Examples, no values."""


def to_measure(sessions: Sequence[Session], catalogue: Catalogue, units: Units) -> str:
    """Return what to measure, with what fan rooms of three sizes would do; empty where every room is known.

    Notes
    -----
    It is told of the session that brings most vapour near what may be breathed, with no fresh air counted but the fan.
    """
    unknown = [one for one in sessions if one.verdict == "unknown" and one.air.missing and one.loads.day is not None]
    if not unknown:
        return ""
    worst = max(unknown, key=lambda one: one.loads.day or 0.0)
    told = [_of_room(worst, volume_m3, catalogue, units) for volume_m3 in _ROOMS_M3]
    return (
        f"Measure {worst.room}: its length × breadth × height, and what its fan draws. Then the answer is another. For "
        f"the session with most vapour, by this reckoning: {'; '.join(told)}."
    )


def _of_room(worst: Session, volume_m3: float, catalogue: Catalogue, units: Units) -> str:
    found = session(worst.emissions, worst.emissions, RoomAir(volume_m3, 0.0, 0.0, ()), catalogue)
    size = f"a room of {show_air(volume_m3, units)}"
    needs = found.needs_m3_h
    if needs.target is None:
        return f"{size} is too small against fire, whatever the fan"
    if needs.health is None:
        return f"{size} takes a fan of {show_flow(needs.target, units)} against fire, and a mask whatever the fan"
    wanted_m3_h = max(needs.target, needs.health)
    return f"{size} takes a fan of {show_flow(wanted_m3_h, units)}" if wanted_m3_h else f"{size} takes none"
