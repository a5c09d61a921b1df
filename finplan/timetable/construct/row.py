"""Tasks placed together in a row, of which each may not wait long after the one before."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence

from finplan.scheduling import Rule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.occupied import Opening


def row_from(task: Task) -> list[Task]:
    """Return a task with all that may not wait after it, in order."""
    return [task] if task.next_soon is None else [task, *row_from(task.next_soon)]


def row_up_to(task: Task, network: Network) -> list[Task]:
    """Return a task with all that it may not wait for, in order."""
    may_wait = task.over is None or task.again is not None
    return [task] if may_wait else [*row_up_to(network.tasks[task.over or ""], network), task]


def row_early(
    bench: Bench, row: Sequence[Task], start: int, patience: int, soonest: Mapping[str, int] | None = None
) -> list[Opening]:
    """Return where tasks have room in a row, the first of them as early as can be; nothing where they have none.

    Parameters
    ----------
    bench
        What is taken already; it is left as it was
    row
        The tasks; of one alone it may be said that it is due, and then it is not begun later
    start
        The first of them is not begun before. [slot]
    patience
        So much later one alone may be if it is then done in one go with others. [slots]
    soonest
        By name, before when others are not begun; None for as soon as can be. [slot]
    """
    task, *others = row
    while True:
        room = bench.earliest(task, start, 0 if others or task.is_due else patience)
        if room is None or not others:
            overdue = room is not None and task.close is not None and task.is_due and room.start > task.close
            return [] if room is None or overdue else [room]
        following = others[0]
        begins = max(following.earliest, (soonest or {}).get(following.name, 0), _after(bench, following, room.end))
        rooms = row_early(bench, others, begins, 0, soonest)
        if not rooms:
            return []
        then = rooms[0].start
        if then <= _closes(bench, following, room.end):
            return [room, *rooms]
        ends = bisect_left(range(bench.last), then, key=lambda end: _closes(bench, following, end))
        start = max(room.start + 1, ends - task.slots)


def row_late(bench: Bench, row: Sequence[Task], last: Mapping[str, int], patience: int) -> list[Opening]:
    """Return where tasks have room in a row, the last of them as late as can be; nothing where they have none.

    Arguments as for ``row_early``; *last* says by name when each has to end. [slot]
    """
    *others, task = row
    due = task.close is not None and task.is_due
    until = min(last[task.name], (task.close or 0) + task.slots) if due else last[task.name]
    while True:
        room = bench.latest(task, task.earliest, until, 0 if others else patience)
        if room is None or not others:
            return [] if room is None else [room]
        before = others[-1]
        ends = min(last[before.name], bench.latest_end(_wait(task), room.start))
        rooms = row_late(bench, others, {**last, before.name: ends}, 0)
        if not rooms:
            return []
        closes = _closes(bench, task, rooms[-1].end)
        if room.start <= closes:
            return [*rooms, room]
        until = closes + task.slots


def _wait(following: Task) -> Rule | None:
    return next(rule for name, rule in following.waits if name == following.over)


def _after(bench: Bench, following: Task, end: int) -> int:
    rule = _wait(following)
    moment = end if rule is None else rule(end)
    return bench.last if moment is None else moment


def _closes(bench: Bench, following: Task, end: int) -> int:
    moment = None if following.too_hard is None else following.too_hard(end)
    return bench.last if moment is None else moment
