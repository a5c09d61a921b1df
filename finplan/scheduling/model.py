"""A compiled problem as a model of the constraint solver: one method for each kind of rule."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import permutations

from finplan.scheduling.compiled import Compiled, CompiledMode, TableArc, tables_of_ends
from finplan.scheduling.objective import (
    EarliestFinish,
    EarliestStarts,
    Fewest,
    Finish,
    LargestSlack,
    LatestStarts,
    Makespan,
    Objective,
)
from finplan.scheduling.problem import Hold, Rule, SerialBatch
from finplan.scheduling.result import Scheduled
from finplan.scheduling.solver import SolverModel, cp_model
from finplan.scheduling.table import Offset, Table, at_least, at_most

Literal = cp_model.LiteralT
Expression = cp_model.LinearExprT


@dataclass(frozen=True, slots=True)
class Goal:
    """An objective as the solver takes it: an expression to be made small or large."""

    expression: cp_model.LinearExpr
    small: bool
    in_slots: Callable[[int], int] = int
    """What a value of the expression is in the objective's own terms."""


class ScheduleModel:
    """The variables and constraints of a compiled problem, whose bounds are drawn in.

    Only lower bounds of ends matter where something waits for them; where something may come at most so long after,
    or exactly then, the end is said from both sides.
    """

    def __init__(self, whole: Compiled) -> None:
        self.whole = whole
        self.model = SolverModel()
        self.starts: dict[str, cp_model.IntVar] = {}
        self.chosen: dict[str, dict[int, cp_model.IntVar]] = {}
        """For every activity that can be done at all: a literal for each of its modes."""
        self.done: dict[str, cp_model.IntVar | None] = {}
        """For optional activities: whether they are done; None where they must be."""
        self._reached: dict[tuple[str, int], cp_model.IntVar] = {}
        self._taken: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {name: [] for name in whole.problem.capacities}
        self._may_be_empty: set[str] = {hold.resource for hold in whole.problem.holds if hold.until is not None}
        for name in whole.activities:
            self._add_activity(name)
        for arc in whole.arcs:
            if not arc.implied:
                self._add_arc(arc)
        for hold in whole.problem.holds:
            self._add_hold(hold)
        for name, capacity in whole.problem.capacities.items():
            self._add_resource(name, capacity)
        for batch in whole.problem.batches:
            self._add_batch(batch)

    # --- activities -------------------------------------------------------------------------------------------------

    def _add_activity(self, name: str) -> None:
        modes = self.whole.modes[name]
        if not modes:
            return
        domain = cp_model.Domain.from_values(list(self.whole.starts(name)))
        start = self.model.new_int_var_from_domain(domain, f"start {name}")
        self.starts[name] = start
        optional = self.whole.activities[name].optional
        if len(modes) == 1 and not optional:
            self.done[name] = None
            self.chosen[name] = {modes[0].index: self.model.new_constant(1)}
        else:
            self.chosen[name] = {mode.index: self.model.new_bool_var(f"{name} in {mode.index}") for mode in modes}
            literals = list(self.chosen[name].values())
            self.done[name] = None
            if optional:
                self.done[name] = literals[0] if len(literals) == 1 else self.model.new_bool_var(f"do {name}")
                self.model.add(sum(literals) == self.done[name])
            else:
                self.model.add_exactly_one(literals)
        for mode in modes:
            self._add_mode(name, mode, len(modes))

    def _add_mode(self, name: str, mode: CompiledMode, of: int) -> None:
        start, literal = self.starts[name], self.chosen[name][mode.index]
        if of > 1:
            domain = cp_model.Domain.from_values(list(mode.ends.starts))
            self.model.add_linear_expression_in_domain(start, domain).only_enforce_if(literal)
        wanted = {resource: amount for resource, amount in mode.mode.demands.items() if amount}
        if not wanted:
            return
        interval = self._interval(name, mode, literal)
        for resource, amount in wanted.items():
            self._taken[resource].append((interval, amount))
        points = self.whole.axis.points
        if not self._may_be_empty >= wanted.keys() and any(end <= points[start] for start, end in mode.ends.pairs()):
            self._may_be_empty.update(wanted)

    def _interval(self, name: str, mode: CompiledMode, literal: Literal) -> cp_model.IntervalVar:
        ends = mode.end_points(self.whole.axis)
        label = f"{name} in {mode.index}"
        if isinstance(ends, Offset):
            return self.model.new_optional_fixed_size_interval_var(self.starts[name], ends.amount, literal, label)
        end = self.model.new_int_var(ends.ys[0], ends.ys[-1], f"end {label}")
        self._say(name, end, ends, at_least_=True, when=[literal])
        self._say(name, end, ends, at_least_=False, when=[literal])
        size = self.model.new_int_var(0, ends.ys[-1] - ends.xs[0], f"size {label}")
        return self.model.new_optional_interval_var(self.starts[name], size, end, literal, label)

    # --- relations --------------------------------------------------------------------------------------------------

    def _add_arc(self, arc: TableArc) -> None:
        if arc.first not in self.starts or arc.second not in self.starts:
            return
        when: list[Literal] = []
        when += [done for name in (arc.first, arc.second) if (done := self.done[name]) is not None]
        if arc.unless is not None and (lifted := self.done.get(arc.unless)) is not None:
            when.append(~lifted)
        if arc.mode is not None:
            if arc.mode not in self.chosen[arc.first]:
                return
            when.append(self.chosen[arc.first][arc.mode])
        self._say(arc.first, self.starts[arc.second], arc.table, at_least_=arc.at_least, when=when)

    def _say(
        self, first: str, second: Expression, table: Table | Offset, *, at_least_: bool, when: list[Literal]
    ) -> None:
        """Say ``second >= table[start of first]``, or ``<=``, where all of *when* hold."""
        starts = self.whole.starts(first)
        table = table.within(starts[0], starts[-1])
        if isinstance(table, Table) and not table.xs:
            return
        start = self.starts[first]
        said = at_least(table) if at_least_ else at_most(table)
        moving = self.model.add(second >= start + said.shift if at_least_ else second <= start + said.shift)
        moving.only_enforce_if(when)
        for threshold, bound in said.steps:
            reached = self._from(first, threshold)
            if at_least_:
                self.model.add(second >= bound).only_enforce_if([*when, reached])
            else:
                self.model.add(second <= bound).only_enforce_if([*when, ~reached])
        for ramp in said.ramps:
            within = [*when, self._from(first, ramp.start), ~self._from(first, ramp.end)]
            moved = start + ramp.shift
            self.model.add(second >= moved if at_least_ else second <= moved).only_enforce_if(within)

    def _from(self, name: str, threshold: int) -> cp_model.IntVar:
        """Return whether an activity starts at a point or later."""
        key = (name, threshold)
        if key not in self._reached:
            literal = self.model.new_bool_var(f"{name} from {threshold}")
            self.model.add(self.starts[name] >= threshold).only_enforce_if(literal)
            self.model.add(self.starts[name] < threshold).only_enforce_if(~literal)
            self._reached[key] = literal
        return self._reached[key]

    # --- resources --------------------------------------------------------------------------------------------------

    def _add_hold(self, hold: Hold) -> None:
        name = hold.activity
        if not hold.amount or name not in self.starts:
            return
        last = self.whole.axis.end
        end = self.model.new_int_var(0, last, f"{name} lets go {hold.resource}")
        when: list[Literal] = []
        if hold.until is not None and hold.rule is not None:
            early = self.model.new_bool_var(f"{name} lets go {hold.resource} early")
            self.model.add(end >= self.starts[hold.until]).only_enforce_if(~early)
            when = [early]
        elif hold.until is not None:
            self.model.add(end >= self.starts[hold.until])
        if hold.rule is not None:
            self._say_after_end(name, end, hold.rule, when)
        elif hold.until is None:
            self.model.add(end == last)
        size = self.model.new_int_var(0, last, f"{name} keeps {hold.resource}")
        present = self._present(name)
        interval = self.model.new_optional_interval_var(self.starts[name], size, end, present, f"{name} holds")
        self._taken[hold.resource].append((interval, hold.amount))

    def _say_after_end(self, name: str, second: Expression, rule: Rule, when: list[Literal]) -> None:
        """Say that a point is not before what a rule makes of an activity's end; the horizon where that is later."""
        axis = self.whole.axis

        def value(slot: int) -> int:
            moment = rule(slot)
            return axis.end if moment is None else min(axis.end, axis.at_or_after(moment))

        for mode, table in tables_of_ends(self.whole, name, value, self.whole.known(rule, "let go")):
            chosen = [] if mode is None else [self.chosen[name][mode]]
            self._say(name, second, table, at_least_=True, when=[*when, *chosen])

    def _present(self, name: str) -> cp_model.IntVar:
        done = self.done[name]
        return self.model.new_constant(1) if done is None else done

    def _add_resource(self, name: str, capacity: int) -> None:
        taken = self._taken[name]
        if sum(amount for _, amount in taken) <= capacity:
            return
        # What is empty takes nothing, but the solver lets it not lie inside another in a no-overlap.
        if name not in self._may_be_empty and all(capacity < 2 * amount <= 2 * capacity for _, amount in taken):
            self.model.add_no_overlap([interval for interval, _ in taken])
        else:
            self.model.add_cumulative([interval for interval, _ in taken], [amount for _, amount in taken], capacity)

    # --- batches ----------------------------------------------------------------------------------------------------

    def _add_batch(self, batch: SerialBatch) -> None:
        tails = dict(zip(batch.members, batch.tails, strict=True))
        members = [member for member in batch.members if member in self.starts]
        joins: dict[tuple[str, str], cp_model.IntVar] = {}
        for one, other in permutations(members, 2):
            if (batch.follow is None or (one, other) in batch.follow) and self._can_follow(one, other):
                joins[one, other] = self._join(one, other)
        for member in members:
            following = [literal for (one, _), literal in joins.items() if one == member]
            before = [literal for (_, other), literal in joins.items() if other == member]
            tail = tails[member]
            if tail in self.starts:
                own = self._present(tail)
                self._say_at_once(member, tail, own)
                following.append(own)
            self.model.add(sum(following) == self._present(member))
            self.model.add_at_most_one(before)
        if batch.longest is not None:
            self._limit(batch.longest, members, joins)

    def _join(self, one: str, other: str) -> cp_model.IntVar:
        """Return whether one member begins at once where another ends, in a mode of the same name."""
        join = self.model.new_bool_var(f"{other} right after {one}")
        self.model.add_implication(join, self._present(one))
        self.model.add_implication(join, self._present(other))
        self._say_at_once(one, other, join)
        return join

    def _can_follow(self, one: str, other: str) -> bool:
        starts = {self.whole.axis.points[start] for start in self.whole.starts(other)}
        return any(end in starts for mode in self.whole.modes[one] for end in mode.ends.slots)

    def _say_at_once(self, one: str, other: str, when: Literal) -> None:
        """Say that *other* starts exactly at the end of *one*, in a mode of the same name, where *when* holds."""
        axis = self.whole.axis
        for mode in self.whole.modes[one]:
            chosen = self.chosen[one][mode.index]
            for another in self.whole.modes[other]:
                if another.mode.name != mode.mode.name:
                    self.model.add_bool_or([~when, ~chosen, ~self.chosen[other][another.index]])
            exact = [start for start, end in mode.ends.pairs() if axis.points[axis.at_or_after(end)] == end]
            domain = cp_model.Domain.from_values(exact)
            self.model.add_linear_expression_in_domain(self.starts[one], domain).only_enforce_if([when, chosen])
            ends = mode.end_points(axis)
            self._say(one, self.starts[other], ends, at_least_=True, when=[when, chosen])
            self._say(one, self.starts[other], ends, at_least_=False, when=[when, chosen])

    def _limit(self, longest: int, members: list[str], joins: dict[tuple[str, str], cp_model.IntVar]) -> None:
        """Say that no run of several members lasts longer than *longest*."""
        durations = {
            member: sum(
                literal * duration
                for mode in self.whole.modes[member]
                if isinstance(duration := mode.mode.duration, int)
                for literal in (self.chosen[member][mode.index],)
            )
            for member in members
        }
        opened = {member: self.model.new_int_var(0, longest, f"run before {member}") for member in members}
        for (one, other), join in joins.items():
            self.model.add(opened[other] >= opened[one] + durations[one]).only_enforce_if(join)
            self.model.add(opened[other] + durations[other] <= longest).only_enforce_if(join)

    # --- hints ------------------------------------------------------------------------------------------------------

    def hint(self, schedule: Mapping[str, Scheduled]) -> None:
        """Let the search begin with a schedule, all of it or part."""
        for name, scheduled in schedule.items():
            if name not in self.starts:
                continue
            self.model.add_hint(self.starts[name], self.whole.axis.at_or_after(scheduled.start))
            for index, chosen in self.chosen[name].items():
                if len(self.chosen[name]) > 1 or self.done[name] is not None:
                    self.model.add_hint(chosen, index == scheduled.mode)
        for name, done in self.done.items():
            if schedule and done is not None and name not in schedule:
                for chosen in self.chosen[name].values():
                    self.model.add_hint(chosen, False)

    # --- objectives -------------------------------------------------------------------------------------------------

    def goal(self, objective: Objective) -> Goal:
        """Return an objective as the solver takes it."""
        match objective:
            case Makespan():
                return Goal(self._last_end(), True, self._end_slot)
            case EarliestFinish(finishes):
                last = self.model.new_int_var(0, self.whole.problem.horizon, "last finish")
                for finish in finishes:
                    self._say_finish(finish, last)
                return Goal(last, True)
            case LargestSlack(finishes, enough):
                return self._slack(finishes, enough)
            case LatestStarts(groups):
                return Goal(self._sum(self._first_start(group) for group in groups), False)
            case Fewest(activities):
                return Goal(self._sum(self._present(name) for name in activities if name in self.starts), True)
            case EarliestStarts():
                return Goal(self._sum(self.starts.values()), True)

    def _last_end(self) -> cp_model.IntVar:
        last = self.model.new_int_var(0, self.whole.axis.end, "last end")
        for name in self.starts:
            for mode in self.whole.modes[name]:
                when = self.chosen[name][mode.index]
                self._say(name, last, mode.end_points(self.whole.axis), at_least_=True, when=[when])
        return last

    def _end_slot(self, point: int) -> int:
        """Return the slot of an end: on an axis of open slots work ends right after the one before."""
        points = self.whole.axis.points
        if isinstance(points, range):
            return point
        return 0 if point == 0 else points[point - 1] + 1

    def _sum(self, terms: Iterable[Expression]) -> cp_model.LinearExpr:
        return cp_model.LinearExpr.sum([self.model.new_constant(0), *terms])

    def _say_finish(self, finish: Finish, last: Expression) -> None:
        horizon = self.whole.problem.horizon
        if finish.activity not in self.starts:
            return

        def value(slot: int) -> int:
            moment = slot if finish.rule is None else finish.rule(slot)
            return horizon + 1 if moment is None else moment

        known = self.whole.known(finish.rule, "finish")
        for mode, table in tables_of_ends(self.whole, finish.activity, value, known):
            index = [] if mode is None else [self.chosen[finish.activity][mode]]
            done = self.done[finish.activity]
            self._say(finish.activity, last, table, at_least_=True, when=[*index, *([] if done is None else [done])])

    def _slack(self, finishes: tuple[Finish, ...], enough: int | None) -> Goal:
        horizon = self.whole.problem.horizon
        dues = [finish.due for finish in finishes if finish.due is not None]
        highest = max(dues, default=horizon) if enough is None else enough
        slack = self.model.new_int_var(min(min(dues, default=0) - horizon, highest), highest, "slack")
        for finish in finishes:
            if finish.due is not None:
                self._say_finish(finish, finish.due - slack)
        return Goal(slack, False)

    def _first_start(self, group: tuple[str, ...]) -> cp_model.IntVar:
        first = self.model.new_int_var(0, self.whole.axis.end, f"first start of {group[0]}")
        for name in group:
            if name in self.starts:
                done = self.done[name]
                self.model.add(first <= self.starts[name]).only_enforce_if([] if done is None else [done])
        return first
