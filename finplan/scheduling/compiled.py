"""A problem brought onto its axis: where everything can start, and what each start asks of another."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from finplan.scheduling.axis import Axis, Clock, ends_by_start
from finplan.scheduling.ends import Ends, Merging
from finplan.scheduling.problem import Activity, Deadline, Lag, Mode, NotBefore, Problem, Relation
from finplan.scheduling.table import Offset, Table


@dataclass(frozen=True, slots=True)
class CompiledMode:
    """A mode with the slot of its end for every point at which the activity can start in it."""

    index: int
    mode: Mode
    ends: Ends

    def end_points(self, axis: Axis) -> Table | Offset:
        """Return the first point at or after the end, for every start."""
        duration = self.mode.duration
        if isinstance(duration, int) and not self.mode.pausable:
            return Offset(duration)  # every slot of an open stretch is a point
        ends = self.ends

        def value(start: int) -> int:
            return axis.at_or_after(ends[start])

        amount = value(ends.starts[0]) - ends.starts[0]
        if all(axis.at_or_after(end) == start + amount for start, end in ends.pairs()):
            return Offset(amount)
        return Table(ends.starts, value)


@dataclass(frozen=True, slots=True)
class TableArc:
    """``start(second) >= table[start(first)]``, or ``<=``, in one mode of *first* or in all of them."""

    first: str
    second: str
    at_least: bool
    table: Table | Offset
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
    arcs: tuple[TableArc, ...] = field(default=())
    merging: Merging = field(default_factory=Merging)

    def starts(self, name: str) -> Sequence[int]:
        """Return the points at which an activity can start, in order."""
        return self.merging.starts(self.ends(name))

    def ends(self, name: str) -> tuple[Ends, ...]:
        """Return the ends of an activity, mode by mode."""
        return tuple(mode.ends for mode in self.modes[name])


def compiled(problem: Problem, axis: Axis) -> Compiled:
    """Return a problem on its axis, its bounds not yet drawn in."""
    clocks: dict[str | None, Clock] = {}
    known: dict[tuple[object, ...], Ends] = {}
    modes: dict[str, tuple[CompiledMode, ...]] = {}
    deadlines: dict[str, list[Deadline]] = {}
    for deadline in problem.deadlines:
        deadlines.setdefault(deadline.activity, []).append(deadline)
    for activity in problem.activities:
        compiled_modes = []
        for index, mode in enumerate(activity.modes):
            if any(amount > problem.capacities[resource] for resource, amount in mode.demands.items()):
                continue
            if mode.calendar not in clocks:
                clocks[mode.calendar] = Clock(problem, mode.calendar)
            limits = (activity.earliest, activity.latest, id(activity.starts))
            alike = (mode.duration, mode.calendar, mode.pausable, *limits)
            if alike not in known:
                known[alike] = ends_by_start(activity, mode, clocks[mode.calendar], axis)
            ends = known[alike]
            for deadline in deadlines.get(activity.name, ()):
                ends = _in_time(ends, deadline)
            if len(ends):
                compiled_modes.append(CompiledMode(index, mode, ends))
        modes[activity.name] = tuple(compiled_modes)
    whole = Compiled(problem, axis, {one.name: one for one in problem.activities}, modes)
    whole.arcs = tuple(arc for relation in problem.relations for arc in _arcs(relation, whole))
    return whole


def _in_time(ends: Ends, deadline: Deadline) -> Ends:
    """Return the starts whose ends keep a deadline: all up to some start."""

    def late(end: int) -> bool:
        moment = end if deadline.rule is None else deadline.rule(end)
        return moment is None or moment > deadline.at

    return ends.first(bisect_left(ends.slots, True, key=late))


def _arcs(relation: Relation, whole: Compiled) -> list[TableArc]:
    axis = whole.axis
    if isinstance(relation, Lag):
        table: Table | Offset = Offset(relation.at_least)
        if not isinstance(axis.points, range):
            table = Table(whole.starts(relation.first), lambda x: axis.at_or_after(axis.points[x] + relation.at_least))
        return [TableArc(relation.first, relation.second, True, table, None, relation.unless)]
    at_least = isinstance(relation, NotBefore)
    place = axis.at_or_after if at_least else axis.at_or_before

    def value(slot: int) -> int:
        moment = slot if relation.rule is None else relation.rule(slot)
        if moment is None:
            return axis.end + 1
        return place(moment)

    if relation.since == "start":
        table = Table(whole.starts(relation.first), lambda x: value(axis.points[x]))
        return [TableArc(relation.first, relation.second, at_least, table, None, relation.unless)]
    if relation.rule is None and at_least:
        sizes = (mode.end_points(axis) for mode in whole.modes[relation.first])
        size = next(sizes, None)
        if isinstance(size, Offset) and all(other == size for other in sizes):
            return [TableArc(relation.first, relation.second, True, size, None, relation.unless)]
    tables = tables_of_ends(whole, relation.first, value)
    arcs = [TableArc(relation.first, relation.second, at_least, table, mode, relation.unless) for mode, table in tables]
    if len(tables) > 1:
        ends = whole.merging.loosest(whole.ends(relation.first), first=at_least)
        loosest = _of_ends(ends, value)
        arcs.append(TableArc(relation.first, relation.second, at_least, loosest, None, relation.unless, implied=True))
    return arcs


def tables_of_ends(whole: Compiled, name: str, value: Callable[[int], int]) -> list[tuple[int | None, Table | Offset]]:
    """Return what a value of the end is for every start: one table where all modes agree, else one for each mode."""
    modes = whole.modes[name]
    agreed = whole.merging.agreed(whole.ends(name)) if modes else None
    if agreed is not None:
        return [(None, _of_ends(agreed, value))]
    return [(mode.index, _of_ends(mode.ends, value)) for mode in modes]


def _of_ends(ends: Ends, value: Callable[[int], int]) -> Table:
    return Table(ends.starts, lambda start: value(ends[start]))
