"""Coating sessions: what is in the air of a room at one time, and whether that may burn or be breathed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.safety.emission import Emission
from finplan.safety.exposure import AirExposure, SessionAir
from finplan.safety.loads import FreshAir, Loads, loads
from finplan.safety.room_air import RoomAir, Zones
from finplan.safety.solvents import Vapours, added_up

AirVerdict = Literal[
    "enough", "not by air alone", "too little to breathe", "above the planning target", "fire danger", "unknown"
]
"""Fresh air keeps vapour below the planning target and below what may be breathed; it may, but spraying what burns and
isocyanate ask for more than air or a mask; it may be breathed only behind a mask; it comes nearer to what burns than is
planned for; it comes nearer than the rule allows; a figure is missing."""
AgainstLimit = Literal["ok", "close", "over", "unknown"]
"""Within the limit, with the margin, even at the most that may be used in the stillest air; within it as it usually
goes, with the margin, but not at the most; above that; a figure is missing."""
_MOST_M3_H = 100_000.0
_HALVINGS = 10


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What the air of a room holds through a session at one flow of fresh air, and what that comes to."""

    flow_m3_h: float
    typical: AirExposure
    """As it usually goes."""
    high: AirExposure
    """At the most that may be used, in the stillest air."""
    fire: AgainstLimit
    """Against what burns, at the most: near the work by the rule; ``close`` is the whole room above the target."""
    breathing: AgainstLimit
    """Of who works, against what may be breathed."""
    verdict: AirVerdict


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
    fan_on: Reckoning | None
    """With all the fresh air that the room can have; None where nothing is known of it."""
    fan_off: Reckoning | None
    """Without its fan; None where it has none."""
    needed_m3_h: Callable[[], FreshAir] = field(compare=False, repr=False)
    """As ``needs_m3_h``: looked for when it is asked for, since it takes ten times as long as all else."""
    verdict: AirVerdict
    """With the fan on."""
    mask: str | None
    """A name in the catalogue's respirators: what is worn in the attended rows; None where none is, or none does. Where
    nothing is known of the air it is the least, as a caution and not as an answer."""

    in_booth: bool
    """Whether it is sprayed, or its gun cleaned, in a booth; ``fan_on`` is then with its exhaust on."""

    @property
    def needs_m3_h(self) -> FreshAir:
        """The flow that would do; None where it is not known or where no flow does."""
        return self.needed_m3_h()

    @property
    def steps(self) -> tuple[str, ...]:
        """The ids of its rows."""
        return tuple(dict.fromkeys(emission.id for emission in self.emissions))

    @property
    def start_h(self) -> float:
        """When the first of it is put on."""
        return min(emission.start_h for emission in self.emissions)

    @property
    def end_h(self) -> float:
        """When the last of it has been put on, and the tools are clean."""
        return max(emission.end_h for emission in self.emissions)

    @property
    def gone_h(self) -> float:
        """When the last of it is in the air."""
        return max(emission.gone_h for emission in self.emissions)

    @property
    def booth_only(self) -> bool:
        """Whether something that burns is sprayed in it."""
        return any(emission.booth_only for emission in self.emissions)

    @property
    def isocyanate(self) -> bool:
        """Whether a hardener is in it for which no reckoning of solvent answers."""
        return any(emission.isocyanate for emission in self.emissions)

    @property
    def rests_on_fan(self) -> bool:
        """Whether the verdict would be another one without the fan."""
        return (
            self.air.fan_m3_h > 0
            and not self.in_booth
            and (self.fan_off is None or self.fan_off.verdict != self.verdict)
        )


def by_session(emissions: Sequence[Emission]) -> list[list[Emission]]:
    """Return emissions by session: those of one room whose vapour is there at one time, in order of time."""
    groups: list[list[Emission]] = []
    open_: dict[str, list[Emission]] = {}
    for emission in sorted(emissions, key=lambda vapour: (vapour.start_h, vapour.end_h, vapour.id)):
        group = open_.get(emission.room)
        if group is None or emission.start_h >= max(before.gone_h for before in group):
            group = open_[emission.room] = []
            groups.append(group)
        group.append(emission)
    return groups


