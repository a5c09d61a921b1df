"""Sessions made by hand for the tests of safety."""

from __future__ import annotations

from finplan.catalogue import bundled_catalogue
from finplan.inputs.shop import Room
from finplan.quantity import Range
from finplan.safety.emission import Emission
from finplan.safety.room_air import RoomAir, room_air
from finplan.safety.session import Session, session

CATALOGUE = bundled_catalogue()


def room(volume_m3: float | None = None, changes: float | None = None, fan_m3_h: float | None = None) -> RoomAir:
    """The air of a room of which so much is known."""
    made = Room.model_construct(
        for_=("coating",),
        volume_ml=None if volume_m3 is None else volume_m3 * 1e6,
        air_changes=changes,
        fan_m3_h=fan_m3_h,
        booth=None,
        extraction=None,
    )
    return room_air(made, CATALOGUE)


def flow(m3_h: float, volume_m3: float = 100.0) -> RoomAir:
    """The air of a room into which so much comes by itself."""
    return RoomAir(volume_m3, m3_h, 0.0, ())


def emission(
    grams: float,
    solvent: str = "white-spirit",
    *,
    start_h: float = 0.0,
    worked_h: float = 1.0,
    decay_h: float = 2.0,
    step: str = "top/1",
    booth_only: bool = False,
    isocyanate: bool = False,
    carried: bool = False,
) -> Emission:
    """What a stretch sets free of one solvent."""
    return Emission(
        id=step,
        room="finishing",
        start_h=start_h,
        end_h=start_h + worked_h,
        gone_h=start_h + worked_h + 3 * decay_h,
        decay_h=decay_h,
        solvent=solvent,
        mass_g=Range(grams / 3, grams / 2, grams),
        booth_only=booth_only,
        sprayed=booth_only,
        booth_asked=booth_only,
        at_booth=booth_only,
        isocyanate=isocyanate,
        carried=carried,
    )


def made(air: RoomAir, *emissions: Emission) -> Session:
    """A session of emissions in one room."""
    return session(emissions, emissions, air, CATALOGUE)
