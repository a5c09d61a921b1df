"""How awkward a plan is to work by: what lies idle, and how often other work is taken up and tools are cleaned."""

from __future__ import annotations

from itertools import pairwise

from finplan.catalogue import Workmanship
from finplan.scheduling import Schedule
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.setting import Setting

_NOON = 12
HalfDay = list[tuple[int, int, int]]
"""What a person does in a half day, in order: from when, to when, and of which kind."""


class Worth:
    """What is awkward about a plan, in minutes of work that it is worth (``Workmanship``)."""

    def __init__(self, setting: Setting) -> None:
        weights: Workmanship = setting.catalogue.workmanship["common"]
        self.idle_day = weights.idle_day_h * 60
        self.clean_up = weights.clean_up_h * 60
        self._change_over = weights.change_over_h * 60
        self._begun = weights.half_day_h * 60
        self._setting = setting
        self._numbers: dict[int, int] = {}

    def half_day_of(self, slot: int) -> int:
        """Return the number of the half day in which a slot begins."""
        number = self._numbers.get(slot)
        if number is None:
            clock = self._setting.clock_of_slot(slot)
            number = self._numbers[slot] = 2 * clock.toordinal() + (clock.hour >= _NOON)
        return number

    def of_half_day(self, done: HalfDay) -> float:
        """Return what a half day is worth in which so much is done: that it is begun, and every change of work."""
        if not done:
            return 0.0
        return self._begun + self._change_over * sum(earlier[2] != later[2] for earlier, later in pairwise(done))


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
    worth = Worth(setting)
    cleaned = sum(task.clean_up is not None and task.clean_up.name in plan for task in network.tasks.values())
    of_half_days = sum(map(worth.of_half_day, half_days(plan, network, worth).values()))
    return round(idle_days(plan, network, setting) * worth.idle_day + cleaned * worth.clean_up + of_half_days)


def idle_days(plan: Schedule, network: Network, setting: Setting) -> int:
    """Return for how many whole working days, all together, items lie longer than what comes next has to wait."""
    return sum(idle_days_of(plan, task, setting) for task in network.tasks.values())


def idle_days_of(plan: Schedule, task: Task, setting: Setting) -> int:
    """Return by how many whole working days a task could begin sooner by what it waits for; 0 where it waits for none.

    What dries over a Sunday lies idle for no day: else a coat were put on at the end of a Friday, not to lie.
    """
    ends = [(plan[name].end, rule) for name, rule in task.waits]
    if not ends:
        return 0
    moments = [end if rule is None else rule(end) for end, rule in ends]
    again = None if task.again is None else plan.get(task.again.name)
    start = plan[task.name].start if again is None else min(again.start, plan[task.name].start)
    ready = max(start if moment is None else moment for moment in moments)
    return max(0, setting.shop_hours.before(start) - setting.shop_hours.before(ready)) // setting.working_day


def half_days(plan: Schedule, network: Network, worth: Worth) -> dict[tuple[str, int], HalfDay]:
    """Return what everybody does in every half day in which they work."""
    kinds = kinds_of_work(network)
    by_half_day: dict[tuple[str, int], HalfDay] = {}
    for task in network.tasks.values():
        done = plan[task.name]
        person = next(way.person for way in task.ways if way.mode == done.mode)
        of = by_half_day.setdefault((person, worth.half_day_of(done.start)), [])
        of.append((done.start, done.end, kinds[task.name]))
    for of in by_half_day.values():
        of.sort()
    return by_half_day


def kinds_of_work(network: Network) -> dict[str, int]:
    """Return by task of which kind it is: the same for what goes on with the same tools."""
    numbers: dict[tuple[object, ...], int] = {}
    return {name: numbers.setdefault(_kind(task), len(numbers)) for name, task in network.tasks.items()}


def _kind(task: Task) -> tuple[object, ...]:
    return (task.operation.deed, *(() if task.clean_up is None else task.clean_up.kind))
