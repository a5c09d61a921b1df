"""The axis on which a problem is solved: the slots in which something can start, one after another.

Where every mode follows a calendar, nothing starts and nothing that is worked on ends inside closed time, so closed
slots can be left out: of two activities one starts before the other ends exactly where it does so on the points.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from finplan.scheduling.ends import Ends
from finplan.scheduling.problem import Activity, Mode, Problem, Slots


@dataclass(frozen=True, slots=True)
class Axis:
    """The open slots in order, and the horizon as the last point."""

    points: Sequence[int]
    _after: Sequence[int] = field(init=False, repr=False, compare=False)
    """By slot, the index of the first point at or after it; every slot where each is a point."""

    def __post_init__(self) -> None:
        import numpy as np

        after: Sequence[int] = self.points
        if not isinstance(after, range):
            points = np.array([-1, *self.points], np.intc)
            numbers = np.arange(len(self.points), dtype=np.intc)
            after = array("i", np.repeat(numbers, points[1:] - points[:-1]).tobytes())
        object.__setattr__(self, "_after", after)

    @property
    def end(self) -> int:
        """The index of the horizon."""
        return len(self.points) - 1

    def at_or_after(self, slot: int) -> int:
        """Return the index of the first point at or after a slot; past the horizon, one more than the last."""
        if slot < 0:
            return 0
        return self._after[slot] if slot < len(self._after) else len(self.points)

    def at_or_before(self, slot: int) -> int:
        """Return the index of the last point at or before a slot; -1 for none."""
        index = self.at_or_after(slot)
        return index if index < len(self.points) and self.points[index] == slot else index - 1


def axis_of(problem: Problem, *, to_the_end: bool = False) -> Axis:
    """Return the axis of a problem: the slots that any calendar in use opens, all of them where a mode follows none.

    Parameters
    ----------
    problem
        The problem
    to_the_end
        Whether the latest end counts. What is worked on ends right after an open slot; where something else could end
        in closed time, only the axis of all slots tells which end is the later
    """
    import numpy as np

    modes = [mode for activity in problem.activities for mode in activity.modes]
    unworked = to_the_end and any(callable(mode.duration) or mode.duration == 0 for mode in modes)
    if not modes or unworked or any(mode.calendar is None for mode in modes):
        return Axis(range(problem.horizon + 1))
    used = {mode.calendar for mode in modes if mode.calendar is not None}
    is_open = np.zeros(problem.horizon, bool)
    for name in used:
        for span in problem.calendars[name]:
            is_open[max(0, span.start) : max(0, span.end)] = True
    return Axis([*np.flatnonzero(is_open).tolist(), problem.horizon])


class Clock:
    """When work that starts at a slot ends, in one calendar."""

    def __init__(self, problem: Problem, calendar: str | None) -> None:
        spans = (Slots(0, problem.horizon),) if calendar is None else problem.calendars[calendar]
        self.stretches = [
            Slots(max(0, span.start), min(span.end, problem.horizon))
            for span in _joined(spans)
            if span.end > 0 and span.start < problem.horizon
        ]
        """The open slots, in stretches that do not touch."""
        self._ends = [span.end for span in self.stretches]
        self._worked = [0]
        for span in self.stretches:
            self._worked.append(self._worked[-1] + span.end - span.start)

    def end(self, start: int, mode: Mode) -> int | None:
        """Return when an activity that starts at a slot ends in a mode; None where it cannot start there."""
        index = bisect_right(self._ends, start)
        opened = index < len(self.stretches) and self.stretches[index].start <= start
        if mode.duration == 0 and mode.calendar is None:
            return start
        if not opened:
            return None
        if callable(mode.duration):
            return mode.duration(start)
        if start + mode.duration <= self._ends[index]:
            return start + mode.duration
        if not mode.pausable:
            return None
        done = self._worked[index] + start - self.stretches[index].start + mode.duration
        last = bisect_left(self._worked, done) - 1
        if last >= len(self.stretches):
            return None
        return self.stretches[last].start + done - self._worked[last]

    def after_breaks(self, index: int, first: int, last: int, length: int) -> Iterator[tuple[int, int, int]]:
        """Give when work ends that starts in a stretch and goes on after it.

        Parameters
        ----------
        index
            Of the stretch
        first, last
            It starts from the one slot up to but without the other
        length
            How long it takes. [slots]

        Yields
        ------
        tuple[int, int, int]
            A start, its end, and how many starts from it on end each a slot after the one before. Those whose work is
            not over by the horizon are left out
        """
        start = first
        while start < last:
            done = self._worked[index] + start - self.stretches[index].start + length
            ends_in = bisect_left(self._worked, done) - 1
            if ends_in >= len(self.stretches):
                return
            count = min(last - start, self._worked[ends_in + 1] - done + 1)
            yield start, self.stretches[ends_in].start + done - self._worked[ends_in], count
            start += count


def _joined(spans: Sequence[Slots]) -> list[Slots]:
    joined: list[Slots] = []
    for span in spans:
        if joined and joined[-1].end == span.start:
            joined[-1] = Slots(joined[-1].start, span.end)
        else:
            joined.append(span)
    return joined


def ends_by_start(activity: Activity, mode: Mode, clock: Clock, axis: Axis) -> Ends:
    """Return the points at which an activity can start in a mode, in order, each with the slot at which it ends."""
    horizon, length = axis.points[-1], mode.duration
    first = max(0, activity.earliest)
    last = horizon if activity.latest is None else min(activity.latest, horizon)
    spans = activity.starts if activity.starts is not None else (Slots(0, horizon + 1),)
    starts, slots = array("q"), array("q")
    if mode.calendar is None and isinstance(length, int):
        for begin, end in _overlaps(spans, first, min(last, horizon - length) + 1):
            starts.extend(range(begin, end))
            slots.extend(range(begin + length, end + length))
        return Ends(memoryview(starts), memoryview(slots))
    for index, stretch in enumerate(clock.stretches):
        for begin, end in _overlaps(spans, max(stretch.start, first), min(stretch.end, last + 1)):
            point = axis.at_or_after(begin)  # and so on: every slot of an open stretch is a point
            if isinstance(length, int):
                paused = max(begin, min(end, stretch.end - length + 1))  # the first that does not end in the stretch
                starts.extend(range(point, point + paused - begin))
                slots.extend(range(begin + length, paused + length))
                for start, ended, count in clock.after_breaks(index, paused, end, length) if mode.pausable else ():
                    starts.extend(range(point + start - begin, point + start - begin + count))
                    slots.extend(range(ended, ended + count))
                continue
            for start in range(begin, end):
                over = clock.end(start, mode)
                if over is not None and over <= horizon:
                    starts.append(point + start - begin)
                    slots.append(over)
    return Ends(memoryview(starts), memoryview(slots))


def _overlaps(spans: Sequence[Slots], begin: int, end: int) -> Iterator[tuple[int, int]]:
    """Give what of spans lies between two slots."""
    for index in range(bisect_right(spans, begin, key=lambda span: span.end), len(spans)):
        if spans[index].start >= end:
            return
        yield max(begin, spans[index].start), min(end, spans[index].end)
