"""A problem brought onto its axis: where everything can start, and what each start asks of another."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from finplan.scheduling.axis import Axis, Clock, ends_by_start
from finplan.scheduling.problem import Activity, Lag, Mode, NotBefore, Problem, Relation
from finplan.scheduling.table import Shift, Table


@dataclass(frozen=True, slots=True)
class CompiledMode:
    """A mode with the slot of its end for every point at which the activity can start in it."""

    index: int
    mode: Mode
    ends: Mapping[int, int]

    def end_points(self, axis: Axis) -> Table | Shift:
        """Return the first point at or after the end, for every start."""
        starts = list(self.ends)
        points = [axis.at_or_after(end) for end in self.ends.values()]
        sizes = {point - start for start, point in zip(starts, points, strict=True)}
        return Shift(sizes.pop()) if len(sizes) == 1 else Table(starts, points)


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
    for activity in problem.activities:
        found = []
        for index, mode in enumerate(activity.modes):
            if any(amount > problem.capacities[resource] for resource, amount in mode.demands.items()):
                continue
            if mode.calendar not in clocks:
                clocks[mode.calendar] = Clock(problem, mode.calendar)
            ends = ends_by_start(activity, mode, clocks[mode.calendar], axis)
            if ends:
                found.append(CompiledMode(index, mode, ends))
        modes[activity.name] = tuple(found)
    whole = Compiled(problem, axis, {one.name: one for one in problem.activities}, modes)
    whole.arcs = tuple(arc for relation in problem.relations for arc in _arcs(relation, whole))
    return whole


def _arcs(relation: Relation, whole: Compiled) -> list[Arc]:
    axis = whole.axis
    if isinstance(relation, Lag):
        table: Table | Shift = Shift(relation.at_least)
        if not isinstance(axis.points, range):
            starts = whole.starts(relation.first)
            table = Table(starts, [axis.at_or_after(axis.points[x] + relation.at_least) for x in starts])
        return [Arc(relation.first, relation.second, True, table, None, relation.unless)]
    at_least = isinstance(relation, NotBefore)
    place = axis.at_or_after if at_least else axis.at_or_before

    def value(slot: int) -> int:
        moment = slot if relation.rule is None else relation.rule(slot)
        if moment is None:
            return axis.end + 1
        return place(moment)

    if relation.since == "start":
        starts = whole.starts(relation.first)
        table = Table(starts, [value(axis.points[x]) for x in starts])
        return [Arc(relation.first, relation.second, at_least, table, None, relation.unless)]
    tables = tables_of_ends(whole, relation.first, value)
    return [Arc(relation.first, relation.second, at_least, table, mode, relation.unless) for mode, table in tables]


def tables_of_ends(whole: Compiled, name: str, value: Callable[[int], int]) -> list[tuple[int | None, Table | Shift]]:
    """Return what a value of the end is for every start: one table where all modes agree, else one for each mode."""
    known: dict[int, int] = {}
    tables: dict[int, dict[int, int]] = {}
    for mode in whole.modes[name]:
        for end in mode.ends.values():
            if end not in known:
                known[end] = value(end)
        tables[mode.index] = {start: known[end] for start, end in mode.ends.items()}
    together: dict[int, int] = {}
    agree = all(together.setdefault(x, y) == y for table in tables.values() for x, y in table.items())
    xs = sorted(together)
    ys = [together[x] for x in xs]
    if agree and ys == sorted(ys):
        return [(None, _shortest(xs, ys))] if xs else []
    return [(index, _shortest(list(table), list(table.values()))) for index, table in tables.items()]


def _shortest(xs: list[int], ys: list[int]) -> Table | Shift:
    shifts = {y - x for x, y in zip(xs, ys, strict=True)}
    return Shift(shifts.pop()) if len(shifts) == 1 else Table(xs, ys)
