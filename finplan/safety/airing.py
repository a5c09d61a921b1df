"""When the air of a room is fit again: to sleep above, to sand in, to light a heater in."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from finplan.catalogue import AirTarget, Catalogue
from finplan.safety.emission import peak_rate
from finplan.safety.loads import Loads, loads
from finplan.safety.session import Session
from finplan.safety.vapour import purge_hours

PURPOSES = ("sanding", "heater", "sleeping")
"""Names in the catalogue's air-targets."""
_LONGEST_H = 60 * 24.0
_NEAR_H = 1 / 60


@dataclass(frozen=True, slots=True)
class Airing:
    """How long to air for something, once the last coat of a session is on and the tools are clean. [h]"""

    purpose: str
    """A name in the catalogue's air-targets."""
    hours: float | None
    """None where that cannot be said: the room, its air or a limit is not known, or no air comes in."""


def airings(session: Session, catalogue: Catalogue) -> tuple[Airing, ...]:
    """Return how long to air after a session, for each purpose.

    Notes
    -----
    When the last coat is on, the air is taken to hold as much as it could at the worst moment: the steady state of the
    greatest rate, ``K G / Q``, but never more than all of the session's vapour in the room. From there it falls by the
    purge equation, while what is still wet adds to it.
    """
    return tuple(Airing(purpose, _hours(session, catalogue.air_targets[purpose], catalogue)) for purpose in PURPOSES)


def _hours(session: Session, target: AirTarget, catalogue: Catalogue) -> float | None:
    air = session.air
    if air.volume_m3 is None or not air.flow_m3_h:
        return None

    def filled(load: Loads) -> float | None:
        return load.fire_limit if target.limit == "lower-flammable-limit" else load.health_limit

    weights = [filled(loads({one.solvent: one.mass_g}, air.mixing, catalogue)) for one in session.emissions]
    known = [weight for weight in weights if weight is not None]
    if len(known) < len(weights):
        return None
    falls_to = target.share_pct / 100
    left = _left(session, known, air.volume_m3, air.flow_m3_h)
    first_h = max(
        purge_hours(air.volume_m3, air.flow_m3_h, falls_to / left(0.0), air.mixing) if left(0.0) else 0.0,
        target.air_changes * air.volume_m3 / air.flow_m3_h,
    )
    return _when_below(left, falls_to, first_h)


def _left(session: Session, weights: list[float], volume_m3: float, flow_m3_h: float) -> Callable[[float], float]:
    """Return how much of a limit the air holds so many hours after the end.

    Parameters
    ----------
    session
        The session
    weights
        For each of its emissions, the air that it would bring to the limit. [m³]
    volume_m3, flow_m3_h
        Of the room

    Notes
    -----
    ``V dC/dt = G(t) - Q C / K`` with ``G`` the sum of what still falls, each by its own time: the solution is a sum of
    exponentials, and ``K G / Q`` at the end is more than it can hold later.
    """
    mixing = session.air.mixing
    changes = flow_m3_h / (mixing * volume_m3)
    most = sum(weights) / volume_m3
    at_end = min(most, peak_rate(session.emissions, weights) * mixing / flow_m3_h)
    tails = [
        (weight * one.falling(session.end_h) / volume_m3, 1 / one.decay_h)
        for one, weight in zip(session.emissions, weights, strict=True)
        if one.decay_h > 0
    ]

    def left(hours: float) -> float:
        held = at_end * math.exp(-changes * hours)
        for rate, pace in tails:
            held += rate * _between(changes, pace, hours)
        return min(most, held)

    return left


def _between(changes: float, pace: float, hours: float) -> float:
    """Return what a source that falls at a pace leaves in air that is changed at another. [h]"""
    if math.isclose(changes, pace, rel_tol=1e-6):
        return hours * math.exp(-changes * hours)
    return (math.exp(-pace * hours) - math.exp(-changes * hours)) / (changes - pace)


def _when_below(left: Callable[[float], float], share: float, first_h: float) -> float | None:
    """Return the hours after which the air holds no more than a share of a limit; None where that is never soon."""
    if left(first_h) <= share:
        return first_h
    low_h, high_h = first_h, max(2 * first_h, 1.0)
    while left(high_h) > share:
        low_h, high_h = high_h, 2 * high_h
        if high_h > _LONGEST_H:
            return None
    while high_h - low_h > _NEAR_H:
        middle_h = (low_h + high_h) / 2
        low_h, high_h = (middle_h, high_h) if left(middle_h) > share else (low_h, middle_h)
    return high_h
