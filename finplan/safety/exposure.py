"""What the air holds near the work and far from it: its peak, and its means over 15 minutes and over 8 hours."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from finplan.catalogue import Catalogue
from finplan.safety.box import GivenOff, HoursArray, InBox
from finplan.safety.emission import Emission
from finplan.safety.loads import Loads, loads
from finplan.safety.room_air import Zones
from finplan.safety.solvents import added_up

Case = Literal["typical", "high"]
"""As it usually goes; the most that may be used, in the stillest air."""
_STEP_H = 1 / 30
"""From moment to moment that is looked at while something is put on."""
_LATER_STEP_H = 0.25
"""Likewise afterwards."""


@dataclass(frozen=True, slots=True)
class AirExposure:
    """What the air holds, each as a share of the limit of its kind: 1 is at the limit. None where none is known."""

    fire: float
    """At the worst moment near the work, of the lower flammable limit."""
    fire_far: float
    """Likewise in the whole room."""
    short: float | None
    """Of what may be breathed for a short time, the worst 15 minutes of who works."""
    short_far: float | None
    """Likewise of who stands elsewhere in the room."""
    day: float | None
    """Of what may be breathed all day, the worst 8 hours of who works and then stays in the room."""
    day_far: float | None
    """Likewise of who stays elsewhere in it."""

    @property
    def breathing(self) -> float | None:
        """The worse of what who works breathes."""
        return None if self.short is None or self.day is None else max(self.short, self.day)


class SessionAir:
    """The air of a room through one session.

    Notes
    -----
    Two zones: the room, ``V dC/dt = G - Q C``, and the reach of who works, exchanged with it by β. By the decoupling of
    Nicas (2024) the near zone holds what the room holds and what a box of its own volume would with β: each is solved
    alone, and exactly. Who works is in the near zone while something is put on, and in the room before and after.
    """

    def __init__(self, emissions: Sequence[Emission], in_room: Sequence[Emission], catalogue: Catalogue) -> None:
        self._limit = catalogue.air_targets["breathing"]
        last_h = max(emission.start_h for emission in emissions) + self._limit.over_h
        alike: dict[tuple[float, float, float], list[Emission]] = {}
        for emission in in_room:
            if emission.start_h < last_h:
                alike.setdefault((emission.start_h, emission.end_h, emission.decay_h), []).append(emission)
        self._emissions = [same[0] for same in alike.values()]
        """Each stands for all that are alike in time, whose loads add up."""
        self._starts = sorted({emission.start_h for emission in emissions})
        self._at_h = _moments(emissions, self._emissions, self._limit.short_over_h, last_h)
        self._loads = {case: [_load(same, case, catalogue) for same in alike.values()] for case in get_args(Case)}
        self._given_off = GivenOff(self._emissions, self._at_h)
        self._boxes: dict[float, InBox] = {}
        """What was solved before, by the pace: a near zone is the same whatever the flow, a room whatever the case."""
        middle_h = (self._at_h[1:] + self._at_h[:-1]) / 2
        self._present = np.zeros(len(middle_h), bool)
        for emission in self._emissions:
            self._present |= (emission.start_h <= middle_h) & (middle_h < emission.end_h)

    def exposure(self, case: Case, zones: Zones) -> AirExposure:
        """Return what the air holds with the room as it is, in one case."""
        near_m3 = zones.near.volume_m3
        near_m3_h = zones.near.flow_m3_h.typical if case == "typical" else zones.near.flow_m3_h.low
        near_m3_h = max(near_m3_h, zones.booth_m3_h)
        room, reach = self._box(zones.flow_m3_h / zones.volume_m3), self._box(near_m3_h / near_m3)
        far, near = room.held / zones.volume_m3, reach.held / near_m3 * zones.kept
        far_h, near_h = room.summed_h / zones.volume_m3, reach.summed_h / near_m3 * zones.kept
        fire = np.array([load.fire for load in self._loads[case]])
        short = self._breathed([load.short for load in self._loads[case]], far_h, near_h, self._worst_short)
        day = self._breathed([load.day for load in self._loads[case]], far_h, near_h, self._worst_day)
        return AirExposure(
            fire=float((fire @ (far + near)).max()),
            fire_far=float((fire @ far).max()),
            short=short[0],
            short_far=short[1],
            day=day[0],
            day_far=day[1],
        )

    def _box(self, pace: float) -> InBox:
        in_box = self._boxes.get(pace)
        if in_box is None:
            in_box = self._boxes[pace] = self._given_off.in_box(pace)
        return in_box

    def _breathed(
        self,
        weights: Sequence[float | None],
        far_h: HoursArray,
        near_h: HoursArray,
        worst: Callable[[HoursArray], float],
    ) -> tuple[float | None, float | None]:
        """Return the worst mean of who works and of who does not."""
        known = [weight for weight in weights if weight is not None]
        if len(known) < len(weights):
            return None, None
        far = np.array(known) @ far_h
        more = np.diff(np.array(known) @ near_h) * self._present
        near = far + np.concatenate([[0.0], np.cumsum(more)])
        return worst(near), worst(far)

    def _worst_day(self, summed: HoursArray) -> float:
        """Return the worst mean over a working day that begins with a piece of the work."""
        return self._worst(summed, np.array(self._starts) + self._limit.over_h, self._limit.over_h)

    def _worst_short(self, summed: HoursArray) -> float:
        """Return the worst mean over the time of a short limit, whenever that is."""
        return self._worst(summed, self._at_h, self._limit.short_over_h)

    def _worst(self, summed: HoursArray, ends: HoursArray, mean_h: float) -> float:
        since = np.interp(ends - mean_h, self._at_h, summed)
        return float((np.interp(ends, self._at_h, summed) - since).max()) / mean_h


def _moments(emissions: Sequence[Emission], in_room: Sequence[Emission], short_h: float, last_h: float) -> HoursArray:
    """Return the moments to look at: dense while something is put on, and every one at which that begins or ends."""
    first_h = min(emission.start_h for emission in emissions)
    done_h = min(max(emission.end_h for emission in emissions) + 2 * short_h, last_h)
    breaks = [
        moment for emission in in_room for moment in (emission.start_h, emission.end_h) if first_h <= moment <= last_h
    ]
    moments = np.sort(
        np.concatenate(
            [breaks, np.arange(first_h, done_h, _STEP_H), np.arange(done_h, last_h, _LATER_STEP_H), [last_h]]
        )
    )
    # As np.unique has it, which loads numpy's masked arrays first.
    return moments[np.diff(moments, prepend=-np.inf) > 0]


def _load(emissions: Sequence[Emission], case: Case, catalogue: Catalogue) -> Loads:
    vapours = added_up({emission.solvent: emission.mass_g} for emission in emissions)
    grams = {name: mass_g.high if case == "high" else mass_g.typical for name, mass_g in vapours.items()}
    return loads(grams, catalogue)
