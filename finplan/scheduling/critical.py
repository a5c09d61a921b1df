"""What is critical in a schedule: the chain of activities, each held up by the one before, that ends with the last."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from finplan.scheduling.axis import Clock, axis_of, ends_by_start
from finplan.scheduling.problem import Lag, NotBefore, Problem, Relation
from finplan.scheduling.result import Scheduled


def critical(problem: Problem, schedule: Mapping[str, Scheduled], last: str) -> frozenset[str]:
    """Return the activities that *last* waits for in the end, none of which could be later without it being later.

    Found backwards: what could have started no earlier because of what it has to wait for, or because what it needs was
    taken, is held up by that.
    """
    chain = {last}
    waiting = [last]
    held = _HeldUp(problem, schedule)
    while waiting:
        for before in held.by(waiting.pop()):
            if before not in chain:
                chain.add(before)
                waiting.append(before)
    return frozenset(chain)


class _HeldUp:
    """What stands directly before an activity in a schedule."""

    def __init__(self, problem: Problem, schedule: Mapping[str, Scheduled]) -> None:
        self._problem = problem
        self._schedule = schedule
        self._axis = axis_of(problem)
        self._activities = {activity.name: activity for activity in problem.activities}

    def by(self, name: str) -> Iterator[str]:
        """Give the activities that do not let one start earlier."""
        start = self._schedule[name].start
        earlier = self._start_before(name)
        if earlier is None:
            return
        for relation in self._problem.relations:
            if relation.second == name and relation.first in self._schedule and self._asked(relation) > earlier:
                yield relation.first
        needs = self._demands(name)
        for other, there in self._schedule.items():
            if other != name and needs & self._demands(other) and earlier < there.end <= start:
                yield other
        for hold in self._problem.holds:
            holder = self._schedule.get(hold.activity)
            if hold.resource in needs and hold.rule is not None and holder is not None and hold.activity != name:
                let_go = hold.rule(holder.end)
                if let_go is not None and holder.start < start and earlier < let_go <= start:
                    yield hold.activity

    def _start_before(self, name: str) -> int | None:
        """Return the last slot before its start in which an activity could start as far as hours go."""
        activity, scheduled = self._activities[name], self._schedule[name]
        mode = activity.modes[scheduled.mode]
        ends = ends_by_start(activity, mode, Clock(self._problem, mode.calendar), self._axis)
        points = (self._axis.points[x] for x in ends.starts)
        return max((point for point in points if point < scheduled.start), default=None)

    def _demands(self, name: str) -> set[str]:
        demands = self._activities[name].modes[self._schedule[name].mode].demands
        return {resource for resource, amount in demands.items() if amount}

    def _asked(self, relation: Relation) -> int:
        """Return the first slot at which a relation lets its second activity start."""
        first = self._schedule[relation.first]
        if isinstance(relation, Lag):
            return first.start + relation.at_least
        if not isinstance(relation, NotBefore):
            return -1
        moment = first.end if relation.since == "end" else first.start
        asked = moment if relation.rule is None else relation.rule(moment)
        return self._problem.horizon if asked is None else asked
