"""What to measure where nothing is known of a room's air, and how the answer would change with it, in words."""

from __future__ import annotations

from finplan.quantity import Units
from finplan.safety import FanForRoom, Unmeasured
from finplan.showing import show_air, show_flow


def to_measure_words(unknown: Unmeasured | None, units: Units) -> str:
    """Return what to measure, with what fan rooms of several sizes would take; empty where every room is known."""
    if unknown is None:
        return ""
    told = "; ".join(_of_room(room, units) for room in unknown.rooms)
    return (
        f"Measure {unknown.room}: its length × breadth × height, and what its fan draws. Then the answer is another. "
        f"For the session that takes most, by this reckoning: {told}."
    )


def _of_room(room: FanForRoom, units: Units) -> str:
    size, needs = f"a room of {show_air(room.volume_m3, units)}", room.needs_m3_h
    if needs.target is None:
        return f"{size} is too small against fire, whatever the fan"
    if needs.health is None:
        return f"{size} takes a fan of {show_flow(needs.target, units)} against fire, and a mask whatever the fan"
    wanted_m3_h = max(needs.target, needs.health)
    return f"{size} takes a fan of {show_flow(wanted_m3_h, units)}" if wanted_m3_h else f"{size} takes none"
