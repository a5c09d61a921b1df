"""How verdicts and airing are worded, wherever they are shown."""

from __future__ import annotations

from finplan.quantity import Units
from finplan.safety.report import Safety, SessionReport
from finplan.safety.session import Session, Verdict
from finplan.showing import show_flow, show_share

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
    "Reckoned with the room as one well-mixed box and the air within reach of the work as another in it (near field, "
    "far field), with the lowest limit that burns and the strictest limits to breathe that are published, means over "
    "15 minutes and 8 hours each against its own. Fire is judged by the worst moment at the most that may be used, in "
    "still air; breathing as it usually goes, with a margin of two: so far off was the model where it was held against "
    "measurements. Vapour is heavier than air: along the floor and over the wet piece it holds more than is reckoned."
)


def sprayed_without_booth(safety: Safety, declared: str | None) -> str:
    """Return what is said first of all of a plan in which what burns is sprayed without a booth; empty of any other.

    Parameters
    ----------
    safety
        Of the plan
    declared
        The words of the shop file that let it be planned
    """
    if declared is None or not any(one.session.booth_only and not one.session.in_booth for one in safety.sessions):
        return ""
    return (
        "SPRAYED WITHOUT A BOOTH. What burns or holds isocyanate is sprayed in an open room here, which rules forbid "
        f"in many places. It is planned because the shop file says: {declared}. Whoever sprays answers for it."
    )


def air_words(report: SessionReport, row_id: str, units: Units) -> str:
    """Return in one short sentence whether the air does for a row of a session, for the bench."""
    session = report.session
    found = session.fan_on
    sprayed = any(one.booth_only for one in session.emissions if one.id == row_id)
    if sprayed and not session.in_booth:
        return "No booth: sprayed without one on the word of the shop file."
    if session.verdict in ("fire danger", "above the planning target"):
        return "DO NOT BEGIN: by this reckoning too little air against fire."
    if session.isocyanate:
        return "Air alone does not do for isocyanate."
    if found is None or (session.air.missing and session.verdict == "unknown"):
        return "Air not known: vapour mask, doors and windows open on two sides. Measure the room."
    if found.typical.breathing is None or found.high.breathing is None:
        return "Air to breathe not known: mask as the safety data sheet says."
    if session.in_booth and session.verdict == "enough":
        flow, most = show_flow(session.air.booth_m3_h, units), show_share(found.high.breathing)
        return f"Booth ON ({flow}): then {most} the limit at the most, by this reckoning. The mask is for the mist."
    fan = f"Fan ON ({show_flow(session.air.fan_m3_h, units)})" if session.air.fan_m3_h else ""
    shares = (
        f"{show_share(found.typical.breathing)} the limit as it usually goes, {show_share(found.high.breathing)} it at "
        "the most"
    )
    if session.verdict == "enough":
        lead = f"{fan}: then the air does" if session.rests_on_fan else "The air does"
        close = "; then a mask" if found.breathing == "close" else ""
        without = f" {_without_fan(session)}" if session.air.fan_m3_h else ""
        return f"{lead} by this reckoning: {shares}{close}.{without}"
    return f"Vapour mask{', and ' + fan[:1].lower() + fan[1:] if fan else ''}: by this reckoning {shares}."


def _without_fan(session: Session) -> str:
    if session.fan_off is None:
        return "Without the fan nobody knows: vapour mask."
    if not session.rests_on_fan:
        return "So it does without the fan."
    breathing = session.fan_off.typical.breathing
    if session.fan_off.verdict != "too little to breathe" or breathing is None:
        return "Without the fan do not begin."
    return f"Without the fan {show_share(breathing)} it: vapour mask."
