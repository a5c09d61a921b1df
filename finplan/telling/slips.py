"""What it costs when work slips, in words: at a step, and of a day that is lost."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from finplan.moments import not_after, show_moment
from finplan.planning import Plan
from finplan.telling.chance import of_twenty
from finplan.timetable import TimetableStep, first_stretches


def latest_begin(rows: Sequence[TimetableStep], plan: Plan) -> datetime | None:
    """Return until when work may begin that is told as one; None where it cannot be late."""
    latest = [plan.slips.latest[row.id] for row in rows if row.id in plan.slips.latest]
    return not_after(min(latest)) if latest else None


def last_start(plan: Plan) -> datetime | None:
    """Return until when a plan may be begun, as its first step may; None where that is not known or makes no sense."""
    rows = (row for row in first_stretches(plan.timetable.steps).values() if row.deed != "clean-up")
    first = next(rows, None)
    return None if first is None else latest_begin([first], plan)


def latest_begin_words(rows: Sequence[TimetableStep], plan: Plan) -> str:
    """Return until when work may begin without moving the delivery; empty where nothing is known of it."""
    latest = latest_begin(rows, plan)
    if latest is None:
        return ""
    if latest <= rows[0].start:
        return "Begin on time: later moves the delivery."
    return f"Latest start {show_moment(latest)}."


def lost_day_words(day: date, plan: Plan) -> str:
    """Return what is left of the dates when nobody works on a day; empty where that is not known."""
    share = next((lost_day.in_time for lost_day in plan.slips.lost_days if lost_day.day == day), None)
    return "" if share is None else f"on time in {of_twenty(share)}"
