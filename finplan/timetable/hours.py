"""A person's hours with the closed time left out: the n-th slot in which they are there, and back."""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Sequence

from finplan.scheduling import Slots


class Hours:
    """The open slots of a calendar, counted. Neighbouring stretches are one."""

    def __init__(self, spans: Sequence[Slots]) -> None:
        starts: list[int] = []
        self._ends: list[int] = []
        for span in spans:
            if self._ends and self._ends[-1] == span.start:
                self._ends[-1] = span.end
            else:
                starts.append(span.start)
                self._ends.append(span.end)
        self._starts = starts
        self._before, self._slots, self._stretch_ends = array("i"), array("i"), array("i")
        """By slot, how many are open before it; by number, which slot it is and where its stretch ends."""
        for start, end in zip(starts, self._ends, strict=True):
            count = len(self._slots)
            self._before.extend(array("i", (count,)) * (start - len(self._before)))
            self._before.extend(range(count, count + end - start))
            self._slots.extend(range(start, end))
            self._stretch_ends.extend(array("i", (len(self._slots),)) * (end - start))
        self.total = len(self._slots)
        """How many open slots there are."""
        self._known = len(self._before)
        self._begins = 0
        for start in starts:
            self._begins |= 1 << self._before[start]
        """At which numbers a stretch begins, as bits."""
        self._whole: dict[int, int] = {}

    def before(self, slot: int) -> int:
        """Return how many open slots begin before *slot*: the number of the first at or after it."""
        if 0 <= slot < self._known:
            return self._before[slot]
        return self.total if slot > 0 else 0

    def slot(self, number: int) -> int:
        """Return the slot that is the n-th open one."""
        return self._slots[number]

    def end(self, number: int, slots: int) -> int:
        """Return when so many open slots from the n-th on are over."""
        return self._slots[number + slots - 1] + 1 if slots else self._slots[number]

    def stretch_end(self, number: int) -> int:
        """Return the number of the first open slot after the stretch in which the n-th lies."""
        return self._stretch_ends[number]

    def whole(self, count: int) -> int:
        """Return from which numbers so many open slots lie in one stretch, as bits."""
        if count not in self._whole:
            torn, have = self._begins >> 1 if count > 1 else 0, 1
            while have < count - 1:
                step = min(have, count - 1 - have)
                torn |= torn >> step
                have += step
            self._whole[count] = ~torn & ((1 << max(0, self.total - count + 1)) - 1)
        return self._whole[count]

    def is_open(self, slot: int) -> bool:
        """Return whether a slot is open."""
        index = bisect_left(self._ends, slot + 1)
        return index < len(self._ends) and self._starts[index] <= slot
