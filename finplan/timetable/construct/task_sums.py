"""What a plan comes to, and what no plan comes to more than: when pieces are begun and ready."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import cache

from finplan.scheduling import Schedule
from finplan.timetable.construct.all_ready import soonest_for_rack, soonest_for_work
from finplan.timetable.construct.alone import earliest_times, latest_begun, latest_times, longest_heads, soonest_ready
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.capacity import lets_go, off_rack, takes
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.together import latest_sum
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits


class TaskSums:
    """The tasks of pieces in one setting, and what is told of their plans."""

    def __init__(self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits) -> None:
        self.network = Network(pieces, setting, waits)
        self._pieces = [piece.key for piece in pieces]
        self._setting = setting
        self._empty, self._bare = Bench(self.network, setting), Bench(None, setting)
        self._latest = cache(lambda key, due: latest_begun(self._bare, self.network, setting, key, due))
        """As ``latest``: of one date it is asked again and again."""
        self._heads = cache(lambda key, due: longest_heads(self._bare, self.network, key, due))

    def begun(self, plan: Schedule) -> dict[str, int]:
        """Return when the work on every piece begins in a plan, by its key. [slot]"""
        begun: dict[str, int] = {}
        for task in self.network.tasks.values():
            again = None if task.again is None else plan.get(task.again.name)
            start = plan[task.name].start if again is None else min(again.start, plan[task.name].start)
            begun[task.piece] = min(begun.get(task.piece, start), start)
        return begun

    def ready(self, plan: Schedule) -> dict[str, int]:
        """Return when what is still to be done to every piece is fit for the customer, by its key. [slot]"""
        ready: dict[str, int] = {}
        for task in self.network.tasks.values():
            ready[task.piece] = max(ready.get(task.piece, 0), self._fit(task, plan))
        return ready

    def _ready_of(self, key: str, plan: Schedule) -> int:
        """Return when what is still to be done to a piece is fit for the customer. [slot]"""
        return max((self._fit(task, plan) for task in self.network.of_piece(key)), default=0)

    def _fit(self, task: Task, plan: Schedule) -> int:
        end = plan[task.name].end
        moment = end if task.fit is None else task.fit(end)
        return self._setting.slots if moment is None else moment

    def extras(self, plan: Schedule) -> tuple[int, int]:
        """Return how often a plan abrades again, and how often it cleans up."""
        tasks = self.network.tasks.values()
        again = sum(task.again is not None and task.again.name in plan for task in tasks)
        return again, sum(task.clean_up is not None and task.clean_up.name in plan for task in tasks)

    def latest(self, key: str, due: int) -> int | None:
        """Return a slot after which no plan begins a piece that is due then; None where none can."""
        return self._latest(key, due)

    def heads(self, key: str, due: int) -> Mapping[str, int]:
        """Return by task how long before its end a piece that is due then has to be begun for it. [slots]"""
        return self._heads(key, due)

    def latest_sum(self, due: Mapping[str, int], value: Callable[[int], int]) -> int:
        """Return what the starts of pieces that are due then come to at most, together; *value*: what one is worth."""
        starts: dict[str, Mapping[str, int]] = {}
        alone: dict[str, int] = {}
        for key, at in due.items():
            times = latest_times(self._bare, self.network, key, at)
            latest = self.latest(key, at)
            alone[key] = self._setting.first if latest is None else latest
            if times is not None:
                starts[key] = times[0]
        return latest_sum(self.network, self._setting, starts, alone, value)

    def soonest(self, key: str) -> int:
        """Return a slot before which no plan readies a piece."""
        return soonest_ready(self._bare, self.network, key)

    def shares(self, begun: Mapping[str, int]) -> dict[str, float]:
        """Return how long each piece would take all of the rack, or all people, where it is begun then. [slots]"""
        rack = self._setting.shop.rack
        there = sum(hours.total for hours in self._bare.hours.values())
        shares: dict[str, float] = {}
        for key, start in begun.items():
            tasks = self.network.of_piece(key)
            lying = [
                (task, off_rack(task, lets_go(self.network, task), self._setting)(start) - start) for task in tasks
            ]
            places = sum(takes(task, places=True) * slots for task, slots in lying) / max(1, rack.places)
            hooks = sum(takes(task, places=False) * slots for task, slots in lying) / max(1, rack.hooks)
            work = sum(task.slots for task in tasks) * self._setting.slots / max(1, there)
            shares[key] = max(places, hooks, work)
        return shares

    def all_soonest(self, keys: Collection[str]) -> int:
        """Return a slot before which no plan readies all of some pieces."""
        starts: dict[str, int] = {}
        for key in keys:
            starts |= earliest_times(self._bare, self.network, key)[0]
        tasks = [self.network.tasks[name] for name in starts]
        return max(
            soonest_for_work(tasks, starts, self._bare.hours, self._setting.slots),
            soonest_for_rack(self.network, starts, self._setting),
        )

    def as_good(self, plan: Schedule, other: Schedule) -> bool:
        """Return whether a plan readies no piece later than another, begins none sooner, and abrades no more."""
        ready, begun = self.ready(other), self.begun(other)
        return (
            self.extras(plan)[0] <= self.extras(other)[0]
            and all(moment <= ready[key] for key, moment in self.ready(plan).items())
            and all(start >= begun[key] for key, start in self.begun(plan).items())
        )
