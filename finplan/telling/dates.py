"""What the dates of a plan are called, and how they are rounded: nothing is ready too early, nothing begun too late."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from finplan.moments import not_after, not_before, show_year_day
from finplan.timetable import PieceTimes, ReadyFor, Timetable

READY: dict[ReadyFor, str] = {
    "handle": "Fit to handle",
    "light-use": "Ready for light use",
    "cure": "Cured fully",
}
"""When a piece counts as ready, by what is wanted of it."""
NO_DELIVERY = "no date given"


def ready_at(times: PieceTimes) -> datetime:
    """Return when a piece is ready, so that nothing is had too early."""
    return not_before(times.ready)


def latest_start(table: Timetable) -> datetime | None:
    """Return the latest safe start; None where it was not asked, or none is safe."""
    return None if table.latest_safe_start is None else not_after(table.latest_safe_start)


def hard_from(cured: datetime) -> date:
    """Return from which day a finish is fully hard that cures in the course of a day: the one after."""
    return cured.date() + timedelta(days=1)


def cured_words(cured: datetime) -> str:
    """Return from when a finish has cured.

    >>> cured_words(datetime(2027, 3, 2, 14, 0))
    'cured fully by Wed 3 Mar 2027'
    """
    return f"cured fully by {show_year_day(hard_from(cured))}"
