"""What decides whether the piece is ready in time: what is critical, what is left to spare, and what closes when."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import timedelta
from functools import partial
from itertools import pairwise
from typing import Literal

from finplan.listing import listed
from finplan.moments import not_after, not_before, show_day, show_moment
from finplan.planning import Plan
from finplan.showing import capital, show_clock_time, show_temperature, show_working_time
from finplan.system import Treatment, TreatmentStep
from finplan.telling.chance import chance_words
from finplan.telling.names import Names
from finplan.timetable import PieceTimes, TimetableStep, following, steps_by_row

_FEW = 5
_CLOSE = timedelta(hours=24)
"""A recoat window with more to spare is not worth a line."""


_Steps = Mapping[str, tuple[Treatment, TreatmentStep]]
_Phase = Literal["sanding", "gluing up", "coats", "rubbing out", "putting together"]


def critical_lines(plan: Plan) -> tuple[str, ...]:
    """Return what else decides, the most important first."""
    names = Names(plan)
    spare = _spare(plan)
    return (*((spare,) if spare else ()), *_closing(plan, names), *_cold(plan, names), *plan.timetable.notes)


# --- what is critical -----------------------------------------------------------------------------------------------


def critical_chain(plan: Plan) -> str:
    """Return the critical work in a few words, what is of one kind told as one; empty where none is."""
    names = Names(plan)
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    phases: dict[_Phase, list[TimetableStep]] = {}
    for row in plan.timetable.steps:
        if row.critical and row.kind == "attended" and row.deed != "clean-up":
            phases.setdefault(_phase(row, steps), []).append(row)
    if not phases:
        return ""
    links = [_link(phase, rows, steps, names) for phase, rows in phases.items()]
    ready = plan.timetable.ready
    if ready is not None and max(rows[-1].end for rows in phases.values()) < ready:
        links.append(f"drying until {show_moment(not_before(ready))}")
    return f"{capital(' → '.join(links))}. What takes longer here makes the piece ready later."


def _phase(row: TimetableStep, steps: _Steps) -> _Phase:
    match row.deed:
        case "glue-up":
            return "gluing up"
        case "put-together":
            return "putting together"
        case "joints" | "mask" | "test" | "wipe-down":
            return "sanding"
        case "rub-out":
            return "rubbing out"
        case "coat" | "fill":
            return "coats"
        case _:
            treatment, step = steps[row.id]
            return "sanding" if treatment.on_bare_wood(step) else "coats"


def _link(phase: _Phase, rows: list[TimetableStep], steps: _Steps, names: Names) -> str:
    """Return a phase with its items and days."""
    coats = {steps[row.id][1].coat for row in rows if row.deed == "coat"}
    numbers = sorted(number for number in coats if number is not None)
    what = f"coats {_numbered(numbers)}" if len(numbers) > 1 else f"coat {numbers[0]}" if numbers else phase
    items = "" if phase == "putting together" else f" ({_some(list(dict.fromkeys(map(names.of_row, rows))))})"
    first, last = show_day(rows[0].start.date()), show_day(rows[-1].end.date())
    return f"{what}{items}, {first}" + (f" to {last}" if last != first else "")


def _numbered(numbers: list[int]) -> str:
    unbroken = numbers == list(range(numbers[0], numbers[-1] + 1))
    return f"{numbers[0]} to {numbers[-1]}" if unbroken and len(numbers) > 2 else listed(map(str, numbers))


def _some(names: list[str]) -> str:
    return listed(names) if len(names) <= _FEW else f"{len(names)} items"


# --- what is left to spare ------------------------------------------------------------------------------------------


def _spare(plan: Plan) -> str:
    """Return what is left before delivery and at the beginning, as far as there is a delivery."""
    lines = [_buffer(plan), *(chance_words(plan.timetable) if plan.timetable.deliver is not None else ())]
    if plan.timetable.latest_safe_start is not None:
        lines.append("Begun later than the latest safe start, it is not so sure.")
    return " ".join(line for line in lines if line)


def _buffer(plan: Plan) -> str:
    """Return what lies between ready and delivery, in the measure in which it was wanted."""
    table = plan.timetable
    times = min((one for one in table.pieces if one.buffer_h is not None), key=_least, default=None)
    if times is None or times.buffer_h is None or times.buffer_working_h is None:
        return ""
    if table.buffer.working:
        kept = show_working_time(times.buffer_working_h, table.working_day_h)
    else:
        kept = f"{show_clock_time(times.buffer_h)}, {show_working_time(times.buffer_working_h, math.inf)} of it,"
    show = partial(show_working_time, day_h=table.working_day_h) if table.buffer.working else show_clock_time
    if table.short_of_buffer:
        wanted = show(table.buffer_wanted_h, cut=math.ceil)
        return f"Only a buffer of {kept} is left before delivery, less than the {wanted} wanted: begin on time."
    return f"A buffer of {kept} is left before delivery; {show(table.buffer_wanted_h, cut=math.floor)} wanted."


def _least(times: PieceTimes) -> float:
    return times.buffer_h or 0.0


# --- what closes, and what dries slowly -----------------------------------------------------------------------------


def _closing(plan: Plan, names: Names) -> list[str]:
    """Return the recoat window that is most nearly missed, where one is; abrading in between makes it of no account."""
    next_coat = {
        step.id: after.id
        for treatment in plan.treatments
        for step, after in pairwise(one for one in treatment.steps if one.finish is not None)
        if following(treatment, step) == "coat"
    }
    rows = {row.id: row for row in plan.timetable.steps if row.kind == "attended"}
    windows = [
        (row.next_until - after.start, row, row.next_until)
        for row in rows.values()
        if row.next_until is not None
        and row.of_step in next_coat
        and (after := _same_side(next_coat[row.of_step], row.side, rows)) is not None
    ]
    spare, row, until = min(windows, key=lambda window: window[0], default=(_CLOSE, None, None))
    if row is None or until is None or spare >= _CLOSE:
        return []
    return [
        f"{capital(names.of_row(row))}, {row.step}: the next coat goes on by {show_moment(not_after(until))}, or it "
        "must be abraded first."
    ]


def _same_side(coat: str, side: str, rows: Mapping[str, TimetableStep]) -> TimetableStep | None:
    """Return the row of a coat on the same side, or on all faces; none where it is abraded again before."""
    found = rows.get(coat + side) or rows.get(coat)
    return None if found is None or f"{found.id}/abrade" in rows else found


def _cold(plan: Plan, names: Names) -> list[str]:
    """Return what the cold does to coats, with the items that it is about."""
    items: dict[str, dict[str, None]] = {}
    for step in plan.timetable.steps:
        for limit_c, words in (
            (step.film_fails_below_c, "A film may not form in the cold, below"),
            (step.slow_below_c, "Drying is slow in the cold, below"),
        ):
            if limit_c is not None:
                told = f"{words} {show_temperature(limit_c, plan.units)}"
                items.setdefault(told, {})[names.of_row(step)] = None
    return [
        f"{told}: {listed(found) if len(found) <= _FEW else f'{len(found)} items'}, see the days."
        for told, found in items.items()
    ]
