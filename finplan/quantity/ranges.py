"""A value with its spread, and sums of such."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """A value with its spread; the unit stands in the name of the field that holds it."""

    low: float
    """The low end: the 5th percentile of what is reckoned."""
    typical: float
    """The middle: the 50th."""
    high: float
    """The high end: the 95th."""

    def scaled(self, factor: float) -> Range:
        """Return the range with every value multiplied by *factor*."""
        return Range(self.low * factor, self.typical * factor, self.high * factor)

    def plus(self, other: Range) -> Range:
        """Return the sum of two ranges whose values rise and fall together."""
        return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)

    def greater(self, other: Range) -> Range:
        """Return of each value the greater one: how long it takes where the slower of two things says it.

        >>> Range(1.0, 2.0, 5.0).greater(Range(2.0, 3.0, 4.0))
        Range(low=2.0, typical=3.0, high=5.0)
        """
        return Range(max(self.low, other.low), max(self.typical, other.typical), max(self.high, other.high))

    @staticmethod
    def total(ranges: Iterable[Range]) -> Range:
        """Return the sum of ranges whose values rise and fall together."""
        low = typical = high = 0.0
        for range_ in ranges:
            low, typical, high = low + range_.low, typical + range_.typical, high + range_.high
        return Range(low, typical, high)

    @staticmethod
    def time_for(amount: float, speed: Range) -> Range:
        """Return how long *amount* takes at a speed: least at the highest.

        >>> Range.time_for(2.0, Range(2.0, 4.0, 8.0))
        Range(low=0.25, typical=0.5, high=1.0)
        """
        return Range(amount / speed.high, amount / speed.typical, amount / speed.low)


NOTHING = Range(0.0, 0.0, 0.0)
"""Of whatever there is none of."""
