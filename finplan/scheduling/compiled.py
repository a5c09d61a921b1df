"""A problem brought onto its axis: where everything can start, and what each start asks of another."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from finplan.itself import Itself
from finplan.scheduling.axis import Axis, Clock, ends_by_start
from finplan.scheduling.ends import Ends, Merging
from finplan.scheduling.problem import Activity, Deadline, Lag, Mode, NotBefore, Problem, Relation, Rule
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
        table = Table(ends.starts, axis.at_or_after, ends.slots)
        points = table.ys
        amount = points[0] - ends.starts[0]
        if all(point == start + amount for start, point in zip(ends.starts, points, strict=True)):
            return Offset(amount)
        return table


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
    _known: dict[tuple[Itself[Rule | None], str], dict[int, int]] = field(default_factory=dict)

    def known(self, rule: Rule | None, what: str) -> dict[int, int]:
        """Return what has been made of slots by a rule: coats that dry alike have the same one."""
        return self._known.setdefault((Itself(rule), what), {})

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
    whole = Compiled(problem, axis, {activity.name: activity for activity in problem.activities}, modes)
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
    known = whole.known(relation.rule, "no sooner" if at_least else "no later")
    tables = tables_of_ends(whole, relation.first, value, known)
    arcs = [TableArc(relation.first, relation.second, at_least, table, mode, relation.unless) for mode, table in tables]
    if len(tables) > 1:
        ends = whole.merging.loosest(whole.ends(relation.first), first=at_least)
        loosest = Table(ends.starts, value, ends.slots, known)
        arcs.append(TableArc(relation.first, relation.second, at_least, loosest, None, relation.unless, implied=True))
    return arcs


def tables_of_ends(
    whole: Compiled, name: str, value: Callable[[int], int], known: dict[int, int]
) -> list[tuple[int | None, Table | Offset]]:
    """Return what a value of the end is for every start: one table where all modes agree, else one for each mode.

    What is worked out of it goes to *known*.
    """
    modes = whole.modes[name]
    agreed = whole.merging.agreed(whole.ends(name)) if modes else None
    if agreed is not None:
        return [(None, Table(agreed.starts, value, agreed.slots, known))]
    return [(mode.index, Table(mode.ends.starts, value, mode.ends.slots, known)) for mode in modes]
