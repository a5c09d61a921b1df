"""What a room gives: how large it is, and how much fresh air comes in."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.inputs.shop import Room

_ML_PER_M3 = 1e6


@dataclass(frozen=True, slots=True)
class RoomAir:
    """The air of a room, as far as the shop file says it. Flow in m³/h."""

    volume_m3: float | None
    flow_m3_h: float | None
    """None where nothing is known of it; at least so much where only the fan is."""
    mixing: float
    missing: tuple[str, ...]
    """The fields of the room that would have to be given."""


def room_air(room: Room | None, catalogue: Catalogue) -> RoomAir:
    """Return the air of a room; of one of which the shop file says nothing, that nothing is known.

    Parameters
    ----------
    room
        As in the shop file; None where the file does not speak of it, for the default shop's air is nobody's
    catalogue
        Where the mixing factors are
    """
    if room is None:
        return RoomAir(None, None, catalogue.mixing["openings"].factor, ("volume", "air-changes", "fan"))
    volume_m3 = None if room.volume_ml is None else room.volume_ml / _ML_PER_M3
    fan_m3_h = room.fan_m3_h or 0.0
    changes = room.air_changes
    missing = [] if volume_m3 is not None else ["volume"]
    if changes is None:
        missing.append("air-changes")
    flow_m3_h: float | None = None
    if volume_m3 is not None and changes is not None:
        flow_m3_h = volume_m3 * changes + fan_m3_h
    elif fan_m3_h:
        flow_m3_h = fan_m3_h
    else:
        missing.append("fan")
    kind = "fan" if fan_m3_h else "openings"
    return RoomAir(volume_m3, flow_m3_h, catalogue.mixing[kind].factor, tuple(missing))
