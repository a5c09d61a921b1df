"""A plan put back as it was after things went otherwise: what can stays in its place, the rest goes where it fits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from finplan.scheduling import Schedule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.occupied import Opening
from finplan.timetable.construct.place import NoRoomError, TimeIsUpError, closes, may_begin, too_hard
from finplan.timetable.construct.row import row_early, row_from


@dataclass(frozen=True, slots=True)
class Place:
    """Where a task was."""

    start: int
    mode: int
    """Of the person who was to do it, among the modes of its activity; -1 where they can do it no more."""


@dataclass(frozen=True, slots=True)
class Before:
    """A plan that is put back."""

    places: Mapping[str, Place]
    """By task, and by the abrading that a late coat needed."""
    now: int
    """Nothing is begun before this slot."""
    begun: frozenset[str] = frozenset()
    """What is under way: it alone stays before that."""


def put_back(
    empty: Bench, network: Network, before: Before, left_s: Callable[[], float], *, moved: Iterable[str] = ()
) -> Schedule:
    """Return a plan in which everything that can be is where it was, and what cannot be is later, as little as can be.

    What stays is placed first, so that what moves takes nobody's place. What moves pushes on what waits for it, and
    that is tried until nothing else has to move.

    Parameters
    ----------
    empty
        The shop with nothing taken but by coats that were put on before; it is left as it was
    network
        All tasks; every one of them has a place
    before
        The plan
    left_s
        What is left of the time, asked before every try. [s]
    moved
        What may move from the start: all of it to let everything wait in the order in which it was, as little as can be

    Raises
    ------
    NoRoomError
        Of a task that has none in the time that is looked at.
    TimeIsUpError
        Nothing is left of the time.
    """
    pushed = set(moved)
    while True:
        if left_s() <= 0:
            raise TimeIsUpError
        pushed |= _pushed_by_waits(empty, network, before, pushed)
        attempt = _Attempt(empty.copy(), network, before)
        attempt.put_due_first(name for name in network.tasks if name not in pushed)
        more = attempt.keep(name for name in network.tasks if name not in pushed and name not in attempt.bench.plan)
        if not more:
            more = attempt.move(pushed)
        if not more:
            return attempt.bench.plan
        pushed |= more


def _pushed_by_waits(bench: Bench, network: Network, before: Before, pushed: set[str]) -> set[str]:
    """Return what has to move as it waits for what moves, were there room for all of that at once."""
    moved: set[str] = set()
    ends: dict[str, int] = {}
    for name, task in network.tasks.items():
        start = before.places[name].start
        if name in pushed:
            start = max(start, before.now, task.earliest)
        for waited_for, rule in task.waits:
            if waited_for in ends:
                moment = ends[waited_for] if rule is None else rule(ends[waited_for])
                start = max(start, bench.last if moment is None else moment)
        if name in pushed or start > before.places[name].start:
            moved.add(name)
            ends[name] = min((_end(bench, task, way.person, start) for way in task.ways), default=bench.last)
    rows = ([member.name for member in row_from(task)] for task in network.tasks.values() if _begins_row(task))
    return moved.union(*(row for row in rows if not moved.isdisjoint(row) and row[0] not in before.begun))


def _begins_row(task: Task) -> bool:
    return task.next_soon is not None and task.over is None


def _end(bench: Bench, task: Task, person: str, start: int) -> int:
    hours = bench.hours[person]
    number = hours.before(start)
    return hours.end(number, task.slots) if number + task.slots <= hours.total else bench.last


class _Attempt:
    """One try to put a plan back."""

    def __init__(self, bench: Bench, network: Network, before: Before) -> None:
        self.bench, self._network, self._before = bench, network, before
        self._number = {name: number for number, name in enumerate(network.tasks)}

    def put_due_first(self, staying: Iterable[str]) -> None:
        """Put what may not wait any longer where it was, or where it has room now, beside what is under way."""
        due = [task for task in self._network.tasks.values() if task.is_due]
        if not due:
            return
        self.keep(name for name in staying if name in self._before.begun)
        for task in due:
            if task.name not in self._before.begun:
                place = self._before.places[task.name]
                if place.start < self._before.now or not self._kept(task, place):
                    self._row_moved([task], max(self._may_begin(task), self._before.now))

    def keep(self, names: Iterable[str]) -> set[str]:
        """Put tasks where they were; return those that cannot be there."""
        listed = sorted(names, key=self._in_order)
        self.bench.expected = {name: self._before.places[name].start for name in listed}
        refused: set[str] = set()
        for name in listed:
            task, place = self._network.tasks[name], self._before.places[name]
            if (place.start < self._before.now and name not in self._before.begun) or not self._kept(task, place):
                refused.add(name)
        return refused

    def _kept(self, task: Task, place: Place) -> bool:
        if place.start < self._may_begin(task):
            return False
        if task.again is not None and not self._again_kept(task, task.again, place):
            return False
        if task.again is None and too_hard(self.bench, task, place.start):
            return False
        room = self._at(task, place)
        if room is not None:
            self.bench.take(task, room)
        return room is not None

    def _again_kept(self, task: Task, again: Task, place: Place) -> bool:
        """Return whether a coat may stay, once the abrading that it needs is where it was."""
        was = self._before.places.get(again.name)
        if was is not None and task.over is not None and task.over not in self.bench.plan:
            return False  # what is below it moves: whether it is abraded is open
        if not too_hard(self.bench, task, place.start):
            return True
        room = None if was is None or was.start < self._before.now else self._at(again, was)
        if room is None or room.end > place.start:
            return False
        self.bench.take(again, room)
        return True

    def move(self, names: set[str]) -> set[str]:
        """Put tasks where they have room, not sooner than they were; return what waits for them and is too soon."""
        left = {name: sum(waited_for in names for waited_for, _ in self._network.tasks[name].waits) for name in names}
        ready: list[tuple[tuple[int, ...], str]] = []
        for name in names:
            if not left[name]:
                heappush(ready, (self._in_order(name), name))
        pushed: set[str] = set()
        while ready:
            task = self._network.tasks[heappop(ready)[1]]
            if task.name not in self.bench.plan:
                self._moved(task)
            for name in task.before:
                if name in names:
                    left[name] -= 1
                    if not left[name]:
                        heappush(ready, (self._in_order(name), name))
                elif self._may_begin(self._network.tasks[name]) > self.bench.plan[name].start:
                    pushed.add(name)
        return pushed

    def _moved(self, task: Task) -> None:
        place = self._before.places[task.name]
        soonest = max(self._may_begin(task), self._before.now)
        start = max(soonest, place.start)
        if task.next_soon is not None and task.next_soon.name not in self.bench.plan:
            self._row_moved(row_from(task), start)
            return
        room = self._room(task, place, start)
        if task.again is not None and (room is None or too_hard(self.bench, task, room.start)):
            room = self._still_soft(task, task.again, soonest) or self._abraded(task, task.again, place, soonest, start)
        if room is None or (task.fit is not None and task.fit(room.end) is None):
            raise NoRoomError(task)
        self.bench.take(task, room)

    def _row_moved(self, row: Sequence[Task], start: int) -> None:
        soonest = {task.name: max(self._before.places[task.name].start, self._before.now) for task in row}
        rooms = row_early(self.bench, row, start, 0, soonest)
        if not rooms:
            raise NoRoomError(row[0])
        for member, room in zip(row, rooms, strict=True):
            self.bench.take(member, room)

    def _room(self, task: Task, place: Place, start: int) -> Opening | None:
        kept = self._at(task, place) if place.start >= start else None
        return kept or self.bench.earliest(task, start, 0)

    def _still_soft(self, task: Task, again: Task, soonest: int) -> Opening | None:
        """Return where a coat has room sooner than it was, before what it goes on is too hard; None for nowhere.

        Where it was to be abraded first as it was, that stays so.
        """
        limit = None if again.name in self._before.places else closes(self.bench, task)
        room = None if limit is None else self.bench.latest(task, soonest, limit + task.slots, 0)
        return None if room is None or too_hard(self.bench, task, room.start) else room

    def _abraded(self, task: Task, again: Task, place: Place, soonest: int, start: int) -> Opening | None:
        """Return where a coat has room after the abrading that it needs, which is put before it."""
        was = self._before.places.get(again.name)
        room = None if was is None or was.start < soonest else self._at(again, was)
        room = room or self.bench.earliest(again, soonest if was is None else max(soonest, was.start), 0)
        if room is None:
            return None
        self.bench.take(again, room)
        return self._room(task, place, max(start, room.end))

    def _may_begin(self, task: Task) -> int:
        """Return from when on a task may be done, by what it waits for and has been placed."""
        placed = [(name, rule) for name, rule in task.waits if name in self.bench.plan]
        return may_begin(self.bench, task, placed)

    def _at(self, task: Task, place: Place) -> Opening | None:
        return self.bench.exactly(task, place.mode, place.start)

    def _in_order(self, name: str) -> tuple[int, ...]:
        return (self._before.places[name].start, self._number[name])
