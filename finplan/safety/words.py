"""How verdicts and airing are worded, wherever they are shown."""

from __future__ import annotations

from finplan.quantity import Units
from finplan.safety.report import SessionReport
from finplan.safety.session import Session, Verdict
from finplan.showing import capital, show_flow

VERDICTS: dict[Verdict, str] = {
    "enough": "The room's air is enough",
    "not by air alone": "Air alone does not do",
    "too little to breathe": "Too little air to breathe without a mask",
    "above the planning target": "Too little air: nearer to what burns than is planned for",
    "fire danger": "FIRE DANGER: far too little air",
    "unknown": "Not known: the shop file does not say enough",
}
PURPOSES = {
    "sanding": "before sanding there",
    "heater": "before a flame or heater is lit",
    "sleeping": "before anybody sleeps above",
}
"""By name of an air target."""
BASIS = (
    "Reckoned with the most that may be used, the lowest flammable limit and the strictest limit to breathe that are "
    "published, and while most comes off; the air is taken to be evenly mixed against fire, which near the wet piece "
    "and along the floor it is not."
)


def wanted_flow(session: Session) -> float:
    """Return the fresh air that is wanted in all, as far as it is known. [m³/h]"""
    return max(session.needs_m3_h.target, session.needs_m3_h.health or 0.0)


def air_words(report: SessionReport, row_id: str, units: Units) -> str:
    """Return in one short sentence whether the air does for a row of a session, for the bench."""
    session = report.session
    wanted = show_flow(wanted_flow(session), units)
    if any(one.booth_only for one in session.emissions if one.id == row_id):
        return f"Only in a proper booth, its exhaust drawing {wanted} or more."
    if session.air.flow_m3_h is None:
        return f"Air not known: {wanted} needed. Measure the room; doors and windows open on two sides."
    figures = f"{wanted} needed, {show_flow(session.air.flow_m3_h, units)} there"
    if session.verdict == "enough":
        return f"Air enough: {figures}."
    if session.verdict in ("fire danger", "above the planning target"):
        return f"DO NOT BEGIN: too little air against fire. {capital(figures)}."
    if session.isocyanate:
        return f"Air alone does not do for isocyanate: {figures}."
    if session.needs_m3_h.health is None:
        return "Air to breathe not known: mask as the safety data sheet says."
    return f"Air too little to breathe: {figures}. Vapour mask, or more air."
