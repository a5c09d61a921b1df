"""A whole plan on the bench, out of which single tasks can be taken and put back elsewhere."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import pairwise

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.network import CleanUp, Network, Task, Wet
from finplan.timetable.construct.occupied import CoatRun, Opening
from finplan.timetable.setting import Setting

LAID_OUT_WHILE_ONE_IS_PLACED = 10
"""So many tasks, about, where it is counted what a search may take."""


class LaidOut(Bench):
    """The bench with all tasks where a plan has them, *without* those of some pieces."""

    def __init__(self, network: Network, setting: Setting, plan: Schedule, *, without: Collection[str] = ()) -> None:
        super().__init__(network, setting)
        self._tasks = network.tasks
        tasks = [task for task in network.tasks.values() if task.piece not in without]
        tasks += [task.again for task in tasks if task.again is not None and task.again.name in plan]
        wets = [*network.wet_before, *((task.name, task.wet) for task in tasks if task.wet is not None)]
        self._lies_for = {wet.following: (name, wet) for name, wet in wets if wet.following is not None}
        """By what is done next to it, the coat that lies there until then."""
        for task in sorted(tasks, key=lambda task: (plan[task.name].start, plan[task.name].end)):
            self.take(task, self._as_planned(task, plan))

    def _as_planned(self, task: Task, plan: Schedule) -> Opening:
        done = plan[task.name]
        way = next(doer for doer in task.ways if doer.mode == done.mode)
        runs = () if task.clean_up is None else self._runs.get(task.clean_up.kind, ())
        joins = (run for run in runs if run.person == way.person and run.end == done.start and run.clean_up not in plan)
        return Opening(way, self.hours[way.person].before(done.start), done.start, done.end, next(joins, None))

    def without(self, keys: Collection[str]) -> LaidOut:
        """Return the same without the tasks of some pieces; it is left as it was."""
        tasks = [task for task in self._tasks.values() if task.piece in keys]
        tasks += [task.again for task in tasks if task.again is not None and task.again.name in self.plan]
        return self.without_tasks(tasks)[0]

    def without_tasks(self, tasks: Iterable[Task]) -> tuple[LaidOut, dict[str, int]]:
        """Return the same without some tasks, and how late each may be put back (``drop``) where that is bounded."""
        copy = self._copied(object.__new__(LaidOut))
        copy._tasks, copy._lies_for = self._tasks, self._lies_for
        out = sorted(tasks, key=lambda task: self.plan[task.name].start, reverse=True)
        latest = {task.name: copy.drop(task) for task in out}
        lies = {name: coat for name, (coat, _) in self._lies_for.items() if coat not in latest}  # what is not taken out
        return copy, {name: until for name, until in latest.items() if until is not None and name in lies}

    def is_sound(self) -> bool:
        """Return whether nobody does two things at once: tools are cleaned where the next coat of a run is left out."""
        return not any(free.is_taken_twice for free in self._free.values())

    def is_loose(self, task: Task) -> bool:
        """Return whether a task can be taken out: no coat that is neither the first nor the last of its run."""
        done = self.plan[task.name]
        run = None if task.clean_up is None else self._run_of(task.clean_up, done, _person(task, done))
        return run is None or done.start == run.start or done.end == run.end

    def neighbours(self, within: int) -> list[tuple[CoatRun, CoatRun]]:
        """Return the runs of one kind, each with the next that the same person begins soon, with nothing between."""
        pairs: list[tuple[CoatRun, CoatRun]] = []
        for of_kind in self._runs.values():
            runs = sorted(of_kind, key=lambda run: (run.person, run.start))
            pairs += [pair for pair in pairwise(runs) if self._is_soon_after(*pair, within)]
        return pairs

    def _is_soon_after(self, before: CoatRun, after: CoatRun, within: int) -> bool:
        if before.person != after.person or after.start - before.end > within:
            return False
        hours = self.hours[before.person]
        number = hours.before(self.plan[before.clean_up].end)
        return self._free[before.person].is_free(number, hours.before(after.start) - number)

    def drop(self, task: Task) -> int | None:
        """Take a task out; return how late it may be put back for what until then lies on the rack; None for any time.

        To be put back it has to be loose, and that is done before anything else. Where it is not, tools are cleaned
        where it was, which may take somebody's time twice.
        """
        done = self.untake(task)
        if task.wet is not None:
            self._lift(task.wet, done)
        if task.clean_up is not None:
            self._shorten(task.clean_up, done, _person(task, done))
        return self._lie_on(task.name, done.start)

    def back(self, task: Task, done: Scheduled, *, alone: bool) -> Opening:
        """Return the room of a task that was taken out where it was; not *alone*: in one go with others."""
        way = next(doer for doer in task.ways if doer.mode == done.mode)
        runs = () if alone or task.clean_up is None else self._runs.get(task.clean_up.kind, ())
        beside = (run for run in runs if run.person == way.person)
        run = next((run for run in beside if run.end == done.start or run.start == done.end), None)
        return Opening(way, self.hours[way.person].before(done.start), done.start, done.end, run)

    def _lift(self, wet: Wet, done: Scheduled) -> None:
        if wet.fit_for_dust is not None:
            self._wet.take(done.start, self.until(wet.fit_for_dust, done.end), -1)
        self._hold(wet, done.start, self._off_rack(wet, done.end), -1)
        if wet.following is not None:
            self._lying.pop(wet.following, None)

    def _lie_on(self, name: str, since: int) -> int | None:
        """Let lie on the rack what was taken off for a task; return from when on there is no room for that."""
        coat, wet = self._lies_for.get(name, (None, None))
        if coat is None or wet is None:
            return None
        until = self.until(wet.lifted, self.plan[coat].end)
        self._lying[name] = (wet, until)
        self._hold(wet, since, until, 1)
        full = [
            over[0]
            for taken, capacity in zip((self._places, self._hooks), self._rack, strict=True)
            if since < until and (over := taken.over(since, until, capacity)) is not None
        ]
        return max(since, min(full)) if full else None

    def _shorten(self, cleaned: CleanUp, done: Scheduled, person: str) -> None:
        """Take a coat out of a run; tools are then cleaned after the one before."""
        run = self._run_of(cleaned, done, person)
        number = run.cleaned.index(cleaned)
        before, after = run.cleaned[:number], run.cleaned[number + 1 :]
        if after:
            self._runs[cleaned.kind] = (*self._others(run), CoatRun(person, done.end, run.end, after))
        else:
            self._end_run(run)
        if before:
            self._begin_run(CoatRun(person, run.start, done.start, before), done.mode)

    def _run_of(self, cleaned: CleanUp, done: Scheduled, person: str) -> CoatRun:
        runs = (run for run in self._runs[cleaned.kind] if run.person == person)
        return next(run for run in runs if run.start <= done.start and done.end <= run.end)


def _person(task: Task, done: Scheduled) -> str:
    return next(way.person for way in task.ways if way.mode == done.mode)
