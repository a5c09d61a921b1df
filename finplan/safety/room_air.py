"""What a room gives: how large it is, how much fresh air comes in, and what of that has to be switched on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue, NearZone
from finplan.inputs import Room, takes_what_burns

AirField = Literal["volume", "air-changes", "fan"]
"""Fields of a room in the shop file by which its air is known."""
DrawnBy = Literal["fan", "extraction", "both"]
"""What draws the air of a room out: its fan, the extraction at its bench, or both."""
_ML_PER_M3 = 1e6


@dataclass(frozen=True, slots=True)
class RoomAir:
    """The air of a room, as far as the shop file says it. Flows in m³/h."""

    volume_m3: float | None
    openings_m3_h: float
    """What comes in by itself; 0 where nothing is known of that."""
    fan_m3_h: float
    """What its fan draws, and the extraction at its bench; 0 where it has neither."""
    missing: tuple[AirField, ...]
    """The fields of the room that would have to be given."""
    draws: DrawnBy = "fan"
    """What does that."""
    captured: float = 0.0
    """The share of the vapour that extraction at the bench takes off before anybody breathes it."""
    booth_m3_h: float = 0.0
    """What its spray booth draws; 0 where it has none that does."""

    @property
    def known(self) -> bool:
        """Whether enough is known to reckon with: how large it is, or a fan."""
        return self.volume_m3 is not None or self.fan_m3_h > 0

    @property
    def flow_m3_h(self) -> float | None:
        """All that comes in with the fan on; at least so much where a field is missing. None where nothing is known."""
        return self.openings_m3_h + self.fan_m3_h if self.known else None

    def zones(self, flow_m3_h: float, catalogue: Catalogue, *, switched_on: bool) -> Zones:
        """Return the room at a flow of fresh air as two zones.

        A room of which no size is given is taken to be no larger than the reach of who works, so that it buffers
        nothing, and its air to hardly move.
        """
        changes = 0.0 if self.volume_m3 is None else flow_m3_h / self.volume_m3
        fit = [zone for zone in catalogue.mixing.values() if zone.from_air_changes <= changes]
        near = max(fit, key=lambda zone: zone.from_air_changes)
        kept = 1 - self.captured if switched_on else 1.0
        return Zones(self.volume_m3 or near.volume_m3, flow_m3_h, near, kept)

    def in_booth(self, catalogue: Catalogue) -> Zones:
        """Return the booth of the room, its exhaust on, as zones: what it draws passes who sprays and leaves."""
        zones = self.zones((self.flow_m3_h or 0.0) + self.booth_m3_h, catalogue, switched_on=False)
        return Zones(zones.volume_m3, zones.flow_m3_h, zones.near, zones.kept, self.booth_m3_h)


@dataclass(frozen=True, slots=True)
class Zones:
    """A room in two zones: the reach of who works, and all of it."""

    volume_m3: float
    flow_m3_h: float
    near: NearZone
    kept: float = 1.0
    """The share of the vapour that gets into the reach of who works."""
    booth_m3_h: float = 0.0
    """What a booth draws through it; 0 where it is none."""


def room_air(room: Room | None, catalogue: Catalogue) -> RoomAir:
    """Return the air of a room as the shop file has it; of None, of which it does not speak, that nothing is known.

    The air of the default shop is nobody's.
    """
    if room is None:
        return RoomAir(None, 0.0, 0.0, ("volume", "air-changes", "fan"))
    volume_m3 = None if room.volume_ml is None else room.volume_ml / _ML_PER_M3
    fan_m3_h = (room.fan_m3_h or 0.0) + (0.0 if room.extraction is None else room.extraction.flow_m3_h)
    missing: list[AirField] = [] if volume_m3 is not None else ["volume"]
    if room.air_changes is None:
        missing.append("air-changes")
    openings_m3_h = 0.0 if volume_m3 is None or room.air_changes is None else volume_m3 * room.air_changes
    if missing and not fan_m3_h:
        missing.append("fan")
    return RoomAir(
        volume_m3=volume_m3,
        openings_m3_h=openings_m3_h,
        fan_m3_h=fan_m3_h,
        missing=tuple(missing),
        draws=_draws(room),
        captured=_captured(room, catalogue),
        booth_m3_h=room.booth.flow_m3_h if room.booth is not None and takes_what_burns(room.booth, catalogue) else 0.0,
    )


def _draws(room: Room) -> DrawnBy:
    if room.extraction is None:
        return "fan"
    return "both" if room.fan_m3_h else "extraction"


def _captured(room: Room, catalogue: Catalogue) -> float:
    if room.extraction is None:
        return 0.0
    fit = [
        exhaust.captures_pct
        for exhaust in catalogue.exhausts.values()
        if exhaust.face_m2 is None and exhaust.velocity_m_s <= room.extraction.velocity_m_s
    ]
    return max(fit) / 100
