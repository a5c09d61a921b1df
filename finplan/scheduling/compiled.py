"""A problem brought onto its axis: where everything can start, and what each start asks of another."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import accumulate, islice, pairwise

from finplan.scheduling.axis import Axis, Clock, ends_by_start
from finplan.scheduling.problem import Activity, Deadline, Lag, Mode, NotBefore, Problem, Relation
from finplan.scheduling.table import Shift, Table


@dataclass(frozen=True, slots=True)
class CompiledMode:
    """A mode with the slot of its end for every point at which the activity can start in it."""

    index: int
    mode: Mode
    ends: Mapping[int, int]

    def end_points(self, axis: Axis) -> Table | Shift:
        """Return the first point at or after the end, for every start."""
        duration = self.mode.duration
        if isinstance(duration, int) and not self.mode.pausable:
            return Shift(duration)  # every slot of an open stretch is a point
        starts, ends = list(self.ends), self.ends

        def value(start: int) -> int:
            return axis.at_or_after(ends[start])

        amount = value(starts[0]) - starts[0]
        if all(value(start) == start + amount for start in starts):
            return Shift(amount)
        return Table(starts, value)


@dataclass(frozen=True, slots=True)
class Arc:
    """``start(second) >= table[start(first)]``, or ``<=``, in one mode of *first* or in all of them."""

    first: str
    second: str
    at_least: bool
    table: Table | Shift
    mode: int | None = None
    """None: whatever the mode."""
    unless: str | None = None
    implied: bool = False
    """Whether it only says what follows from others that hold in one mode each, for drawing in bounds."""


@dataclass
class Compiled:
    """A problem on its axis. ``modes`` shrinks as bounds are drawn in."""

    problem: Problem
    axis: Axis
    activities: Mapping[str, Activity]
    modes: dict[str, tuple[CompiledMode, ...]]
    arcs: tuple[Arc, ...] = field(default=())

    def starts(self, name: str) -> list[int]:
        """Return the points at which an activity can start, in order."""
        modes = self.modes[name]
        if len(modes) == 1:
            return list(modes[0].ends)
        return sorted({start for mode in modes for start in mode.ends})


def compiled(problem: Problem, axis: Axis) -> Compiled:
    """Return a problem on its axis, its bounds not yet drawn in."""
    clocks: dict[str | None, Clock] = {}
    modes: dict[str, tuple[CompiledMode, ...]] = {}
    deadlines: dict[str, list[Deadline]] = {}
    for deadline in problem.deadlines:
        deadlines.setdefault(deadline.activity, []).append(deadline)
    for activity in problem.activities:
        found = []
        for index, mode in enumerate(activity.modes):
            if any(amount > problem.capacities[resource] for resource, amount in mode.demands.items()):
                continue
            if mode.calendar not in clocks:
                clocks[mode.calendar] = Clock(problem, mode.calendar)
            ends = ends_by_start(activity, mode, clocks[mode.calendar], axis)
            for deadline in deadlines.get(activity.name, ()):
                ends = _in_time(ends, deadline)
            if ends:
                found.append(CompiledMode(index, mode, ends))
        modes[activity.name] = tuple(found)
    whole = Compiled(problem, axis, {one.name: one for one in problem.activities}, modes)
    whole.arcs = tuple(arc for relation in problem.relations for arc in _arcs(relation, whole))
    return whole


def _in_time(ends: Mapping[int, int], deadline: Deadline) -> dict[int, int]:
    """Return the starts whose ends keep a deadline: all up to some start."""

    def late(end: int) -> bool:
        moment = end if deadline.rule is None else deadline.rule(end)
        return moment is None or moment > deadline.at

    starts = list(ends)
    kept = bisect_left(starts, True, key=lambda start: late(ends[start]))
    return dict(islice(ends.items(), kept))


def _arcs(relation: Relation, whole: Compiled) -> list[Arc]:
    axis = whole.axis
    if isinstance(relation, Lag):
        table: Table | Shift = Shift(relation.at_least)
        if not isinstance(axis.points, range):
            table = Table(whole.starts(relation.first), lambda x: axis.at_or_after(axis.points[x] + relation.at_least))
        return [Arc(relation.first, relation.second, True, table, None, relation.unless)]
    at_least = isinstance(relation, NotBefore)
    place = axis.at_or_after if at_least else axis.at_or_before

    def value(slot: int) -> int:
        moment = slot if relation.rule is None else relation.rule(slot)
        if moment is None:
            return axis.end + 1
        return place(moment)

    if relation.since == "start":
        table = Table(whole.starts(relation.first), lambda x: value(axis.points[x]))
        return [Arc(relation.first, relation.second, at_least, table, None, relation.unless)]
    if relation.rule is None and at_least:
        sizes = (mode.end_points(axis) for mode in whole.modes[relation.first])
        size = next(sizes, None)
        if isinstance(size, Shift) and all(other == size for other in sizes):
            return [Arc(relation.first, relation.second, True, size, None, relation.unless)]
    tables = tables_of_ends(whole, relation.first, value)
    arcs = [Arc(relation.first, relation.second, at_least, table, mode, relation.unless) for mode, table in tables]
    if len(tables) > 1:
        loosest = _of_ends(_loosest_ends(whole, relation.first, first=at_least), value)
        arcs.append(Arc(relation.first, relation.second, at_least, loosest, None, relation.unless, implied=True))
    return arcs


def _loosest_ends(whole: Compiled, name: str, *, first: bool) -> dict[int, int]:
    """Return for every start the first end of any mode from it on, or the last of any up to it."""
    choose: Callable[[int, int], int] = min if first else max
    ends: dict[int, int] = {}
    for mode in whole.modes[name]:
        for start, end in mode.ends.items():
            ends[start] = choose(ends.get(start, end), end)
    starts = sorted(ends, reverse=first)
    loosest = dict(zip(starts, accumulate((ends[start] for start in starts), choose), strict=True))
    return {start: loosest[start] for start in reversed(starts)} if first else loosest


def tables_of_ends(whole: Compiled, name: str, value: Callable[[int], int]) -> list[tuple[int | None, Table | Shift]]:
    """Return what a value of the end is for every start: one table where all modes agree, else one for each mode."""
    together: dict[int, int] = {}
    modes = whole.modes[name]
    if all(together.setdefault(start, end) == end for mode in modes for start, end in mode.ends.items()):
        ends = {start: together[start] for start in sorted(together)}
        if all(one <= other for one, other in pairwise(ends.values())):
            return [(None, _of_ends(ends, value))] if ends else []
    return [(mode.index, _of_ends(mode.ends, value)) for mode in modes]


def _of_ends(ends: Mapping[int, int], value: Callable[[int], int]) -> Table:
    return Table(list(ends), lambda start: value(ends[start]))
