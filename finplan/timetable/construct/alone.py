"""How late a piece could be begun, and how early it could be ready, if each task had the shop to itself: bounds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from finplan.scheduling import Rule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.capacity import latest_for_rack, latest_for_work
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.setting import Setting


def latest_begun(bench: Bench, network: Network, setting: Setting, key: str, due: int) -> int | None:
    """Return a slot after which no plan begins a piece, by its waits, its work and its wet coats.

    None where by its waits it cannot be in time. Arguments as for ``latest_times``.
    """
    times = latest_times(bench, network, key, due)
    tasks = network.of_piece(key)
    if times is None or not tasks:
        return None if times is None else due
    starts, ends = times
    bounds = (latest_for_work(tasks, ends, bench.hours), latest_for_rack(network, tasks, starts, setting))
    return max(setting.first, min([*starts.values(), *(bound for bound in bounds if bound is not None)]))


def latest_times(bench: Bench, network: Network, key: str, due: int) -> tuple[dict[str, int], dict[str, int]] | None:
    """Return how late every task of a piece could start, and could end, at best; None where one could not start at all.

    Parameters
    ----------
    bench
        With nothing taken, not even by what was put on before
    network
        All tasks
    key
        Of the piece
    due
        By when it has to be fit for the customer. [slot]

    Notes
    -----
    Each task is looked at as if nothing else were done, and no tools were cleaned; it has only to end in time for what
    waits for it. So no plan starts it later, whatever else is planned.
    """
    starts: dict[str, int] = {}
    ends: dict[str, int] = {}
    for task in reversed(network.of_piece(key)):
        last = bench.latest_end(task.fit, due)
        if task.close is not None and task.is_due:
            last = min(last, task.close + task.slots)
        for name in task.before:
            rules = (rule for waited_for, rule in network.tasks[name].waits if waited_for == task.name)
            last = min([last, *(bench.latest_end(rule, starts[name]) for rule in rules)])
        room = bench.latest(_bare(task), task.earliest, last, 0)
        if room is None:
            return None
        starts[task.name], ends[task.name] = room.start, last
    return starts, ends


def longest_heads(bench: Bench, network: Network, key: str, due: int) -> dict[str, int]:
    """Return how long before the latest end of each task a piece has to be begun for it. [slots]

    Nothing where by its waits the piece cannot be in time. Arguments as for ``latest_times``.
    """
    times = latest_times(bench, network, key, due)
    if times is None:
        return {}
    starts, ends = times
    begun: dict[str, int] = {}
    for task in network.of_piece(key):
        begun[task.name] = min([starts[task.name], *(begun[name] for name, _ in task.waits)])
    return {name: ends[name] - at for name, at in begun.items()}


def soonest_ready(bench: Bench, network: Network, key: str) -> int:
    """Return how early a piece could be fit for the customer at best, arguments as above. [slot]"""
    _, ends = earliest_times(bench, network, key)
    return max((_moment(task.fit, ends[task.name], bench.last) for task in network.of_piece(key)), default=0)


def earliest_times(bench: Bench, network: Network, key: str) -> tuple[dict[str, int], dict[str, int]]:
    """Return how early every task of a piece could start, and could end, at best; the last slot for never."""
    starts: dict[str, int] = {}
    ends: dict[str, int] = {}
    for task in network.of_piece(key):
        room = bench.earliest(_bare(task), _may_begin(task, ends, bench.last), 0)
        starts[task.name] = bench.last if room is None else room.start
        ends[task.name] = bench.last if room is None else room.end
    return starts, ends


def _may_begin(task: Task, ends: Mapping[str, int], last: int) -> int:
    return max([task.earliest, *(_moment(rule, ends[name], last) for name, rule in task.waits)])


def _moment(rule: Rule | None, end: int, last: int) -> int:
    moment = end if rule is None else rule(end)
    return last if moment is None else moment


def _bare(task: Task) -> Task:
    return replace(task, clean_up=None) if task.clean_up is not None else task
