"""A small problem out of a large one: all but a few activities stay where a schedule has them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from finplan.scheduling.axis import Clock
from finplan.scheduling.problem import Activity, Hold, Problem, Relation, SerialBatch, Slots
from finplan.scheduling.result import Scheduled


def neighbourhood(
    problem: Problem,
    schedule: Mapping[str, Scheduled],
    free: Iterable[str],
    within: Slots,
    seen: Iterable[str] = (),
) -> Problem:
    """Return a problem in which only some activities move; what cannot be in their way is left out.

    A schedule of it, with what it leaves out as it was, is one of the whole problem.

    Parameters
    ----------
    problem
        The problem
    schedule
        A schedule that keeps all its rules
    free
        What may move; tails of batches need not be named, they go with their members
    within
        From when to when they may start
    seen
        What an objective looks at beside them

    Notes
    -----
    The search among neighbours that keep most of a solution is that of Shaw, "Using constraint programming and local
    search methods to solve vehicle routing problems", 1998 (from memory).
    """
    return _Neighbourhood(problem, schedule, frozenset(free), within, seen).problem()


class _Neighbourhood:
    """What is kept of a problem, and what of that may move."""

    def __init__(
        self,
        problem: Problem,
        schedule: Mapping[str, Scheduled],
        free: frozenset[str],
        within: Slots,
        seen: Iterable[str],
    ) -> None:
        self._whole, self._schedule, self._within = problem, schedule, within
        self._held: dict[str, list[Hold]] = {}
        for hold in problem.holds:
            self._held.setdefault(hold.activity, []).append(hold)
        self._until = max((self._last_end(one) for one in problem.activities if one.name in free), default=within.end)
        """Nothing that moves is in the way of anything from then on."""
        for name in free:
            for hold in self._held.get(name, ()):
                self._until = max(self._until, self._let_go(hold, self._until))
        kept = {name for name in schedule if name not in free and self._is_near(name)}
        kept |= {name for name in seen if name in schedule and name not in free}
        for relation in problem.relations:
            if relation.first in free or relation.second in free or relation.unless in free:
                kept |= {name for name in (relation.first, relation.second) if name in schedule}
        self._batches: list[SerialBatch] = []
        self._of_tail: dict[str, str] = {}
        for batch in problem.batches:
            if not free.isdisjoint(batch.members):
                small = self._batch(batch, free, kept)
                kept |= set(small.members)
                self._of_tail |= dict(zip(small.tails, small.members, strict=True))
                self._batches.append(small)
        waiting = [*kept, *free]
        while waiting:
            for hold in self._held.get(waiting.pop(), ()):
                until = hold.until
                if until is not None and until in schedule and until not in kept and until not in free:
                    kept.add(until)
                    waiting.append(until)
        self._named = free
        self._free = free | set(self._of_tail)
        self._kept = kept | self._free

    def problem(self) -> Problem:
        """Return the small problem."""
        whole, kept = self._whole, self._kept
        ends = [self._schedule[name].end for name in kept if name in self._schedule]
        horizon = min(whole.horizon, max([self._until + 1, *ends]))
        return replace(
            whole,
            activities=tuple(self._of_activity(one) for one in whole.activities if one.name in kept),
            horizon=horizon,
            relations=tuple(self._relations()),
            holds=tuple(hold for hold in whole.holds if hold.activity in kept),
            batches=tuple(self._batches),
            deadlines=tuple(one for one in whole.deadlines if one.activity in self._free),
        )

    def _last_end(self, activity: Activity) -> int:
        """Return when an activity that moves has ended at the latest."""
        ends = [self._within.end]
        for mode in activity.modes:
            clock = Clock(self._whole, mode.calendar)
            opened = next((span for span in clock.stretches if span.end > self._within.end), None)
            start = self._whole.horizon if opened is None else max(opened.start, self._within.end)
            end = None if callable(mode.duration) else clock.end(start, mode)
            ends.append(self._whole.horizon if end is None else end)
        return max(ends)

    def _let_go(self, hold: Hold, end: int) -> int:
        moment = None if hold.rule is None else hold.rule(end)
        return self._whole.horizon if moment is None else moment

    def _is_near(self, name: str) -> bool:
        """Return whether an activity that stays, or what it holds, is there while something moves."""
        one = self._schedule[name]
        end = max([one.end, *(self._let_go(hold, one.end) for hold in self._held.get(name, ()))])
        return one.start < self._until and end > self._within.start

    def _of_activity(self, activity: Activity) -> Activity:
        member = self._of_tail.get(activity.name)
        if member is not None and member not in self._named:
            end = self._schedule[member].end
            return replace(activity, starts=(Slots(end, end + 1),))
        if activity.name in self._free:
            last = self._within.end if member is None else self._until
            latest = last if activity.latest is None else min(activity.latest, last)
            return replace(activity, earliest=max(activity.earliest, self._within.start), latest=latest)
        there = self._schedule[activity.name]
        modes = (activity.modes[there.mode],)
        spans = (Slots(there.start, there.start + 1),)
        return replace(activity, modes=modes, earliest=0, latest=None, starts=spans, optional=False)

    def _relations(self) -> Iterator[Relation]:
        for one in self._whole.relations:
            moves = one.first in self._free or one.second in self._free or one.unless in self._free
            if not moves or one.first not in self._kept or one.second not in self._kept:
                continue
            if one.unless is None or one.unless in self._free:
                yield one
            elif one.unless not in self._schedule:
                yield replace(one, unless=None)

    def _batch(self, batch: SerialBatch, free: frozenset[str], kept: set[str]) -> SerialBatch:
        """Return a batch of what is kept of it: runs as a whole, joined and parted only by what moves."""
        starts = {self._schedule[name].start: name for name in batch.members if name in self._schedule}
        ends = {self._schedule[name].end: name for name in batch.members if name in self._schedule}
        members = [name for name in batch.members if name in free or name in kept]
        for name in members:  # and on over what is added
            there = self._schedule.get(name)
            beside = [] if there is None else [starts.get(there.end), ends.get(there.start)]
            members += [other for other in beside if other is not None and other not in members]
        tails = dict(zip(batch.members, batch.tails, strict=True))
        follow = frozenset(
            (one, other)
            for one in members
            for other in members
            if one != other
            and (batch.follow is None or (one, other) in batch.follow)
            and (one in free or other in free or self._schedule[one].end == self._schedule[other].start)
        )
        return replace(batch, members=tuple(members), tails=tuple(tails[one] for one in members), follow=follow)
