"""Coating sessions: what is in the air of a room at one time, the fresh air that it takes, and whether it comes in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.safety.emission import Emission, peak_rate
from finplan.safety.loads import FreshAir, Loads, loads
from finplan.safety.room_air import RoomAir
from finplan.safety.solvents import Vapours, together

WORKING_DAY_H = 8.0
"""Over which limits are means. Source: 29 CFR 1910.1000(d)."""
Verdict = Literal[
    "enough", "not by air alone", "too little to breathe", "above the planning target", "fire danger", "unknown"
]
"""Fresh air keeps vapour below the planning target and below what may be breathed; it may, but spraying what burns and
isocyanate ask for more than air or a mask; it may be breathed only behind a mask; it comes nearer to what burns than is
planned for; it comes nearer than the rule allows; a figure is missing."""


@dataclass(frozen=True, slots=True)
class Session:
    """One coating session. Times in h as its emissions have them."""

    room: str
    air: RoomAir
    emissions: tuple[Emission, ...]
    vapours: Vapours
    """Together, by solvent. [g]"""
    loads: Loads
    """Of all of its vapour, the high of its range."""
    needs_m3_h: FreshAir
    """At the moment at which most comes off."""
    verdict: Verdict

    @property
    def steps(self) -> tuple[str, ...]:
        """The ids of its rows."""
        return tuple(dict.fromkeys(one.id for one in self.emissions))

    @property
    def start_h(self) -> float:
        """When the first of it is put on."""
        return min(one.start_h for one in self.emissions)

    @property
    def end_h(self) -> float:
        """When the last of it has been put on, and the tools are clean."""
        return max(one.end_h for one in self.emissions)

    @property
    def gone_h(self) -> float:
        """When the last of it is in the air."""
        return max(one.gone_h for one in self.emissions)

    @property
    def booth_only(self) -> bool:
        """Whether something that burns is sprayed in it."""
        return any(one.booth_only for one in self.emissions)

    @property
    def isocyanate(self) -> bool:
        """Whether a hardener is in it for which no reckoning of solvent answers."""
        return any(one.isocyanate for one in self.emissions)


def grouped(emissions: Sequence[Emission]) -> list[list[Emission]]:
    """Return emissions by session: those of one room whose vapour is there at one time, in order of time."""
    found: list[list[Emission]] = []
    open_: dict[str, list[Emission]] = {}
    for one in sorted(emissions, key=lambda one: (one.start_h, one.end_h, one.id)):
        group = open_.get(one.room)
        if group is None or one.start_h >= max(before.gone_h for before in group):
            group = open_[one.room] = []
            found.append(group)
        group.append(one)
    return found


def session(emissions: Sequence[Emission], in_room: Sequence[Emission], air: RoomAir, catalogue: Catalogue) -> Session:
    """Return one session with what it takes and what that comes to.

    Parameters
    ----------
    emissions
        In one room at one time, not empty
    in_room
        All that is ever set free in that room: limits for the day count the rest of the day too
    air
        What the room gives
    catalogue
        Where solvents, targets and the temperature are

    Notes
    -----
    The high of every range, the lowest published flammable limit and the strictest occupational limit are taken. What
    burns and what may be breathed for a short time is compared with the rate at which most comes off, as if that went
    on; what may be breathed all day with the most that comes off in any eight hours, every coat in full that gives off
    anything within them.
    """
    needs = needed_air(emissions, in_room, air.mixing, catalogue)
    vapours = together({one.solvent: one.mass_g} for one in emissions)
    alone = not any(one.booth_only or one.isocyanate for one in emissions)
    return Session(
        room=emissions[0].room,
        air=air,
        emissions=tuple(emissions),
        vapours=vapours,
        loads=loads(vapours, air.mixing, catalogue),
        needs_m3_h=needs,
        verdict=_verdict(air.flow_m3_h, needs, air_alone=alone),
    )


def needed_air(
    emissions: Sequence[Emission], in_room: Sequence[Emission], mixing: float, catalogue: Catalogue
) -> FreshAir:
    """Return the flow of fresh air that emissions take; as in ``session``. [m³/h]"""
    each = [loads({one.solvent: one.mass_g}, mixing, catalogue) for one in emissions]
    fire = peak_rate(emissions, [load.air.fire for load in each])
    target = peak_rate(emissions, [load.air.target for load in each])
    shorts = [load.short for load in each if load.short is not None]
    day = _in_a_day(emissions, in_room, mixing, catalogue)
    if len(shorts) < len(each) or day is None:
        return FreshAir(fire, target, None)
    return FreshAir(fire, target, max(peak_rate(emissions, shorts), day))


def _in_a_day(
    emissions: Sequence[Emission], in_room: Sequence[Emission], mixing: float, catalogue: Catalogue
) -> float | None:
    """Return the air an hour for the most that comes off in eight hours; None where a limit is not known. [m³/h]"""
    highest = 0.0
    for start_h in {one.start_h for one in emissions}:
        within = [one for one in in_room if one.start_h < start_h + WORKING_DAY_H and one.gone_h > start_h]
        air = loads(together({one.solvent: one.mass_g} for one in within), mixing, catalogue).air
        if air.health is None:
            return None
        highest = max(highest, air.health / WORKING_DAY_H)
    return highest


def _verdict(flow_m3_h: float | None, needs: FreshAir, *, air_alone: bool) -> Verdict:
    if flow_m3_h is None:
        return "unknown"
    if flow_m3_h < needs.fire:
        return "fire danger"
    if flow_m3_h < needs.target:
        return "above the planning target"
    if not air_alone:
        return "not by air alone"
    if needs.health is None:
        return "unknown"
    return "too little to breathe" if flow_m3_h < needs.health else "enough"
