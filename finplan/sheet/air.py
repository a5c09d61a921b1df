"""Until when a room is aired in the evening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.safety import PURPOSES, SessionReport


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
    told = [f"{PURPOSES[purpose]} until {show_moment(at)}" for purpose, at in latest.items() if at > end]
    if told:
        yield f"Keep air coming into {room}: {', '.join(told)}."
