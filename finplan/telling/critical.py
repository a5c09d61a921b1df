"""What decides whether the piece is ready in time: what is critical, what is left to spare, and what closes when."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from finplan.listing import listed
from finplan.moments import not_before, show_day, show_moment
from finplan.planning import Plan
from finplan.showing import capital, show_temperature
from finplan.system import Treatment, TreatmentStep
from finplan.telling.names import Names
from finplan.telling.spare import closing_words, spare_words
from finplan.timetable import TimetableStep, steps_by_row

_FEW = 5


_Steps = Mapping[str, tuple[Treatment, TreatmentStep]]
_Phase = Literal["sanding", "gluing up", "coats", "rubbing out", "putting together"]


def critical_lines(plan: Plan) -> tuple[str, ...]:
    """Return what else decides, the most important first."""
    names = Names(plan)
    decides = filter(None, (spare_words(plan.timetable), closing_words(plan)))
    return (*decides, *_cold(plan, names), *plan.timetable.notes)


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


# --- what dries slowly ----------------------------------------------------------------------------------------------


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
