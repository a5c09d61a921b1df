"""The air of a session in words: the verdict, what it rests on, and until when a room is aired."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from finplan.moments import not_before, show_clock, show_moment
from finplan.planning import Plan
from finplan.safety import AirVerdict, Safety, Session, SessionReport

VERDICTS: dict[AirVerdict, str] = {
    "enough": "The room's air is enough",
    "not by air alone": "Air alone does not do",
    "too little to breathe": "Too little air to breathe without a mask",
    "above the planning target": "Too little air: nearer to what burns than is planned for",
    "fire danger": "FIRE DANGER: far too little air",
    "unknown": "Not known: the shop file does not say enough",
}
PURPOSES = {
    "sanding": "no sanding there",
    "heater": "no flame or heater there",
    "sleeping": "nobody sleeps above",
}
"""What has to wait for fresh air, by name of an air target; until when follows."""
COMES_IN = "nobody comes in without breathing protection"
"""Where isocyanate is still in the air, or on what is wet."""
BASIS = (
    "Reckoned with the room as one well-mixed box and the air within reach of the work as another in it (near field, "
    "far field), with the lowest limit that burns and the strictest limits to breathe that are published, means over "
    "15 minutes and 8 hours each against its own. Fire is judged by the worst moment at the most that may be used, in "
    "still air; breathing as it usually goes, with a margin of two: so far off was the model where it was held against "
    "measurements. Vapour is heavier than air: along the floor and over the wet piece it holds more than is reckoned."
)


def aired_until(plan: Plan, day: date, end: datetime) -> tuple[str, ...]:
    """Return until when each room is aired after the work of a day, for what is not over by then.

    What was put on earlier and is still in the air counts too: who leaves last that day reads that day alone. Of a room
    of which nobody knows how fast it clears it is said on the days on which something is put on there.
    """
    by_room: dict[str, list[SessionReport]] = {}
    there = {row.id for row in plan.timetable.steps if row.kind == "attended" and row.start.date() == day}
    for report in plan.safety.sessions:
        if report.start is not None and report.start.date() <= day and (_is_known(report) or there & set(report.steps)):
            by_room.setdefault(report.session.room, []).append(report)
    return tuple(line for room, reports in by_room.items() for line in _aired(room, reports, end))


def _is_known(report: SessionReport) -> bool:
    return all(fit.at is not None for fit in report.fit_again)


def _aired(room: str, reports: Sequence[SessionReport], end: datetime) -> Iterator[str]:
    reacts = [report for report in reports if report.session.isocyanate]
    if not all(map(_is_known, reports)):
        out = "nobody comes in without breathing protection, " if reacts else ""
        yield (
            f"How fast the air of {room} clears nobody knows: air it until the smell is gone, {out}no flame and no "
            "heater, and nobody sleeps above it tonight."
        )
        return
    waits = [(COMES_IN, report.fit_to_enter) for report in reacts if report.fit_to_enter is not None]
    waits += [(PURPOSES[fit.purpose], fit.at) for report in reports for fit in report.fit_again if fit.at is not None]
    until: dict[str, list[str]] = {}
    for purpose in dict.fromkeys(purpose for purpose, _ in waits):
        at = max(moment for waits_for, moment in waits if waits_for == purpose)
        if at > end:
            moment = not_before(at)
            until.setdefault((show_clock if moment.date() == end.date() else show_moment)(moment), []).append(purpose)
    if until:
        told = "; ".join(f"{', '.join(purposes)} until {moment}" for moment, purposes in until.items())
        yield f"Keep air coming into {room}: {told}."


def sprayed_without_booth(safety: Safety, declared: str | None) -> str:
    """Return what is said first of all of a plan in which what burns is sprayed without a booth; empty of any other.

    Parameters
    ----------
    safety
        Of the plan
    declared
        The words of the shop file that let it be planned
    """
    if declared is None or not any(
        session.session.booth_only and not session.session.in_booth for session in safety.sessions
    ):
        return ""
    return (
        "SPRAYED WITHOUT A BOOTH. What burns or holds isocyanate is sprayed in an open room here, which rules forbid "
        f"in many places. It is planned because the shop file says: {declared}. Whoever sprays answers for it."
    )


def verdict_words(session: Session) -> str:
    """Return the verdict of a session, with what it rests on."""
    words = VERDICTS[session.verdict]
    if session.verdict != "enough":
        return words
    if session.in_booth:
        return f"{words} in the booth, its exhaust on, by this reckoning"
    if session.rests_on_fan:
        return f"{words} with the fan on, by this reckoning"
    with_or_without = ", with the fan or without," if session.air.fan_m3_h else ""
    return f"{words}{with_or_without} by this reckoning"
