"""Starts that no schedule can have, taken out before a solver sees them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finplan.scheduling.axis import axis_of
from finplan.scheduling.compiled import Compiled, CompiledMode, TableArc, compiled
from finplan.scheduling.problem import Problem

_ROUNDS = 50
"""Bounds that chase one another round a cycle are left to the solver after so many rounds."""


@dataclass
class _Bounds:
    low: int
    high: int


def start_bounds(problem: Problem) -> dict[str, tuple[int, int]] | None:
    """Return between which slots everything starts in any schedule, as far as its relations tell by themselves.

    None where something cannot start at all: no schedule exists. What is optional and cannot be done is left out.
    """
    whole = compiled(problem, axis_of(problem))
    if draw_in(whole) is not None:
        return None
    points = whole.axis.points
    starts = {name: whole.starts(name) for name in whole.activities}
    return {name: (points[left[0]], points[left[-1]]) for name, left in starts.items() if left}


def draw_in(whole: Compiled) -> str | None:
    """Take out every start that relations alone forbid; return an activity that has none left, or None."""
    bounds: dict[str, _Bounds] = {}
    for name, activity in whole.activities.items():
        starts = whole.starts(name)
        if starts:
            bounds[name] = _Bounds(starts[0], starts[-1])
        elif not activity.optional:
            return name
    arcs = [arc for arc in whole.arcs if _counts(arc, whole)]
    for _ in range(_ROUNDS):
        moved = [arc for arc in arcs if _move(arc, bounds)]
        for arc in moved:
            for name in (arc.first, arc.second):
                if bounds[name].low > bounds[name].high:
                    return name
        if not moved:
            break
    for name, bound in bounds.items():
        cut = (_cut(mode, bound) for mode in whole.modes[name])
        whole.modes[name] = tuple(mode for mode in cut if len(mode.ends))
        if not whole.modes[name] and not whole.activities[name].optional:
            return name
    return None


def _counts(arc: TableArc, whole: Compiled) -> bool:
    """Return whether an arc holds whatever is chosen."""
    ends = (whole.activities[arc.first], whole.activities[arc.second])
    return arc.unless is None and arc.mode is None and not any(activity.optional for activity in ends)


def _move(arc: TableArc, bounds: dict[str, _Bounds]) -> bool:
    """Draw in the bounds of both activities of an arc; return whether anything moved."""
    first, second = bounds[arc.first], bounds[arc.second]
    before = (first.low, first.high, second.low, second.high)
    if arc.at_least:
        asked = arc.table.from_(first.low)
        second.low = second.low if asked is None else max(second.low, asked)
        last = arc.table.last_keeping(second.high)
        first.high = -1 if last is None else min(first.high, last)
    else:
        asked = arc.table.up_to(first.high)
        second.high = second.high if asked is None else min(second.high, asked)
        earliest = arc.table.first_reaching(second.low)
        first.low = first.high + 1 if earliest is None else max(first.low, earliest)
    return before != (first.low, first.high, second.low, second.high)


def _cut(mode: CompiledMode, bound: _Bounds) -> CompiledMode:
    ends = mode.ends.between(bound.low, bound.high)
    return mode if ends is mode.ends else replace(mode, ends=ends)
