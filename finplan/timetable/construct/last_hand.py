"""The last hand on a plan: tasks moved one by one while it becomes less awkward, and nothing is later."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import islice

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.construct.laid_out import LaidOut
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.occupied import CoatRun, Opening
from finplan.timetable.construct.place import too_hard
from finplan.timetable.construct.workmanlike import HalfDay, Worth, awkward_min, half_days, idle_days_of, kinds_of_work
from finplan.timetable.setting import Setting

_ROUNDS = 6
_PLACES = 12
"""So many places are tried for a task."""
_PAUSE = 12
"""So many slots lie at most between two runs that may be put on in one go."""
_TRIES = 12_000
"""And so many for all tasks together."""
_Cost = tuple[float, int]
"""What is awkward about a place, in minutes; and for how many days the item then lies before the next work on it."""


def with_last_hand(
    plan: Schedule, network: Network, setting: Setting, *, coats: bool, still: Collection[str] = ()
) -> Schedule:
    """Return a plan that is no more awkward (``awkward_min``), in which no piece begins sooner or is ready later.

    Parameters
    ----------
    plan
        Of all tasks; it keeps every rule
    network, setting
        The tasks, and the shop
    coats
        Whether coats move too, to be put on together; else all of them stay, and only the other work moves. Of two
        runs of coats between which their person does nothing one is put on in one go with the other: no single coat
        gains by that until the last of them has followed, so they are moved together
    still
        Keys of pieces of which nothing moves

    Notes
    -----
    What comes last is moved first, so that what comes before it finds room. Of places that are as good the one is taken
    after which the item lies for the fewest days, since what waits is then bare wood and not what was sanded for a
    coat; of these the first, which leaves most to spare.
    """
    hand = _Hand(plan, network, setting, still, coats=coats)
    return hand.moved() if hand.knows_plan else plan


class _Hand:
    def __init__(
        self, plan: Schedule, network: Network, setting: Setting, still: Collection[str], *, coats: bool
    ) -> None:
        self._network, self._setting, self._still, self._coats = network, setting, still, coats
        self._bench = LaidOut(network, setting, plan)
        self._plan = self._bench.plan
        self.knows_plan = self._without_earlier() == dict(plan)
        """Whether the bench lays the plan out as it is."""
        self._worth = Worth(setting)
        self._kinds = kinds_of_work(network)
        self._half_days = half_days(plan, network, self._worth)
        self._uppers: dict[str, list[Task]] = {}
        self._begun: dict[str, int] = {}
        self._ready: dict[str, int] = {}
        self._cleaned_after: dict[str, Task] = {}
        for task in network.tasks.values():
            end = plan[task.name].end
            fit = end if task.fit is None else task.fit(end)
            self._begun[task.piece] = min(self._begun.get(task.piece, end), self._first_start(task))
            self._ready[task.piece] = max(self._ready.get(task.piece, 0), setting.slots if fit is None else fit)
            if task.clean_up is not None:
                self._cleaned_after[task.clean_up.name] = task
            if task.over is not None:
                self._uppers.setdefault(task.over, []).append(task)
        self._tries = _TRIES

    def moved(self) -> Schedule:
        """Return the plan with every task where it is least awkward."""
        for _ in range(_ROUNDS):
            tasks = sorted(self._network.tasks.values(), key=lambda task: (-self._plan[task.name].start, task.name))
            moved = [self._move(task) for task in tasks if self._may_move(task)]
            if not any(moved) and not (self._coats and self._joins_runs()):
                break
        return self._without_earlier()

    def _without_earlier(self) -> dict[str, Scheduled]:
        earlier = {name for name, _ in self._network.wet_before}
        return {name: done for name, done in self._plan.items() if name not in earlier}

    def _may_move(self, task: Task) -> bool:
        """Return whether a task may move: no coat that stays, none that is abraded once more, none within a run."""
        return (self._coats or task.wet is None) and not self._stays(task) and self._bench.is_loose(task)

    def _stays(self, task: Task) -> bool:
        return task.piece in self._still or (task.again is not None and task.again.name in self._plan)

    def _move(self, task: Task) -> bool:
        """Move a task to its best place; return whether that is another."""
        was = self._plan[task.name]
        first, last = self._first(task), self._last(task)
        if self._tries <= 0 or last - first <= was.end - was.start:
            return False
        latest, alone = self._take_out(task)
        best, chosen = (*self._cost(task, was, alone=alone), -1), None
        for room in self._places(task, first, last):
            if latest is None or room.start <= latest:
                cost = self._cost(task, _done(room), alone=task.clean_up is not None and room.run is None)
                if (*cost, room.start) < best:
                    best, chosen = (*cost, room.start), room
        self._put(task, chosen or self._bench.back(task, was, alone=alone))
        return chosen is not None

    def _take_out(self, task: Task) -> tuple[int | None, bool]:
        """Take a task out; return how late it may be put back, and whether it had a clean-up of its own."""
        others = len(self._plan) - 1
        self._note(task, self._plan[task.name], there=False)
        latest = self._bench.drop(task)
        return latest, task.clean_up is not None and len(self._plan) < others

    def _put(self, task: Task, room: Opening) -> None:
        self._bench.take(task, room)
        self._note(task, _done(room), there=True)

    # --- runs that are put on in one go ------------------------------------------------------------------------------

    def _joins_runs(self) -> bool:
        """Put runs with nothing between on in one go while that is less awkward; return whether any was."""
        joined = False
        while any(self._joins(before, after) for before, after in self._bench.neighbours(_PAUSE)):
            joined = True
        return joined

    def _joins(self, before: CoatRun, after: CoatRun) -> bool:
        """Put on two runs in one go, from the start of the first on or so much later that the second does not move."""
        coats = [self._cleaned_after[cleaned.name] for run in (before, after) for cleaned in run.cleaned]
        names = {coat.name for coat in coats}
        next_to_it = [self._network.tasks[name] for coat in coats for name in coat.before]
        follow = {task.name: task for task in next_to_it if task.wet is None and task.name not in names}
        between = any(coat.over in names or any(name in follow for name, _ in coat.waits) for coat in coats)
        stays = any(self._stays(task) or task.operation.at_once for task in [*coats, *follow.values()])
        if self._tries <= 0 or between or stays:
            return False
        whole, awkward = self._bench, awkward_min(self._plan, self._network, self._setting)
        for start in range(before.start, before.start + after.start - before.end + 1):
            placed = self._placed_from(start, whole, coats, list(follow.values()))
            if placed and awkward_min(self._plan, self._network, self._setting) < awkward:
                self._half_days = half_days(self._plan, self._network, self._worth)
                return True
        self._bench, self._plan = whole, whole.plan
        return False

    def _placed_from(self, start: int, whole: LaidOut, coats: Sequence[Task], follow: Sequence[Task]) -> bool:
        """Lay the plan out with coats one after the other from a slot on; return whether all has room."""
        expected = {task.name: whole.plan[task.name].start for task in follow}
        for _ in range(_ROUNDS):
            self._bench, latest = whole.without_tasks([*coats, *follow])
            self._bench.expected = expected
            self._plan = self._bench.plan
            if not self._all_placed(coats, follow, start, whole.plan, latest):
                return False
            self._bench.expected = {}
            later = {name: max(due, self._plan[name].start) for name, due in expected.items()}
            if later == expected:
                return True
            expected = later  # until then the coats lie on the rack
        return False

    def _all_placed(
        self, coats: Sequence[Task], follow: Sequence[Task], at: int, was: Schedule, latest: Mapping[str, int]
    ) -> bool:
        """Put coats on one after the other from a slot on, and do what follows them when it was done or soon after."""
        for task in coats:
            room = self._bench.exactly(task, was[task.name].mode, at)
            if room is None or not self._may_be(task, room, latest):
                return False
            self._tries -= 1
            self._bench.take(task, room)
            at = room.end
        for task in sorted(follow, key=lambda task: was[task.name].start):
            first, done = self._first(task), was[task.name]
            same = self._bench.exactly(task, done.mode, done.start) if done.start >= first else None
            room = same or self._bench.earliest(task, first, 0)
            if room is None or not self._may_be(task, room, latest):
                return False
            self._bench.take(task, room)
        return True

    def _may_be(self, task: Task, room: Opening, latest: Mapping[str, int]) -> bool:
        last_start = latest.get(task.name, room.start)
        inside = self._first(task) <= room.start <= last_start and room.end <= self._last(task)
        return inside and not self._hardens(task, room)

    # --- where it may be --------------------------------------------------------------------------------------------

    def _first(self, task: Task) -> int:
        """Return from when on a task may be done."""
        ends = [(self._plan[name].end, rule) for name, rule in task.waits]
        moments = [end if rule is None else rule(end) for end, rule in ends]
        never = self._setting.slots
        return max(
            [task.earliest, self._begun[task.piece], *(never if moment is None else moment for moment in moments)]
        )

    def _last(self, task: Task) -> int:
        """Return by when a task has to end, for what waits for it and for the piece to be ready as soon as it was."""
        tasks = self._network.tasks
        ends = [self._bench.latest_end(task.fit, self._ready[task.piece])]
        for name in (following for following in task.before if following in self._plan):
            start = self._first_start(tasks[name])
            ends += [
                self._bench.latest_end(rule, start) for waited_for, rule in tasks[name].waits if waited_for == task.name
            ]
        return min(ends)

    def _first_start(self, task: Task) -> int:
        """Return when a task begins, with the abrading that it may need first."""
        again = None if task.again is None else self._plan.get(task.again.name)
        start = self._plan[task.name].start
        return start if again is None else min(again.start, start)

    def _places(self, task: Task, first: int, last: int) -> Iterator[Opening]:
        """Give the places that are tried for a task."""
        seen: set[tuple[int, int, bool]] = set()
        for room in islice(self._rooms(task, first, last), _PLACES):
            key = (room.way.mode, room.start, room.run is None)
            if key not in seen and first <= room.start and room.end <= last and not self._hardens(task, room):
                seen.add(key)
                self._tries -= 1
                yield room

    def _rooms(self, task: Task, first: int, last: int) -> Iterator[Opening]:
        """Give the places in one go with others; then the first and the last of all hours, those of the last first."""
        bench = self._bench
        yield from bench.joining(task, first, last)
        for span in reversed([slots for slots in self._setting.anybody if slots.start < last and slots.end > first]):
            begins = max(first, span.start)
            for room in (bench.earliest(task, begins, 0), bench.latest(task, begins, min(last, span.end), 0)):
                if room is not None:
                    yield room

    def _hardens(self, task: Task, room: Opening) -> bool:
        """Return whether in a place a coat comes too late for the one below, or too soon for the one on it."""
        if too_hard(self._bench, task, room.start):
            return True
        for upper in self._uppers.get(task.name, ()):
            closes = None if upper.too_hard is None else upper.too_hard(room.end)
            again = upper.again is not None and upper.again.name in self._plan
            if closes is not None and not again and self._plan[upper.name].start > closes:
                return True
        return False

    # --- what it costs ----------------------------------------------------------------------------------------------

    def _cost(self, task: Task, done: Scheduled, *, alone: bool) -> _Cost:
        """Return what a task that was taken out costs in a place; *alone*: with a clean-up of its own."""
        worth, half_day = self._worth, self._half_day(task, done)
        with_it = sorted([*half_day, (done.start, done.end, self._kinds[task.name])])
        begun = worth.of_half_day(with_it) - worth.of_half_day(half_day)
        self._plan[task.name] = done
        before = idle_days_of(self._plan, task, self._setting)
        after = sum(idle_days_of(self._plan, self._network.tasks[name], self._setting) for name in task.before)
        del self._plan[task.name]
        return (before + after) * worth.idle_day + alone * worth.clean_up + begun, after

    def _half_day(self, task: Task, done: Scheduled) -> HalfDay:
        person = next(way.person for way in task.ways if way.mode == done.mode)
        return self._half_days.setdefault((person, self._worth.half_day_of(done.start)), [])

    def _note(self, task: Task, done: Scheduled, *, there: bool) -> None:
        half_day = self._half_day(task, done)
        entry = (done.start, done.end, self._kinds[task.name])
        if there:
            half_day.append(entry)
            half_day.sort()
        else:
            half_day.remove(entry)


def _done(room: Opening) -> Scheduled:
    return Scheduled(room.start, room.end, room.way.mode)
