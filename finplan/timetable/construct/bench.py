"""The shop while a plan is made: who is busy, what is wet and where it lies, and whether a task has room."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from finplan.scheduling import Rule, Scheduled
from finplan.timetable.apart import Apart
from finplan.timetable.construct.free_time import FreeTime
from finplan.timetable.construct.network import CleanUp, Doer, Network, Task, Wet
from finplan.timetable.construct.profile import Level
from finplan.timetable.hours import Hours
from finplan.timetable.setting import Setting

_Copy = TypeVar("_Copy", bound="Bench")
_LOOKED = 512
"""So many open slots are looked at together for a start."""


class Opening(NamedTuple):
    """A place in time that a task has room in."""

    way: Doer
    number: int
    """Of its first slot among those in which the person is there."""
    start: int
    end: int
    run: CoatRun | None = None
    """What it joins, at its end or before its start."""


class Collision(NamedTuple):
    """Where a task has no room: the first number from which on it may have some, and the last up to which it may."""

    later: int
    sooner: int


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


class Bench:
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
        self._alone: dict[tuple[str, str], Level] = {}
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

    def copy(self) -> Bench:
        """Return the same, to be worked on by itself."""
        return self._copied(object.__new__(Bench))

    def _copied(self, copy: _Copy) -> _Copy:
        copy.last, copy.hours, copy.latest_end, copy._rack = self.last, self.hours, self.latest_end, self._rack
        copy._settling, copy.expected = self._settling, self.expected
        copy.plan, copy._lying, copy._runs = dict(self.plan), dict(self._lying), dict(self._runs)
        copy._free = {name: free.copy() for name, free in self._free.items()}
        copy._sanding, copy._wet, copy._spraying = self._sanding.copy(), self._wet.copy(), self._spraying.copy()
        copy._places, copy._hooks = self._places.copy(), self._hooks.copy()
        copy._keep_out = {kind: level.copy() for kind, level in self._keep_out.items()}
        copy._alone = {key: level.copy() for key, level in self._alone.items()}
        copy._kept_out = {kind: level.copy() for kind, level in self._kept_out.items()}
        return copy

    # --- looking for room -------------------------------------------------------------------------------------------

    def earliest(self, task: Task, first: int, patience: int) -> Opening | None:
        """Return where a task is done soonest from a slot on, or in one go with others if hardly later."""
        best: tuple[int, Opening] | None = None
        for way in task.ways:
            opening = self._first_room(task, way, self.hours[way.person].before(first))
            if opening is not None:
                best = _sooner(best, (opening.end, opening))
        until = self.last if best is None else best[0] + patience
        for room in self.joining(task, first, until):
            best = _sooner(best, (room.end - patience, room))
        return None if best is None else best[1]

    def latest(self, task: Task, first: int, last: int, patience: int) -> Opening | None:
        """Return where a task is done last from a slot on up to another, or in one go with others if hardly sooner."""
        best: tuple[int, Opening] | None = None
        for way in task.ways:
            hours = self.hours[way.person]
            opening = self._last_room(task, way, hours.before(first), hours.before(last) - task.slots)
            if opening is not None:
                best = _sooner(best, (-opening.start, opening))
        since = first if best is None else max(first, -best[0] - patience - task.slots)
        for room in self.joining(task, since, last):
            best = _sooner(best, (-room.start - patience, room))
        return None if best is None else best[1]

    def exactly(self, task: Task, mode: int, start: int) -> Opening | None:
        """Return the room for a task done in a mode from a slot on, also in one go with others; None for none."""
        way = next((doer for doer in task.ways if doer.mode == mode), None)
        if way is None:
            return None
        hours = self.hours[way.person]
        number = hours.before(start)
        if number >= hours.total or hours.slot(number) != start:
            return None
        opening = self._room(task, way, number)
        if opening is not None:
            return opening
        joined = self.joining(task, start, self.last)
        return next((room for room in joined if room.way is way and room.start == start), None)

    def joining(self, task: Task, first: int, last: int) -> Iterator[Opening]:
        """Give the places between two slots in which a coat joins a run."""
        cleaned = task.clean_up
        if cleaned is None:
            return
        ways = {way.person: way for way in task.ways}
        for run in self._runs.get(cleaned.kind, ()):
            way = ways.get(run.person)
            if way is None or run.start > last or run.end < first:
                continue
            if cleaned.longest is not None and run.end - run.start + task.slots > cleaned.longest:
                continue
            hours = self.hours[run.person]
            ends = (hours.before(run.end), cleaned.slots), (hours.before(run.start) - task.slots, 0)
            for number, clean in ends:
                inside = run.end < last if clean else run.start <= last
                room = self._beside(task, way, number, clean, run) if inside and number >= 0 else None
                if room is not None and first <= room.start and room.end <= last:
                    yield room

    def _beside(self, task: Task, way: Doer, number: int, clean: int, run: CoatRun) -> Opening | None:
        """Return the room for a coat that goes on right after a run, or right before it; None for none."""
        after = clean > 0
        occupied = number + run.cleaned[-1].slots if after else number  # by what is cleaned up later then
        if not self._free[way.person].is_free(occupied, number + task.slots + clean - occupied):
            return None
        if after:
            self._free[run.person].give_back(*self._cleaned(run))
        room = self._room(task, way, number, clean)
        if after:
            self._free[run.person].take(*self._cleaned(run))
        if room is None or (room.start if after else room.end) != (run.end if after else run.start):
            return None
        longest = None if task.clean_up is None else task.clean_up.longest
        if longest is not None and max(room.end, run.end) - min(room.start, run.start) > longest:
            return None
        return Opening(way, number, room.start, room.end, run)

    def _cleaned(self, run: CoatRun) -> tuple[int, int]:
        """Return when tools are cleaned after a run, and for how long, in the hours of its person."""
        done, hours = self.plan[run.clean_up], self.hours[run.person]
        number = hours.before(done.start)
        return number, hours.before(done.end) - number

    def _first_room(self, task: Task, way: Doer, number: int) -> Opening | None:
        """Return the first room for a task from a slot of a person on."""
        total = self.hours[way.person].total
        while number < total:
            looked, later = min(number + _LOOKED, total), 0
            starts = self._starts(task, way, number, looked - 1)
            while starts:
                at = number + (starts & -starts).bit_length() - 1
                beside = self._beside_others(task, way, at)
                if isinstance(beside, Opening):
                    return beside
                later = max(at + 1, beside.later)
                starts = starts >> (later - number) << (later - number) if later < looked else 0
            number = max(looked, later)
        return None

    def _last_room(self, task: Task, way: Doer, least: int, number: int) -> Opening | None:
        """Return the last room for a task from one slot of a person up to another."""
        while number >= least:
            looked, sooner = max(number - _LOOKED + 1, least), number
            starts = self._starts(task, way, looked, number)
            while starts:
                at = looked + starts.bit_length() - 1
                beside = self._beside_others(task, way, at)
                if isinstance(beside, Opening):
                    return beside
                sooner = min(at - 1, beside.sooner)
                starts = starts & ((1 << (sooner - looked + 1)) - 1) if sooner >= looked else 0
            number = min(looked - 1, sooner)
        return None

    def _room(self, task: Task, way: Doer, number: int, clean: int | None = None) -> Opening | None:
        """Return the room for a task from a slot of a person on; None for none."""
        beside = self._beside_others(task, way, number) if self._starts(task, way, number, number, clean) else None
        return beside if isinstance(beside, Opening) else None

    def _starts(self, task: Task, way: Doer, first: int, last: int, clean: int | None = None) -> int:
        """Return where a person has time for a task and the cleaning up after it, and air, as ``FreeTime.starts``."""
        if clean is None:
            clean = 0 if task.clean_up is None else task.clean_up.slots
        at_once = min(clean, 1) if way.clean_up_pauses else clean
        free = self._free[way.person]
        starts = free.starts(first, last, task.slots, clean, pauses=way.pauses, at_once=at_once)
        return starts if way.aired is None else starts & (way.aired >> first)

    def _beside_others(self, task: Task, way: Doer, number: int) -> Opening | Collision:
        """Return the room for a task where a person has time for it, or where to look further."""
        hours = self.hours[way.person]
        start, end = hours.slot(number), hours.end(number, task.slots)
        return self._in_the_way(task, way.person, start, end) or Opening(way, number, start, end)

    def _in_the_way(self, task: Task, person: str, start: int, end: int) -> Collision | None:
        """Return what else in the shop a task would be in the way of; None for nothing."""
        hours = self.hours[person]
        for taken, takes, lies in ((self._spraying, task.sprays, 0), (self._wet, task.dusty, self._settling)):
            over = taken.over(start, end + lies, 0) if takes else None
            if over is not None:
                return Collision(hours.before(over[1]), hours.before(over[0] - lies) - task.slots)
        for apart, until in _apart(task, end):
            taken_by = self._kept_out if apart.keeps_out else self._keep_out
            levels = [taken_by[apart.kind]] if apart.kind in taken_by else []
            if apart.alone:  # the next coat of one's own in one go begins at once: both are cleaned up after together
                levels += [level for key, level in self._alone.items() if key[0] == apart.kind and key[1] != person]
            for level in levels:
                over = level.over(start, until, 0)
                if over is not None:
                    return Collision(hours.before(over[1]), hours.before(over[0] - (until - end)) - task.slots)
        wet = task.wet
        if wet is None:
            return None
        if wet.fit_for_dust is not None:
            over = self._sanding.over(start, self.until(wet.fit_for_dust, end), 0)
            if over is not None:
                return self._kept_off(task, hours, over, wet.fit_for_dust)
        lying = self._lying.get(task.name)
        if lying is None or lying[1] <= start:
            return self._on_rack(task, wet, hours, start, end)
        self._hold(lying[0], start, lying[1], -1)  # what is coated next is taken off for that
        try:
            return self._on_rack(task, wet, hours, start, end)
        finally:
            self._hold(lying[0], start, lying[1], 1)

    def _take_apart(self, task: Task, person: str, start: int, end: int, amount: int) -> None:
        for apart, until in _apart(task, end):
            taken = self._keep_out if apart.keeps_out else self._kept_out
            taken.setdefault(apart.kind, Level()).take(start, until, amount)
            if apart.alone:
                self._alone.setdefault((apart.kind, person), Level()).take(start, until, amount)

    def _on_rack(self, task: Task, wet: Wet, hours: Hours, start: int, end: int) -> Collision | None:
        until = self._off_rack(wet, end)
        for taken, amount, capacity in zip(
            (self._places, self._hooks), (wet.places, wet.hooks), self._rack, strict=True
        ):
            over = taken.over(start, until, capacity - amount) if amount else None
            if over is not None:
                return self._kept_off(task, hours, over, wet.lifted)
        return None

    def _kept_off(self, task: Task, hours: Hours, over: tuple[int, int], rule: Rule) -> Collision:
        return Collision(hours.before(over[1]), hours.before(self.latest_end(rule, over[0])) - task.slots)

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

    # --- taking it --------------------------------------------------------------------------------------------------

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

    def _others(self, run: CoatRun) -> tuple[CoatRun, ...]:
        return tuple(other for other in self._runs[run.cleaned[-1].kind] if other is not run)


def _apart(task: Task, end: int) -> Iterator[tuple[Apart, int]]:
    """Give what a task is kept apart from, and until when that is in the way: also while it is cleaned up after."""
    cleaned = 0 if task.clean_up is None else task.clean_up.slots
    return ((apart, end + cleaned + apart.tail) for apart in task.apart)


def _sooner(best: tuple[int, Opening] | None, other: tuple[int, Opening]) -> tuple[int, Opening]:
    return other if best is None or other[0] < best[0] else best
