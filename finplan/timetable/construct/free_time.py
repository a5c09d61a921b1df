"""What of a person's open slots is not taken, as the bits of one number: where work fits is found in a few steps."""

from __future__ import annotations

from finplan.timetable.hours import Hours


class FreeTime:
    """The open slots of a person that are not taken, all of them before anything is."""

    def __init__(self, hours: Hours) -> None:
        self.hours = hours
        self.is_taken_twice = False
        """Whether ever was taken what was taken already."""
        self._free = (1 << hours.total) - 1

    def copy(self) -> FreeTime:
        """Return the same, to be changed by itself."""
        copy = object.__new__(FreeTime)
        copy.hours, copy.is_taken_twice, copy._free = self.hours, self.is_taken_twice, self._free
        return copy

    def take(self, number: int, count: int) -> None:
        """Take so many slots from the n-th open one on."""
        bits = ((1 << count) - 1) << number
        self.is_taken_twice = self.is_taken_twice or self._free & bits != bits
        self._free &= ~bits

    def give_back(self, number: int, count: int) -> None:
        """Give back what was taken."""
        self._free |= ((1 << count) - 1) << number

    def is_free(self, number: int, count: int) -> bool:
        """Return whether so many slots from the n-th open one on are free, and so many are left."""
        bits = (1 << count) - 1
        return (self._free >> number) & bits == bits

    def starts(self, first: int, last: int, slots: int, clean: int, *, pauses: bool, at_once: int) -> int:
        """Return where work can begin between two numbers, as bits of which the lowest is that of *first*.

        Parameters
        ----------
        first, last
            Of the first and the last slot in question among the open ones
        slots
            How long the work takes
        clean
            How much more is taken after it
        pauses
            Whether it goes on after a break
        at_once
            How much of what is taken after it comes before the next break
        """
        count, needed = last - first + 1, slots + clean
        runs = _runs((self._free >> first) & ((1 << (count + needed - 1)) - 1), needed)
        whole = self.hours.whole(1 + at_once if pauses else slots + at_once)
        return runs & (whole >> (first + slots - 1 if pauses else first)) & ((1 << count) - 1)


def _runs(bits: int, length: int) -> int:
    """Return the bits from which on so many in a row are set.

    >>> bin(_runs(0b1110111, 3)), bin(_runs(0b11111, 4))
    ('0b10001', '0b11')
    """
    have = 1
    while have < length:
        step = min(have, length - have)
        bits &= bits >> step
        have += step
    return bits
