"""What the dates of a plan are called."""

from __future__ import annotations

from finplan.timetable import ReadyFor

READY: dict[ReadyFor, str] = {
    "handle": "Fit to handle",
    "light-use": "Ready for light use",
    "cure": "Cured fully",
}
"""When a piece counts as ready, by what is wanted of it."""
