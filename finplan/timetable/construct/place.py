"""Tasks placed one after another: forwards each as early, backwards each as late as there is room."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from heapq import heappop, heappush

from finplan.problems import FinplanError
from finplan.scheduling import Rule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.off_sooner import off_sooner
from finplan.timetable.construct.row import row_early, row_from, row_late, row_up_to
from finplan.timetable.found import NotFoundYetError

Rank = Callable[[str, int], tuple[int, ...]]
"""Which of the tasks that could be next is: that of the lowest rank, by its name and by when its waits let it be."""


class NoRoomError(FinplanError):
    """A task finds no room; ``task`` is the first that did not."""

    def __init__(self, task: Task) -> None:
        super().__init__(f"{task.operation.item}: {task.operation.label} finds no room")
        self.task = task


class TimeIsUpError(NotFoundYetError):
    """The time is up before a plan was made to its end."""

    def __init__(self) -> None:
        super().__init__("no plan was found in the time given; a longer --limit gives it more")


class _AbradeFirst(Exception):  # noqa: N818 - no error: the plan is made anew
    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


def place_early(
    bench: Bench,
    network: Network,
    names: Iterable[str],
    rank: Rank,
    first: Mapping[str, int],
    patience: int,
    left_s: Callable[[], float],
) -> None:
    """Place tasks as early as there is room.

    Parameters
    ----------
    bench
        What is taken already, and is then taken by the tasks too
    network
        All tasks
    names
        Which of them are placed; what they wait for is among them or placed already
    rank
        The order
    first
        By piece key: no work on it begins before. [slot]
    patience
        So much later a coat may be if it is then done in one go with others. [slots]
    left_s
        What is left of the time, asked before every task. [s]

    Raises
    ------
    NoRoomError
        Of a task that has none in the time that is looked at.
    TimeIsUpError
        Nothing is left of the time.
    """
    wanted = set(names)
    left = {name: sum(waited_for in wanted for waited_for, _ in network.tasks[name].waits) for name in wanted}
    ready: list[tuple[bool, tuple[int, ...], str]] = []

    def push(name: str) -> None:
        task = network.tasks[name]
        heappush(ready, (not task.is_due, rank(name, _may_begin(bench, task, first)), name))

    for name in wanted:
        if not left[name]:
            push(name)
    while ready:
        if left_s() <= 0:
            raise TimeIsUpError
        task = network.tasks[heappop(ready)[2]]
        start = _may_begin(bench, task, first)
        row = row_from(task)
        rooms = row_early(bench, row, start, patience)
        room = rooms[0] if rooms else None
        for member, opening in zip(row[1:], rooms[1:], strict=False):
            bench.take(member, opening)
        if task.again is not None and (room is None or too_hard(bench, task, room.start)):
            again = bench.earliest(task.again, start, patience)
            if again is None:
                raise NoRoomError(task)
            bench.take(task.again, again)
            room = bench.earliest(task, again.end, patience)
        if room is None or (task.fit is not None and task.fit(room.end) is None):
            raise NoRoomError(task)
        bench.take(task, room)
        for name in (name for member in row for name in member.before):
            if name in wanted and name not in bench.plan:
                left[name] -= 1
                if not left[name]:
                    push(name)


def _may_begin(bench: Bench, task: Task, first: Mapping[str, int]) -> int:
    """Return from when on a task may be done, by everything that it waits for."""
    return max(may_begin(bench, task, task.waits), first.get(task.piece, 0))


def may_begin(bench: Bench, task: Task, waits: Iterable[tuple[str, Rule | None]]) -> int:
    """Return from when on a task may be done by some of what it waits for, which has been placed."""
    start = task.earliest
    for name, rule in waits:
        end = bench.plan[name].end
        moment = end if rule is None else rule(end)
        start = max(start, bench.last if moment is None else moment)
    return start


def too_hard(bench: Bench, task: Task, start: int) -> bool:
    """Return whether what a coat goes on has become too hard for it when it starts."""
    moment = closes(bench, task)
    return moment is not None and start > moment


def closes(bench: Bench, task: Task) -> int | None:
    """Return the last slot at which what a coat goes on is not too hard for it; None where that is always so.

    Of a coat below that is not placed yet nothing is asked.
    """
    if task.over is None or task.too_hard is None:
        return task.close
    below = bench.plan.get(task.over)
    return None if below is None else task.too_hard(below.end)


def place_late(
    bench: Bench,
    network: Network,
    names: Iterable[str],
    rank: Rank,
    due: Mapping[str, int],
    patience: int,
    left_s: Callable[[], float],
) -> Bench:
    """Return the bench with tasks placed as late as there is room; it is left as it was.

    Where the coat below becomes too hard while a coat waits, all is placed anew with the abrading that it then needs.

    Parameters
    ----------
    bench, network, names, patience, left_s
        As for ``place_early``; what waits for the tasks is among them
    rank
        The order
    due
        By piece key: by when it has to be fit for the customer. [slot]

    Raises
    ------
    NoRoomError
        Of a task that has none before its date.
    TimeIsUpError
        Nothing is left of the time.
    """
    wanted = set(names)
    abraded: set[str] = set()
    while True:
        tried = bench.copy()
        try:
            _place_late(tried, network, wanted, rank, due, patience, abraded, left_s)
        except _AbradeFirst as asked:
            abraded.add(asked.name)
            continue
        return tried


def _place_late(
    bench: Bench,
    network: Network,
    wanted: set[str],
    rank: Rank,
    due: Mapping[str, int],
    patience: int,
    abraded: set[str],
    left_s: Callable[[], float],
) -> None:
    last = {name: bench.latest_end(network.tasks[name].fit, due[network.tasks[name].piece]) for name in wanted}
    left = {name: sum(waiting in wanted for waiting in network.tasks[name].before) for name in wanted}
    uppers: dict[str, list[Task]] = {}
    for task in (network.tasks[name] for name in wanted):
        if task.over is not None and task.again is not None:
            uppers.setdefault(task.over, []).append(task)
    ready: list[tuple[tuple[int, ...], str]] = []
    for name in wanted:
        if not left[name]:
            heappush(ready, (rank(name, last[name]), name))
    while ready:
        if left_s() <= 0:
            raise TimeIsUpError
        task = network.tasks[heappop(ready)[1]]
        row = row_up_to(task, network)
        rooms = row_late(bench, row, last, patience)
        if not rooms:
            raise NoRoomError(task)
        room = rooms[-1]
        sooner = off_sooner(bench, network, task, room, last, patience) if len(row) == 1 else None
        if sooner is not None:
            room, following = sooner
            for name, rule in following.waits:
                if name in wanted:
                    last[name] = min(last[name], bench.latest_end(rule, bench.plan[following.name].start))
        else:
            for member, opening in zip(row, rooms, strict=True):
                bench.take(member, opening)
        for upper in uppers.get(task.name, ()):
            if upper.name not in abraded and too_hard(bench, upper, bench.plan[upper.name].start):
                raise _AbradeFirst(upper.name)
        start = room.start
        if task.again is not None and (task.name in abraded or (task.over is None and too_hard(bench, task, start))):
            again = bench.latest(task.again, task.earliest, start, patience)
            if again is None:
                raise NoRoomError(task)
            bench.take(task.again, again)
            start = again.start
        if len(row) > 1:
            start = bench.plan[row[0].name].start
        for name, rule in row[0].waits:
            if name in wanted:
                last[name] = min(last[name], bench.latest_end(rule, start))
                left[name] -= 1
                if not left[name]:
                    heappush(ready, (rank(name, last[name]), name))
