"""How awkward a plan is to work by: what lies idle, and how often other work is taken up and tools are cleaned."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finplan.catalogue import Workmanship
from finplan.scheduling import Schedule
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.setting import Setting

_NOON = 12


def awkward_min(plan: Schedule, network: Network, setting: Setting) -> int:
    """Return what is awkward in a plan, in minutes of work that it is worth.

    Parameters
    ----------
    plan
        Of all tasks
    network
        The tasks
    setting
        The shop, whose catalogue says what is worth how much (``Workmanship``)
    """
    weights: Workmanship = setting.catalogue.workmanship["common"]
    cleaned = sum(one.clean_up is not None and one.clean_up.name in plan for one in network.tasks.values())
    half_days, changes = _half_days(plan, network, setting)
    hours = (
        idle_days(plan, network, setting) * weights.idle_day_h
        + cleaned * weights.clean_up_h
        + changes * weights.change_over_h
        + half_days * weights.half_day_h
    )
    return round(hours * 60)


def idle_days(plan: Schedule, network: Network, setting: Setting) -> int:
    """Return for how many whole days, all together, items lie longer than what is done to them next has to wait."""
    day = 24 * 60 // setting.slot_min
    return sum(gap // day for task in network.tasks.values() for gap in _gap(plan, task))


def _gap(plan: Schedule, task: Task) -> Iterator[int]:
    """Give how long a task could have begun sooner by what it waits for; nothing where it waits for none."""
    ends = [(plan[name].end, rule) for name, rule in task.waits]
    if ends:
        moments = [end if rule is None else rule(end) for end, rule in ends]
        again = None if task.again is None else plan.get(task.again.name)
        start = plan[task.name].start if again is None else min(again.start, plan[task.name].start)
        yield max(0, start - max(start if moment is None else moment for moment in moments))


def _half_days(plan: Schedule, network: Network, setting: Setting) -> tuple[int, int]:
    """Return in how many half days somebody works, and how often a person goes on to another kind of work in one."""
    kinds: dict[tuple[str, object, bool], list[tuple[object, ...]]] = {}
    for task in sorted(network.tasks.values(), key=lambda one: (plan[one.name].start, plan[one.name].end)):
        done = plan[task.name]
        person = next(way.person for way in task.ways if way.mode == done.mode)
        clock = setting.clock_of_slot(done.start)
        kinds.setdefault((person, clock.date(), clock.hour < _NOON), []).append(kind_of_work(task))
    changes = sum(one != other for of in kinds.values() for one, other in pairwise(of))
    return len(kinds), changes


def kind_of_work(task: Task) -> tuple[object, ...]:
    """Return what two tasks have in common that go on with the same tools."""
    return (task.operation.deed, *(() if task.clean_up is None else task.clean_up.kind))
