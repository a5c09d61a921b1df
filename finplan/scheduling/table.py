"""What one start asks of another: never less for a later one, and so sayable to a solver in few steps."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import zip_longest


@dataclass(frozen=True, slots=True)
class Shift:
    """``x + amount`` for every x."""

    amount: int

    def from_(self, low: int) -> int | None:
        """Return what the first x from *low* on asks."""
        return low + self.amount

    def up_to(self, high: int) -> int | None:
        """Return what the last x up to *high* asks."""
        return high + self.amount

    def first_reaching(self, value: int) -> int | None:
        """Return the first x that asks at least *value*."""
        return value - self.amount

    def last_keeping(self, value: int) -> int | None:
        """Return the last x that asks at most *value*."""
        return value - self.amount

    def within(self, low: int, high: int) -> Shift:
        """Return the same for x between two bounds."""
        return self


class Table:
    """What is asked for each of several x: ``ys`` never fall. Nothing is worked out before it is wanted."""

    def __init__(self, xs: Sequence[int], value: Callable[[int], int]) -> None:
        self.xs = xs
        self._value = value
        self._known: dict[int, int] = {}

    def __getitem__(self, x: int) -> int:
        """Return what x asks."""
        if x not in self._known:
            self._known[x] = self._value(x)
        return self._known[x]

    @property
    def ys(self) -> list[int]:
        """What all of them ask."""
        return [self[x] for x in self.xs]

    def from_(self, low: int) -> int | None:
        """Return what the first x from *low* on asks; None where there is none."""
        index = bisect_left(self.xs, low)
        return self[self.xs[index]] if index < len(self.xs) else None

    def up_to(self, high: int) -> int | None:
        """Return what the last x up to *high* asks; None where there is none."""
        index = bisect_right(self.xs, high)
        return self[self.xs[index - 1]] if index else None

    def first_reaching(self, value: int) -> int | None:
        """Return the first x that asks at least *value*; None where none does."""
        index = bisect_left(self.xs, value, key=self.__getitem__)
        return self.xs[index] if index < len(self.xs) else None

    def last_keeping(self, value: int) -> int | None:
        """Return the last x that asks at most *value*; None where none does."""
        index = bisect_right(self.xs, value, key=self.__getitem__)
        return self.xs[index - 1] if index else None

    def within(self, low: int, high: int) -> Table:
        """Return the same for x between two bounds."""
        return Table(self.xs[bisect_left(self.xs, low) : bisect_right(self.xs, high)], self.__getitem__)


@dataclass(frozen=True, slots=True)
class Steps:
    """How to say a table: a bound that moves with x, and fixed ones that hold from (or below) a threshold of x."""

    shift: int
    steps: tuple[tuple[int, int], ...] = ()
    """Threshold of x, bound of y."""


def at_least(table: Table | Shift) -> Steps:
    """Return how to say ``y >= table[x]``: ``y >= x + shift``, and a value from each threshold of x on.

    Examples
    --------
    >>> at_least(Table((0, 1, 2, 3), (4, 4, 4, 5).__getitem__))
    Steps(shift=2, steps=((0, 4),))
    """
    if isinstance(table, Shift):
        return Steps(table.amount)
    points = list(zip(table.xs, table.ys, strict=True))
    shift = min(y - x for x, y in points)
    steps: list[tuple[int, int]] = []
    before = None
    for x, y in points:
        if y != before and y > x + shift:
            steps.append((x, y))
        before = y
    return Steps(shift, tuple(steps))


def at_most(table: Table | Shift) -> Steps:
    """Return how to say ``y <= table[x]``: ``y <= x + shift``, and a value below each threshold of x.

    Examples
    --------
    >>> at_most(Table((0, 1, 2, 3), (4, 4, 4, 9).__getitem__))
    Steps(shift=6, steps=((3, 4),))
    """
    if isinstance(table, Shift):
        return Steps(table.amount)
    points = list(zip(table.xs, table.ys, strict=True))
    shift = max(y - x for x, y in points)
    steps: list[tuple[int, int]] = []
    for (x, y), following in zip_longest(points, points[1:]):
        if (following is None or following[1] != y) and y < x + shift:
            steps.append((x + 1 if following is None else following[0], y))
    return Steps(shift, tuple(steps))
