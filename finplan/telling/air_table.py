"""The air of a coating session in the few words of a table: what it needs, what it gets, and what is worn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.safety import AirVerdict, FreshAir, Reckoning, Session
from finplan.showing import show_flow, show_share

_SHORT: dict[AirVerdict, str] = {
    "enough": "enough",
    "not by air alone": "air alone does not do",
    "too little to breathe": "too little",
    "above the planning target": "too little: near to what burns",
    "fire danger": "FIRE DANGER",
    "unknown": "not known",
}
_NO_MASK = "none against vapour"
_SEE_BELOW = "see below"
"""What is to be done first stands below the table."""


@dataclass(frozen=True, slots=True)
class AirCells:
    """What stands in the row of a session."""

    needs: str
    gets: str
    """With the fan on, or in the booth, where there is one; with the share of the limit that may be breathed."""
    without_fan: str
    """Empty of a room without a fan."""
    mask: str
    """What is worn with the fan on."""


def air_cells(session: Session, plan: Plan) -> AirCells:
    """Return the air of a session for its row."""
    return AirCells(
        needs=_needs(session.needs_m3_h, plan.units),
        gets=("in the booth: " if session.in_booth else "") + _gets(session.fan_on, plan.units),
        without_fan="" if session.fan_off is None else _gets(session.fan_off, plan.units),
        mask=_mask(session, plan.catalogue),
    )


def has_fan(sessions: Sequence[Session]) -> bool:
    """Return whether any session is in a room with a fan."""
    return any(session.fan_off is not None for session in sessions)


def _needs(air: FreshAir, units: Units) -> str:
    """Return the flow that would do against fire and for breathing; what no flow does is said."""
    flows = [air.fire, air.target, air.health]
    known = [flow for flow in flows if flow is not None]
    if len(known) < len(flows):
        return "no flow does"
    most = max(known)
    return "no more than stands there" if most == 0 else show_flow(most, units)


def _gets(reckoning: Reckoning | None, units: Units) -> str:
    if reckoning is None:
        return _SHORT["unknown"]
    told = f"{show_flow(reckoning.flow_m3_h, units)}: {_SHORT[reckoning.verdict]}"
    if reckoning.typical.breathing is None:
        return told
    return f"{told}, {show_share(reckoning.typical.breathing)}"


def _mask(session: Session, catalogue: Catalogue) -> str:
    if session.mask is not None:
        return catalogue.respirators[session.mask].title
    return _NO_MASK if session.verdict == "enough" else _SEE_BELOW
