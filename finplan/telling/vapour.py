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
BASIS = (
    "Reckoned with the room as one well-mixed box and the air within reach of the work as another in it (near field, "
    "far field), with the lowest limit that burns and the strictest limits to breathe that are published, means over "
    "15 minutes and 8 hours each against its own. Fire is judged by the worst moment at the most that may be used, in "
    "still air; breathing as it usually goes, with a margin of two: so far off was the model where it was held against "
    "measurements. Vapour is heavier than air: along the floor and over the wet piece it holds more than is reckoned."
)


def aired_until(plan: Plan, day: date, end: datetime) -> tuple[str, ...]:
    """Return until when each room is aired after the work of a day, for what is not over by then."""
    by_room: dict[str, list[SessionReport]] = {}
    for report in plan.safety.sessions:
        if report.start is not None and report.start.date() == day:
            by_room.setdefault(report.session.room, []).append(report)
    return tuple(line for room, reports in by_room.items() for line in _aired(room, reports, end))


def _aired(room: str, reports: Sequence[SessionReport], end: datetime) -> Iterator[str]:
    fits = [fit for report in reports for fit in report.fit_again]
    if any(fit.at is None for fit in fits):
        yield (
            f"How fast the air of {room} clears nobody knows: air it until the smell is gone, no flame and no heater, "
            "and nobody sleeps above it tonight."
        )
        return
    latest = {
        purpose: max(fit.at for fit in fits if fit.purpose == purpose and fit.at is not None)
        for purpose in dict.fromkeys(fit.purpose for fit in fits)
    }
    until: dict[str, list[str]] = {}
    for purpose, at in latest.items():
        if at > end:
            moment = not_before(at)
            until.setdefault((show_clock if moment.date() == end.date() else show_moment)(moment), []).append(
                PURPOSES[purpose]
            )
    if until:
        told = "; ".join(f"{', '.join(what)} until {moment}" for moment, what in until.items())
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
