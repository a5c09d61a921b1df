"""The air of the coating sessions on the sheet: a line where a coat goes on, and until when to air in the evening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from finplan.moments import show_moment
from finplan.plan import Plan
from finplan.safety import PURPOSES, SessionReport, air_words


class AirLines:
    """What is said of air in the days of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._units = plan.units
        self._sessions = plan.safety.sessions
        self._by_row: dict[str, list[SessionReport]] = {}
        for report in plan.safety.sessions:
            for row in report.steps:
                self._by_row.setdefault(row, []).append(report)

    def cautions(self, row_id: str) -> tuple[str, ...]:
        """Return what to mind of the air where a coat is put on; nothing where it is enough."""
        return self._said(row_id, enough=False)

    def lines(self, row_id: str) -> tuple[str, ...]:
        """Return that the air is enough, where it is."""
        return self._said(row_id, enough=True)

    def _said(self, row_id: str, *, enough: bool) -> tuple[str, ...]:
        reports = self._by_row.get(row_id, [])
        return tuple(
            dict.fromkeys(
                air_words(one, row_id, self._units) for one in reports if (one.session.verdict == "enough") is enough
            )
        )

    def evening(self, day: date, end: datetime) -> tuple[str, ...]:
        """Return until when each room is aired after the work of a day, for what is not over by then."""
        by_room: dict[str, list[SessionReport]] = {}
        for report in self._sessions:
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
        yield f"Air goes on coming into {room}: {', '.join(told)}."
