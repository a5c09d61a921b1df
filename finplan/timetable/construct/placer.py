"""Whole plans placed once: all of it forwards or backwards in one order, or put back around what stays."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

from finplan.scheduling import Schedule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.drawn import Moves
from finplan.timetable.construct.network import Task
from finplan.timetable.construct.place import NoRoomError, Rank, place_early, place_late, too_hard
from finplan.timetable.construct.task_sums import TaskSums
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits

Trail = list[tuple[str, Bench]]
"""Pieces placed one after another, by key, each with the bench after it."""
Put = Callable[[Bench, str, Mapping[str, int]], Bench]
"""Puts a piece on a bench, which is left as it was, as late as can be for its date."""
_TRAILS = 4
"""So many orders are kept with all their benches."""


class Placer(TaskSums):
    """Places the tasks of pieces in one setting, for as long as ``left_s`` says that something is left of the time."""

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, left_s: Callable[[], float]
    ) -> None:
        super().__init__(pieces, setting, waits)
        self._left_s = left_s
        self._moves = Moves()
        self._names = {key: [task.name for task in self.network.of_piece(key)] for key in self._pieces}
        self._number = {name: number for number, name in enumerate(self.network.tasks)}
        self._patience = 0 if not setting.spans else 60 // setting.slot_min

    def moved_up(self, plan: Schedule, sooner: Collection[str] = ()) -> Schedule:
        """Return a plan with everything as early as can be that begins no piece sooner but *sooner*, by their keys."""
        first = {key: at for key, at in self.begun(plan).items() if key not in sooner}
        return self._early(self._empty.copy(), self._number, by_start(plan), first)

    def moved_back(self, plan: Schedule, due: Mapping[str, int]) -> Schedule:
        """Return a plan with everything of the pieces with a date as late as can be, in the order of another plan.

        Raises
        ------
        NoRoomError, TimeIsUpError
            As for ``late``.
        """
        names = [name for key in due for name in self._names[key]]
        bench = self._empty.copy()
        undated = [name for key in self._pieces if key not in due for name in self._names[key]]
        place_early(bench, self.network, undated, by_start(plan), {}, self._patience, self._left_s)
        rank: Rank = lambda name, _: (-plan[name].end, -plan[name].start, -self._number[name])  # noqa: E731
        return self._needed(place_late(bench, self.network, names, rank, due, self._patience, self._left_s))

    def _early(self, bench: Bench, names: Iterable[str], rank: Rank, first: Mapping[str, int]) -> Schedule:
        place_early(bench, self.network, names, rank, first, self._patience, self._left_s)
        return self._needed(bench)

    def _late_together(self, keys: Sequence[str], due: Mapping[str, int]) -> Schedule:
        """Return the plan of pieces placed all at once, by what can end last."""
        names = [name for key in keys for name in self._names[key]]
        rank, patience = self._latest_first, self._patience
        return self._with_undated(place_late(self._empty, self.network, names, rank, due, patience, self._left_s), due)

    def _late_along(self, keys: Sequence[str], put: Put, trails: list[Trail], due: Mapping[str, int]) -> Schedule:
        """Return the plan of pieces put one after another, going on from where an order that was tried begins alike.

        Of the *trails*, of what was placed after each piece, that of this order comes to be the last, before it the one
        it leaves, and only a few are kept.
        """
        trail: Trail = []
        if trails:
            best = max(trails, key=lambda known: _alike(known, keys))
            trails.remove(best)
            trails.append(best)
            trail = best[: _alike(best, keys)]
        try:
            for key in keys[len(trail) :]:
                trail.append((key, put(trail[-1][1] if trail else self._empty, key, due)))
        finally:
            trails.append(trail)
            del trails[:-_TRAILS]
        return self._with_undated(trail[-1][1] if trail else self._empty, due)

    def _with_undated(self, bench: Bench, due: Mapping[str, int]) -> Schedule:
        undated = [name for key in self._pieces if key not in due for name in self._names[key]]
        ends = self._last_ends({})
        rank: Rank = lambda name, start: (ends[name], self._number[name])  # noqa: E731
        bench = bench.copy()
        place_early(bench, self.network, undated, rank, {}, self._patience, self._left_s)
        return self._needed(bench)

    def _put_back(self, bench: Bench, key: str, due: Mapping[str, int], rank: Rank | None = None) -> Bench:
        """Return the bench with a piece on it, as late as can be for its date by a rank, else as early."""
        names = self._names[key]
        if key in due:
            return self._placed_late(bench, key, due, rank) if rank else self._best_late(bench, key, due)
        place_early(bench, self.network, names, self._file_order, {}, self._patience, self._left_s)
        return bench

    def _latest_late(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench:
        """Return the bench with a piece as late as can be, what can end last first."""
        return self._placed_late(bench, key, due, self._latest_first)

    def _critical_late(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench:
        """Return the bench with a piece as late as can be, what is critical first."""
        return self._placed_late(bench, key, due, self._critical_first(key, due[key]))

    def _placed_late(self, bench: Bench, key: str, due: Mapping[str, int], rank: Rank) -> Bench:
        return place_late(bench, self.network, self._names[key], rank, due, self._patience, self._left_s)

    def _best_late(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench:
        """Return the bench with a piece as late as can be, what is critical or what can end last first: the later."""
        try:
            critical = self._critical_late(bench, key, due)
        except NoRoomError:
            return self._latest_late(bench, key, due)
        begun = self._begun_of(key, critical)
        if begun == self.latest(key, due[key]):
            return critical
        try:
            latest = self._latest_late(bench, key, due)
        except NoRoomError:
            return critical
        return latest if self._begun_of(key, latest) > begun else critical

    def _begun_of(self, key: str, bench: Bench) -> int:
        return min((bench.plan[name].start for name in self._names[key]), default=0)

    def _late_in_time(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench | None:
        """Return the bench with a piece as late as can be, one without a date as early; None where it has no room."""
        try:
            return self._put_back(bench.copy(), key, due)
        except NoRoomError:
            return None

    def _early_in_time(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench | None:
        """Return the bench with a piece as early as can be; None where it is too late then."""
        tried = self._late_in_time(bench, key, {})
        return None if tried is None or self._ready_of(key, tried.plan) > due.get(key, self._setting.slots) else tried

    def _needed(self, bench: Bench) -> Schedule:
        """Return what was placed without the abrading that turned out not to be needed."""
        plan = dict(bench.plan)
        for task in self.network.tasks.values():
            if task.again is not None and task.again.name in plan and not too_hard(bench, task, plan[task.name].start):
                del plan[task.again.name]
        return plan

    def _ranks(self, due: Mapping[str, int]) -> list[Rank]:
        """Return rules of what comes first: what ends last, what can begin, items, and pieces one after another.

        With a small rack little else than items leads on: what lies there is taken further first.
        """
        ends = self._last_ends(due)
        tasks = self.network.tasks
        first_end: dict[tuple[str, str], int] = {}
        for name, end in ends.items():
            item = (tasks[name].piece, tasks[name].operation.item)
            first_end[item] = min(first_end.get(item, end), end)
        by_item = {name: first_end[tasks[name].piece, tasks[name].operation.item] for name in ends}
        ranks: list[Rank] = [
            lambda name, _: (ends[name], self._number[name]),
            lambda name, _: (by_item[name], self._number[name]),
            lambda name, start: (start, ends[name], self._number[name]),
        ]
        if not due:
            return ranks
        return [*ranks, lambda name, _: (due.get(tasks[name].piece, self._setting.slots), self._number[name])]

    def _last_ends(self, due: Mapping[str, int]) -> dict[str, int]:
        """Return when every task ends at the latest where nothing else is done, for its date or far from now."""
        far = max([self._setting.slots - 1, *due.values()])
        ends_by: dict[str, int] = {}
        for key in self._pieces:
            for task in reversed(self.network.of_piece(key)):
                ends = [self._ends_before(self.network.tasks[name], task, ends_by) for name in task.before]
                ends_by[task.name] = min(ends, default=due.get(key, far) - self._dries(task))
        return ends_by

    def _dries(self, task: Task) -> int:
        if task.fit is None:
            return 0
        start = max(self._setting.first, task.earliest)
        moment = task.fit(start)
        return 0 if moment is None else moment - start

    def _ends_before(self, after: Task, task: Task, ends: Mapping[str, int]) -> int:
        """Return when a task ends for another to be done in time, by how long it would wait if it were done now."""
        start = max(self._setting.first, task.earliest)
        moments = [start if rule is None else rule(start) for name, rule in after.waits if name == task.name]
        waited = max((moment - start for moment in moments if moment is not None), default=0)
        return ends[after.name] - after.slots - waited

    def _file_order(self, name: str, _: int) -> tuple[int, ...]:
        return (self._number[name],)

    def _drawn_latest_first(self, keys: Iterable[str], length: int) -> Rank:
        """Return the order of what ends last, with the tasks of pieces moved in it at random."""
        moves = self._moves.drawn((task for key in keys for task in self.network.of_piece(key)), length)
        return lambda name, last: (round(moves[name]) - last, -self._number[name])

    def _drawn_order(self, numbers: Mapping[str, int], length: int) -> Rank:
        """Return an order of all tasks by their numbers, moved in it at random."""
        moves = self._moves.drawn(self.network.tasks.values(), length)
        return lambda name, _: (round(numbers[name] + moves[name]), self._number[name])

    def _few_moved(self, plan: Schedule, length: int) -> Rank:
        """Return the order of a plan with a few items or tasks moved in it at random."""
        moves = self._moves.few(self.network.tasks.values(), length)
        return lambda name, _: (
            round(plan[name].start + moves.get(name, 0.0)),
            plan[name].start,
            self._number[name],
        )

    def _drawn_after(self, plan: Schedule, numbers: Mapping[str, int], length: int) -> Rank:
        """Return the order of a plan up to a moment drawn at random, after it that of ``_drawn_order``."""
        starts = {name: plan[name].start for name in numbers}
        kept, rest = self._moves.one_of(starts.values()), self._drawn_order(numbers, length)
        return lambda name, start: (0, starts[name]) if starts[name] < kept else (1, *rest(name, start))

    def _critical_first(self, key: str, due: int) -> Rank:
        """Return the order of what, as late as it could still end, would have a piece begun soonest.

        What little waits for may else take the last hour before a break, in which a long row of coats had to be begun.
        """
        heads = self.heads(key, due)
        return lambda name, last: (last - heads.get(name, 0), -self._number[name])

    def _drawn_critical_first(self, key: str, due: int, length: int) -> Rank:
        """Return the order of ``_critical_first``, with the tasks of a piece moved in it at random."""
        moves, critical = self._moves.drawn(self.network.of_piece(key), length), self._critical_first(key, due)

        def rank(name: str, last: int) -> tuple[int, ...]:
            begun, number = critical(name, last)
            return round(moves[name]) + begun, number

        return rank

    def _latest_first(self, name: str, last: int) -> tuple[int, ...]:
        return (-last, -self._number[name])


def by_start(plan: Schedule) -> Rank:
    """Return the order in which tasks are begun in a plan."""
    return lambda name, _: (plan[name].start, plan[name].end)


def in_a_row(plan: Schedule, kind: Mapping[str, int], within: int) -> Rank:
    """Return the order of a plan with what is of one kind in a row, within so many slots."""
    return lambda name, _: (plan[name].start // within, kind[name], plan[name].start)


def _alike(trail: Trail, keys: Sequence[str]) -> int:
    """Return with how many of the same pieces an order begins."""
    pairs = zip(trail, keys, strict=False)
    return next(
        (number for number, ((placed, _), key) in enumerate(pairs) if placed != key), min(len(trail), len(keys))
    )
