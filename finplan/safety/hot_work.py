"""What is heated in a room before vapour that burns has gone from it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from finplan.catalogue import Catalogue
from finplan.safety.circumstances import Circumstance
from finplan.safety.report import SessionReport
from finplan.safety.solvents import burns_cold
from finplan.timetable import TimetableStep

_HOT = ("hot-air", "hot-tool")
"""The dangers of what lights vapour, by name."""


def hot_too_early(
    rows: Sequence[TimetableStep],
    circumstances: Sequence[Circumstance],
    sessions: Sequence[SessionReport],
    catalogue: Catalogue,
) -> dict[str, datetime]:
    """Return from when on rows may be done that heat something sooner, by their ids.

    Parameters
    ----------
    rows
        Of the timetable
    circumstances
        What is there in which rows
    sessions
        What is reckoned of the air, and from when on a heater may be lit in it
    catalogue
        Which solvents burn
    """
    hot = {row for there in circumstances if there.danger in _HOT for row in there.rows}
    fit: dict[str, datetime] = {}
    for row in (row for row in rows if row.id in hot and row.kind == "attended"):
        waits = [
            again.at
            for report in sessions
            if report.session.room == row.room and report.start is not None and report.start < row.end
            if any(burns_cold(emission.solvent, catalogue) for emission in report.session.emissions)
            for again in report.fit_again
            if again.purpose == "heater" and again.at is not None and row.start < again.at
        ]
        if waits:
            fit[row.id] = max([*waits, fit.get(row.id, waits[0])])
    return fit