def session(emissions: Sequence[Emission], in_room: Sequence[Emission], room: RoomAir, catalogue: Catalogue) -> Session:
    """Return one session with what its air holds and what that comes to.

    Parameters
    ----------
    emissions
        In one room at one time, not empty
    in_room
        All that is ever set free in that room: what is left of other sessions counts too
    room
        What the room gives
    catalogue
        Where solvents, targets and the near zone are

    Notes
    -----
    The lowest published flammable limit and the strictest occupational limit of each kind are taken. Fire is judged by
    the worst moment at the most that may be used: near the work by the rule, in the whole room by the planning target;
    what may be breathed by the means over 15 minutes and 8 hours of who works, as it usually goes and with a margin.
    What is sprayed in a booth is reckoned with its exhaust on, which passes who sprays; so is the cleaning of the gun,
    which the same rule wants done there with the exhaust running (29 CFR 1910.107(g)(5), recalled).
    """
    air = SessionAir(emissions, in_room, catalogue)
    booth = room.booth_m3_h > 0 and any(emission.at_booth for emission in emissions)
    alone = not any((emission.booth_only and not booth) or emission.isocyanate for emission in emissions)

    def in_(zones: Zones) -> Reckoning:
        return _reckoning(air, zones, catalogue, air_alone=alone)

    @cache
    def at(flow_m3_h: float) -> Reckoning:
        return in_(room.zones(flow_m3_h, catalogue, switched_on=True))

    fan_on = fan_off = None
    if booth:
        fan_on = in_(room.in_booth(catalogue))
    elif room.flow_m3_h is not None:
        fan_on = at(room.flow_m3_h)
        if room.fan_m3_h and room.volume_m3 is not None:
            fan_off = in_(room.zones(room.openings_m3_h, catalogue, switched_on=False))
    verdict = "unknown" if fan_on is None else fan_on.verdict
    if verdict == "too little to breathe" and "fan" in room.missing:
        verdict = "unknown"  # the shop file does not say what comes in, and nothing was counted
    vapours = added_up({emission.solvent: emission.mass_g} for emission in emissions)
    return Session(
        room=emissions[0].room,
        air=room,
        emissions=tuple(emissions),
        vapours=vapours,
        loads=loads({name: mass_g.high for name, mass_g in vapours.items()}, catalogue),
        fan_on=fan_on,
        fan_off=fan_off,
        needed_m3_h=cache(lambda: _needs(at)),
        verdict=verdict,
        mask=_worn(verdict, fan_on, catalogue),
        in_booth=booth,
    )


def _reckoning(air: SessionAir, zones: Zones, catalogue: Catalogue, *, air_alone: bool) -> Reckoning:
    typical, high = air.exposure("typical", zones), air.exposure("high", zones)
    targets = catalogue.air_targets
    rule, target = (targets[name].share_pct / 100 for name in ("fire", "planning"))
    fire = _standing(high.fire / rule, max(high.fire / rule, high.fire_far / target))
    margin = targets["breathing"].margin
    if typical.breathing is None or high.breathing is None:
        breathing: AgainstLimit = "unknown"
    else:
        breathing = _standing(typical.breathing * margin, high.breathing)
    return Reckoning(zones.flow_m3_h, typical, high, fire, breathing, _verdict(fire, breathing, air_alone=air_alone))


def _standing(least: float, most: float) -> AgainstLimit:
    if least > 1:
        return "over"
    return "close" if most > 1 else "ok"


def _verdict(fire: AgainstLimit, breathing: AgainstLimit, *, air_alone: bool) -> AirVerdict:
    if fire == "over":
        return "fire danger"
    if fire == "close":
        return "above the planning target"
    if not air_alone:
        return "not by air alone"
    if breathing == "unknown":
        return "unknown"
    return "too little to breathe" if breathing == "over" else "enough"


def _needs(at: Callable[[float], Reckoning]) -> FreshAir:
    """Return the least flow that does for each."""
    return FreshAir(
        fire=_least(lambda flow_m3_h: at(flow_m3_h).fire != "over"),
        target=_least(lambda flow_m3_h: at(flow_m3_h).fire == "ok"),
        health=_least(lambda flow_m3_h: at(flow_m3_h).breathing in ("ok", "close")),
    )


def _least(does: Callable[[float], bool]) -> float | None:
    """Return the least flow that does; more is never worse. None where none does. [m³/h]"""
    if does(0.0):
        return 0.0
    if not does(_MOST_M3_H):
        return None
    low, high = 1.0, _MOST_M3_H
    for _ in range(_HALVINGS):
        middle = (low * high) ** 0.5
        low, high = (low, middle) if does(middle) else (middle, high)
    return high


def _worn(verdict: AirVerdict, reckoning: Reckoning | None, catalogue: Catalogue) -> str | None:
    """Return the mask that is worn: where nothing is known too, and then the least, until it is."""
    if verdict == "unknown":
        return min(catalogue.respirators, key=lambda name: catalogue.respirators[name].factor)
    return _mask(reckoning, catalogue) if verdict == "too little to breathe" else None


def _mask(reckoning: Reckoning | None, catalogue: Catalogue) -> str | None:
    """Return the least mask that does at the most that may be used; None where none does."""
    if reckoning is None or reckoning.high.breathing is None:
        return None
    masks = sorted(catalogue.respirators.items(), key=lambda entry: entry[1].factor)
    return next((name for name, mask in masks if mask.factor >= reckoning.high.breathing), None)
