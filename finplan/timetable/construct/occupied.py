"""What of the shop is taken while a plan is made: who is busy, what is wet and where it lies, and runs of coats."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from finplan.scheduling import Rule, Scheduled
from finplan.timetable.construct.free_time import FreeTime
from finplan.timetable.construct.network import CleanUp, Doer, Network, Task, Wet
from finplan.timetable.construct.profile import Level
from finplan.timetable.setting import Setting

_Copy = TypeVar("_Copy", bound="Occupied")


class Opening(NamedTuple):
    """A place in time that a task has room in."""

    way: Doer
    number: int
    """Of its first slot among those in which the person is there."""
    start: int
    end: int
    run: CoatRun | None = None
    """What it joins, at its end or before its start."""


@dataclass(frozen=True, slots=True)
class CoatRun:
    """Coats of one kind that follow one another at once, cleaned up after the last of them."""

    person: str
    start: int
    end: int
    cleaned: tuple[CleanUp, ...]
    """The clean-up of each of them, of which the last is done."""

    @property
    def clean_up(self) -> str:
        """The clean-up after the last of them."""
        return self.cleaned[-1].name


class Occupied:
    """What of the shop is taken, and in ``plan`` by what; without *network* nothing, not even by earlier coats."""

    def __init__(self, network: Network | None, setting: Setting) -> None:
        self.last = setting.slots
        self.hours, self.latest_end = setting.hours, setting.latest_end
        self.plan: dict[str, Scheduled] = {}
        self.expected: Mapping[str, int] = {}
        """When tasks begin that are not placed yet and whose place is known: what lies there is off the rack then."""
        self._free = {name: FreeTime(hours) for name, hours in self.hours.items()}
        self._sanding, self._wet, self._spraying = Level(), Level(), Level()
        self._places, self._hooks = Level(), Level()
        self._keep_out: dict[str, Level] = {}
        """By what is kept apart, when others are kept out."""
        self._alone: dict[str, dict[str, Level]] = {}
        """And by whom, where nobody else does the like meanwhile."""
        self._kept_out: dict[str, Level] = {}
        """And when any of those others is at work."""
        self._settling = setting.settling_slots
        self._rack = (setting.shop.rack.places, setting.shop.rack.hooks)
        self._lying: dict[str, tuple[Wet, int]] = {}
        """By what is done next to it: what lies on the rack, and until when it would at the longest."""
        self._runs: dict[tuple[object, ...], tuple[CoatRun, ...]] = {}
        there = setting.lifted(setting.first)
        if network is not None and there is not None:
            for name, wet in network.wet_before:
                self.plan[name] = Scheduled(there, there, 0)
                self._lay(wet, there, there)

    def _copied(self, copy: _Copy) -> _Copy:
        copy.last, copy.hours, copy.latest_end, copy._rack = self.last, self.hours, self.latest_end, self._rack
        copy._settling, copy.expected = self._settling, self.expected
        copy.plan, copy._lying, copy._runs = dict(self.plan), dict(self._lying), dict(self._runs)
        copy._free = {name: free.copy() for name, free in self._free.items()}
        copy._sanding, copy._wet, copy._spraying = self._sanding.copy(), self._wet.copy(), self._spraying.copy()
        copy._places, copy._hooks = self._places.copy(), self._hooks.copy()
        copy._keep_out = {kind: level.copy() for kind, level in self._keep_out.items()}
        copy._alone = {kind: {name: level.copy() for name, level in by.items()} for kind, by in self._alone.items()}
        copy._kept_out = {kind: level.copy() for kind, level in self._kept_out.items()}
        return copy

    # --- until when -------------------------------------------------------------------------------------------------

    def until(self, rule: Rule | None, end: int) -> int:
        """Return the moment that a rule gives for an end, or the last slot; the end itself where there is no rule."""
        moment = end if rule is None else rule(end)
        return self.last if moment is None else moment

    def _off_rack(self, wet: Wet, end: int) -> int:
        until = self.until(wet.lifted, end)
        if wet.following is None:
            return until
        following = self.plan.get(wet.following)
        start = self.expected.get(wet.following) if following is None else following.start
        return until if start is None else min(until, start)

    # --- taking and giving back --------------------------------------------------------------------------------------

    def take(self, task: Task, room: Opening) -> None:
        """Put a task where it has room."""
        person, start, end = room.way.person, room.start, room.end
        self.plan[task.name] = Scheduled(start, end, room.way.mode)
        if room.run is not None and start == room.run.end:
            self._end_run(room.run)
        self._free[person].take(room.number, task.slots)
        if task.dusty:
            self._sanding.take(start, end + self._settling, 1)
        if task.sprays:
            self._spraying.take(start, end, 1)
        self._take_apart(task, person, start, end, 1)
        if task.wet is not None:
            self._lay(task.wet, start, end)
        lying = self._lying.pop(task.name, None)
        if lying is not None:
            self._hold(lying[0], start, lying[1], -1)
        if task.clean_up is not None:
            self._clean_after(task.clean_up, room)

    def untake(self, task: Task) -> Scheduled:
        """Take out a task, but not what it leaves wet nor the cleaning up after it; return where it was."""
        done = self.plan.pop(task.name)
        person = next(way.person for way in task.ways if way.mode == done.mode)
        self._free[person].give_back(self.hours[person].before(done.start), task.slots)
        if task.dusty:
            self._sanding.take(done.start, done.end + self._settling, -1)
        if task.sprays:
            self._spraying.take(done.start, done.end, -1)
        self._take_apart(task, person, done.start, done.end, -1)
        return done

    def _take_apart(self, task: Task, person: str, start: int, end: int, amount: int) -> None:
        for apart, after in task.apart_for:
            taken = self._keep_out if apart.keeps_out else self._kept_out
            taken.setdefault(apart.kind, Level()).take(start, end + after, amount)
            if apart.alone:
                self._alone.setdefault(apart.kind, {}).setdefault(person, Level()).take(start, end + after, amount)

    def _lay(self, wet: Wet, start: int, end: int) -> None:
        if wet.fit_for_dust is not None:
            self._wet.take(start, self.until(wet.fit_for_dust, end), 1)
        until = self._off_rack(wet, end)
        self._hold(wet, start, until, 1)
        if wet.following is not None and wet.following not in self.plan:
            self._lying[wet.following] = (wet, until)

    def _hold(self, wet: Wet, start: int, until: int, sign: int) -> None:
        self._places.take(start, until, sign * wet.places)
        self._hooks.take(start, until, sign * wet.hooks)

    # --- runs of coats -----------------------------------------------------------------------------------------------

    def _clean_after(self, cleaned: CleanUp, room: Opening) -> None:
        """Clean up after a coat, unless it is done in one go with what follows."""
        run = room.run
        if run is None:
            self._begin_run(CoatRun(room.way.person, room.start, room.end, (cleaned,)), room.way.mode)
        elif room.start == run.end:
            self._begin_run(CoatRun(run.person, run.start, room.end, (*run.cleaned, cleaned)), room.way.mode)
        else:
            joined = CoatRun(run.person, room.start, run.end, (cleaned, *run.cleaned))
            self._runs[cleaned.kind] = (*self._others(run), joined)

    def _begin_run(self, run: CoatRun, mode: int) -> None:
        """Note a run, and clean up after it."""
        cleaned, hours = run.cleaned[-1], self.hours[run.person]
        number = hours.before(run.end)
        self.plan[cleaned.name] = Scheduled(run.end, hours.end(number, cleaned.slots), mode)
        self._free[run.person].take(number, cleaned.slots)
        self._runs[cleaned.kind] = (*self._runs.get(cleaned.kind, ()), run)

    def _end_run(self, run: CoatRun) -> None:
        """Forget a run, and the cleaning up after it."""
        self._free[run.person].give_back(*self._cleaned(run))
        del self.plan[run.clean_up]
        self._runs[run.cleaned[-1].kind] = self._others(run)

    def _cleaned(self, run: CoatRun) -> tuple[int, int]:
        """Return when tools are cleaned after a run, and for how long, in the hours of its person."""
        done, hours = self.plan[run.clean_up], self.hours[run.person]
        number = hours.before(done.start)
        return number, hours.before(done.end) - number

    def _others(self, run: CoatRun) -> tuple[CoatRun, ...]:
        return tuple(other for other in self._runs[run.cleaned[-1].kind] if other is not run)
