"""Whether a task has room in the shop while a plan is made: with whom, in which air, beside what else is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from finplan.scheduling import Rule
from finplan.timetable.construct.network import Doer, Task, Wet
from finplan.timetable.construct.occupied import CoatRun, Occupied, Opening, kept_apart
from finplan.timetable.hours import Hours

_LOOKED = 512
"""So many open slots are looked at together for a start."""


class Collision(NamedTuple):
    """Where a task has no room: the first number from which on it may have some, and the last up to which it may."""

    later: int
    sooner: int


class Bench(Occupied):
    """The shop with what of it is taken, looked over for room."""

    def copy(self) -> Bench:
        """Return the same, to be worked on by itself."""
        return self._copied(object.__new__(Bench))

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
        for apart, until in kept_apart(task, end):
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


def _sooner(best: tuple[int, Opening] | None, other: tuple[int, Opening]) -> tuple[int, Opening]:
    return other if best is None or other[0] < best[0] else best
