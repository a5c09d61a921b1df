"""A person's hours with the closed time left out: the n-th slot in which they are there, and back."""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Sequence
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING

from finplan.scheduling import Slots

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Hours:
    """The open slots of a calendar, counted. Neighbouring stretches are one."""

    def __init__(self, spans: Sequence[Slots]) -> None:
        import numpy as np

        starts: list[int] = []
        self._ends: list[int] = []
        for span in spans:
            if self._ends and self._ends[-1] == span.start:
                self._ends[-1] = span.end
            else:
                starts.append(span.start)
                self._ends.append(span.end)
        self._starts = starts
        first, lengths = np.array(starts, np.intc), np.array(self._ends, np.intc) - np.array(starts, np.intc)
        numbers = np.cumsum(lengths, dtype=np.intc) - lengths
        slots = np.arange(lengths.sum(), dtype=np.intc) + np.repeat(first - numbers, lengths)
        is_open = np.zeros(self._ends[-1] if starts else 0, np.intc)
        is_open[slots] = 1
        self._before = _array(np.cumsum(is_open, dtype=np.intc) - is_open)
        """By slot, how many are open before it."""
        self._slots = _array(slots)
        """By number, which slot it is."""
        self.total = len(self._slots)
        """How many open slots there are."""
        self._known = len(self._before)
        self._begins = sum(1 << number for number in numbers.tolist())
        """At which numbers a stretch begins, as bits."""
        self._whole: dict[int, int] = {}
        self._within: dict[tuple[Slots, ...], int] = {}

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

    def within(self, stretches: tuple[Slots, ...]) -> int:
        """Return which open slots lie in one of some stretches, as bits."""
        if stretches not in self._within:
            ends = ((self.before(stretch.start), self.before(stretch.end)) for stretch in stretches)
            self._within[stretches] = reduce(or_, (((1 << (end - first)) - 1) << first for first, end in ends), 0)
        return self._within[stretches]

    def is_open(self, slot: int) -> bool:
        """Return whether a slot is open."""
        index = bisect_left(self._ends, slot + 1)
        return index < len(self._ends) and self._starts[index] <= slot


def _array(numbers: NDArray[np.intc]) -> array[int]:
    """Return numbers as what is quickly asked for one of them."""
    return array("i", numbers.tobytes())
