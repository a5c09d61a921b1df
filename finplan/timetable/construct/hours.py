"""A person's hours with the closed time left out: the n-th slot in which they are there, and back."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
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
        self._counts = [0]
        """How many open slots come before each stretch."""
        for start, end in zip(starts, self._ends, strict=True):
            self._counts.append(self._counts[-1] + end - start)

    @property
    def total(self) -> int:
        """How many open slots there are."""
        return self._counts[-1]

    def before(self, slot: int) -> int:
        """Return how many open slots begin before *slot*: the number of the first at or after it."""
        index = bisect_right(self._starts, slot) - 1
        if index < 0:
            return 0
        return self._counts[index] + min(slot, self._ends[index]) - self._starts[index]

    def slot(self, number: int) -> int:
        """Return the slot that is the n-th open one."""
        index = bisect_right(self._counts, number) - 1
        return self._starts[index] + number - self._counts[index]

    def end(self, number: int, slots: int) -> int:
        """Return when so many open slots from the n-th on are over."""
        return self.slot(number + slots - 1) + 1 if slots else self.slot(number)

    def stretch_end(self, number: int) -> int:
        """Return the number of the first open slot after the stretch in which the n-th lies."""
        return self._counts[bisect_right(self._counts, number)]

    def is_open(self, slot: int) -> bool:
        """Return whether a slot is open."""
        index = bisect_left(self._ends, slot + 1)
        return index < len(self._ends) and self._starts[index] <= slot
