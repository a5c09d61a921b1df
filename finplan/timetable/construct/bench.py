"""Whether a task has room in the shop while a plan is made: with whom, in which air, beside what else is there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from finplan.scheduling import Rule
from finplan.timetable.construct.network import Doer, Task, Wet
from finplan.timetable.construct.occupied import CoatRun, Occupied, Opening

_LOOKED = 512
"""So many open slots are looked at together for a start."""


class InTheWay(NamedTuple):
    """What a task would be in the way of: from when to when, and how long after its end the task still would be."""

    since: int
    until: int
    after: int
    rule: Rule | None = None
    """By which that is for so long, where it depends on its end."""


class Bench(Occupied):
    """The shop with what of it is taken, looked over for room."""

    def copy(self) -> Bench:
        """Return the same, to be worked on by itself."""
        return self._copied(object.__new__(Bench))

    def earliest(self, task: Task, first: int, patience: int) -> Opening | None:
        """Return where a task is done soonest from a slot on, or in one go with others if hardly later."""
        best: tuple[int, Opening] | None = None
        for way in task.ways:
            hours = self.hours[way.person]
            before = hours.total if best is None else hours.before(best[0] - task.slots)  # else it ends no sooner
            opening = self._first_room(task, way, hours.before(first), before)
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
            least = hours.before(first if best is None else max(first, 1 - best[0]))  # else it begins no later
            opening = self._last_room(task, way, least, hours.before(last) - task.slots)
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

    def _first_room(self, task: Task, way: Doer, number: int, before: int) -> Opening | None:
        """Return the first room for a task from a slot of a person on, begun before another."""
        hours = self.hours[way.person]
        while number < before:
            looked, later = min(number + _LOOKED, before), 0
            starts = self._starts(task, way, number, looked - 1)
            while starts:
                at = number + (starts & -starts).bit_length() - 1
                start, end = hours.slot(at), hours.end(at, task.slots)
                taken = self._in_the_way(task, way.person, start, end)
                if taken is None:
                    return Opening(way, at, start, end)
                later = max(at + 1, hours.before(taken.until))
                starts = starts >> (later - number) << (later - number) if later < looked else 0
            number = max(looked, later)
        return None

    def _last_room(self, task: Task, way: Doer, least: int, number: int) -> Opening | None:
        """Return the last room for a task from one slot of a person up to another."""
        hours = self.hours[way.person]
        while number >= least:
            looked, sooner = max(number - _LOOKED + 1, least), number
            starts = self._starts(task, way, looked, number)
            while starts:
                at = looked + starts.bit_length() - 1
                start, end = hours.slot(at), hours.end(at, task.slots)
                taken = self._in_the_way(task, way.person, start, end)
                if taken is None:
                    return Opening(way, at, start, end)
                sooner = min(at - 1, hours.before(self._ended_by(taken)) - task.slots)
                starts = starts & ((1 << (sooner - looked + 1)) - 1) if sooner >= looked else 0
            number = min(looked - 1, sooner)
        return None

    def _room(self, task: Task, way: Doer, number: int, clean: int | None = None) -> Opening | None:
        """Return the room for a task from a slot of a person on; None for none."""
        if not self._starts(task, way, number, number, clean):
            return None
        start, end = self.hours[way.person].slot(number), self.hours[way.person].end(number, task.slots)
        return None if self._in_the_way(task, way.person, start, end) else Opening(way, number, start, end)

    def _starts(self, task: Task, way: Doer, first: int, last: int, clean: int | None = None) -> int:
        """Return where a person has time for a task and the cleaning up after it, and air, as ``FreeTime.starts``."""
        if clean is None:
            clean = 0 if task.clean_up is None else task.clean_up.slots
        at_once = min(clean, 1) if way.clean_up_pauses else clean
        free = self._free[way.person]
        starts = free.starts(first, last, task.slots, clean, pauses=way.pauses, at_once=at_once)
        return starts if way.aired is None else starts & (way.aired >> first)

    def _in_the_way(self, task: Task, person: str, start: int, end: int) -> InTheWay | None:
        """Return what else in the shop a task would be in the way of; None for nothing."""
        if task.sprays:
            over = self._spraying.over(start, end, 0)
            if over is not None:
                return InTheWay(*over, 0)
        if task.dusty:
            over = self._wet.over(start, end + self._settling, 0)
            if over is not None:
                return InTheWay(*over, self._settling)
        for apart, after in task.apart_for:
            taken = (self._kept_out if apart.keeps_out else self._keep_out).get(apart.kind)
            over = None if taken is None else taken.over(start, end + after, 0)
            if over is not None:
                return InTheWay(*over, after)
            if apart.alone:  # the next coat of one's own in one go begins at once: both are cleaned up after together
                for name, level in self._alone.get(apart.kind, {}).items():
                    over = None if name == person else level.over(start, end + after, 0)
                    if over is not None:
                        return InTheWay(*over, after)
        wet = task.wet
        if wet is None:
            return None
        if wet.fit_for_dust is not None:
            over = self._sanding.over(start, self.until(wet.fit_for_dust, end), 0)
            if over is not None:
                return InTheWay(*over, 0, wet.fit_for_dust)
        lying = self._lying.get(task.name)
        if lying is None or lying[1] <= start:
            return self._on_rack(wet, start, end)
        self._hold(lying[0], start, lying[1], -1)  # what is coated next is taken off for that
        try:
            return self._on_rack(wet, start, end)
        finally:
            self._hold(lying[0], start, lying[1], 1)

    def _on_rack(self, wet: Wet, start: int, end: int) -> InTheWay | None:
        until = self._off_rack(wet, end)
        for taken, amount, capacity in zip(
            (self._places, self._hooks), (wet.places, wet.hooks), self._rack, strict=True
        ):
            over = taken.over(start, until, capacity - amount) if amount else None
            if over is not None:
                return InTheWay(*over, 0, wet.lifted)
        return None

    def _ended_by(self, taken: InTheWay) -> int:
        """Return by when a task has to end to be in the way of something no longer, before it."""
        return taken.since - taken.after if taken.rule is None else self.latest_end(taken.rule, taken.since)


def _sooner(best: tuple[int, Opening] | None, other: tuple[int, Opening]) -> tuple[int, Opening]:
    return other if best is None or other[0] < best[0] else best
