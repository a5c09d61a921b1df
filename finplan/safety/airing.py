"""When the air of a room is fit again: to sleep above, to sand in, to light a heater in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from finplan.catalogue import AirTarget, Catalogue
from finplan.safety.box import GivenOff, HoursArray
from finplan.safety.emission import Emission
from finplan.safety.loads import Loads, loads
from finplan.safety.session import Session
from finplan.safety.solvents import burns_cold

Purpose = Literal["sanding", "heater", "sleeping"]
"""Names in the catalogue's air-targets."""
PURPOSES: tuple[Purpose, ...] = get_args(Purpose)
_LONGEST_H = 60 * 24.0
_NEAR_H = 1 / 60


@dataclass(frozen=True, slots=True)
class Airing:
    """How long to air for something, once the last coat of a session is on and the tools are clean. [h]"""

    purpose: Purpose
    hours: float | None
    """None where that cannot be said: the room, its air or a limit is not known, or no air comes in."""


def airings(session: Session, catalogue: Catalogue) -> tuple[Airing, ...]:
    """Return how long to air after a session, for each purpose.

    Notes
    -----
    The room is the well-mixed box of its session, with the fan on, at the most that may be used; what is still wet adds
    to what its air holds.
    """
    return tuple(Airing(purpose, _hours(session, catalogue.air_targets[purpose], catalogue)) for purpose in PURPOSES)


def _hours(session: Session, target: AirTarget, catalogue: Catalogue) -> float | None:
    volume_m3 = session.air.volume_m3
    flow_m3_h = None if session.fan_on is None else session.fan_on.flow_m3_h
    if volume_m3 is None or not flow_m3_h:
        return None
    # What the code asks for before a heater is started, it asks for where finishes are put on that burn.
    burns = any(burns_cold(emission.solvent, catalogue) for emission in session.emissions)
    by_rule = burns or target.limit != "lower-flammable-limit"
    first_h = target.air_changes * volume_m3 / flow_m3_h if by_rule else 0.0
    return fit_after(session.emissions, session.end_h, target, volume_m3, flow_m3_h, catalogue, first_h=first_h)


def fit_after(
    emissions: Sequence[Emission],
    since_h: float,
    target: AirTarget,
    volume_m3: float,
    flow_m3_h: float,
    catalogue: Catalogue,
    *,
    first_h: float = 0.0,
) -> float | None:
    """Return how long after a moment the air of a room is fit for something, and stays so; None for unknown, or never.

    Parameters
    ----------
    emissions
        What is set free in it
    since_h
        The moment, as the emissions have it. [h]
    target
        What the air is to be fit for
    volume_m3, flow_m3_h
        The room, and the fresh air that it gets. [m³, m³/h]; above 0
    catalogue
        Where solvents are
    first_h
        So long it takes whatever it holds. [h]
    """

    def limit(load: Loads) -> float | None:
        return load.fire if target.limit == "lower-flammable-limit" else load.day

    weights = [limit(loads({emission.solvent: emission.mass_g.high}, catalogue)) for emission in emissions]
    known = [weight for weight in weights if weight is not None]
    if len(known) < len(weights):
        return None

    def share(hours: HoursArray) -> HoursArray:
        held = GivenOff(emissions, since_h + hours).held(flow_m3_h / volume_m3)
        return np.asarray(np.sum(np.array(known)[:, np.newaxis] * held, axis=0) / volume_m3 * target.margin)

    return _when_below(share, target.share_pct / 100, first_h)


def _when_below(share: Callable[[HoursArray], HoursArray], limit: float, first_h: float) -> float | None:
    """Return the hours from which on the air never again holds more than a share; None where that is never soon.

    After the last coat it may rise before it falls, but only once: looked at is where it was last above.
    """
    hours = np.concatenate([[first_h], np.geomspace(max(first_h, 0.05), _LONGEST_H, 200)])
    above = np.flatnonzero(share(hours) > limit)
    if not len(above):
        return first_h
    if above[-1] == len(hours) - 1:
        return None
    low_h, high_h = float(hours[above[-1]]), float(hours[above[-1] + 1])
    while high_h - low_h > _NEAR_H:
        middle_h = (low_h + high_h) / 2
        low_h, high_h = (middle_h, high_h) if share(np.array([middle_h]))[0] > limit else (low_h, middle_h)
    return high_h
