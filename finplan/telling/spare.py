"""What is left to spare: between ready and delivery, at the beginning, and before a window closes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from itertools import pairwise

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.moments import not_after, show_moment
from finplan.planning import Plan
from finplan.showing import capital, show_clock_time, show_duration, show_working_time
from finplan.telling.after_coat import PUTS_ON, after_coats
from finplan.telling.names import Names
from finplan.timetable import PieceTimes, Timetable, TimetableStep

_CLOSE = timedelta(hours=24)
"""A recoat window with more to spare is not worth a line."""


def late_by_words(times: PieceTimes) -> str:
    """Return by how much a piece is late for its delivery; empty where it is not."""
    late_h = -(times.buffer_h or 0.0)
    return f"late by {show_duration(late_h)}" if late_h > 0 else ""


def kept_words(times: PieceTimes, table: Timetable) -> str:
    """Return what lies between ready and delivery of a piece, in the measure in which it was wanted; empty of no date.

    Rounded down: nothing is promised that is not there.
    """
    if times.buffer_h is None or times.buffer_working_h is None:
        return ""
    if table.buffer.working:
        return show_working_time(times.buffer_working_h, table.working_day_h)
    return f"{show_clock_time(times.buffer_h)}, {show_working_time(times.buffer_working_h, math.inf)} of it,"


def buffer_rule_words(shop: Shop, catalogue: Catalogue) -> str:
    """Return what a shop wants left before a delivery, or what holds where it says nothing."""
    if shop.buffer_h is not None:
        return show_duration(shop.buffer_h)
    rule = catalogue.time_in_hand["common"]
    a_week = "a working day" if rule.buffer_a_week == 1 else f"{rule.buffer_a_week:g} working days"
    least = "half a one" if rule.least_buffer == 1 / 2 else f"{rule.least_buffer:g} of them"
    return f"{a_week} for each week of plan, at least {least}"


def wanted_words(table: Timetable) -> str:
    """Return what was wanted there, rounded so that what is less than it is told as less."""
    cut: Callable[[float], int] = math.ceil if table.short_of_buffer else math.floor
    if table.buffer.working:
        return show_working_time(table.buffer_wanted_h, table.working_day_h, cut)
    return show_clock_time(table.buffer_wanted_h, cut)


def buffer_words(table: Timetable) -> str:
    """Return what is left before the delivery that is nearest to be missed; empty of no date."""
    times = min((piece for piece in table.pieces if piece.buffer_h is not None), key=_least, default=None)
    kept = "" if times is None else kept_words(times, table)
    if not kept:
        return ""
    wanted = wanted_words(table)
    late = "" if times is None else late_by_words(times)
    if late:
        return f"{capital(late)}: the date has passed when all is ready."
    if table.short_of_buffer:
        return f"Only a buffer of {kept} is left before delivery, less than the {wanted} wanted: begin on time."
    return f"A buffer of {kept} is left before delivery; {wanted} wanted."


def _least(times: PieceTimes) -> float:
    return times.buffer_h or 0.0


def closing_words(plan: Plan) -> str:
    """Return the recoat window that is most nearly missed, where one is; empty of no such.

    Abrading in between makes it of no account.
    """
    spare, row, closes = min(_windows(plan), key=lambda window: window[0], default=(_CLOSE, None, None))
    if row is None or closes is None or spare >= _CLOSE:
        return ""
    coat = f"{capital(Names(plan).of_row(row))}, {row.step}"
    return f"{coat}: the next coat goes on by {show_moment(not_after(closes))}, or it must be abraded first."


def _windows(plan: Plan) -> Iterator[tuple[timedelta, TimetableStep, datetime]]:
    """Give what is left of each window when the next coat is begun, the row of the coat, and when it closes."""
    after = after_coats(plan)
    by_step: dict[str, list[TimetableStep]] = {}
    for row in plan.timetable.steps:
        if row.of_step is not None:
            by_step.setdefault(row.of_step, []).append(row)
    for treatment in plan.treatments:
        for step, following in pairwise(put_on for put_on in treatment.steps if put_on.finish is not None):
            later = by_step.get(following.id, [])
            begun = min((row.start for row in later if row.deed in PUTS_ON), default=None)
            if begun is None:
                continue
            for row in by_step.get(step.id, []):
                coat = after.get(row.id)
                if coat is not None and coat.closes is not None and not coat.abraded:
                    yield coat.closes - begun, row, coat.closes
