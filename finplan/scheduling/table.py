"""What one start asks of another: never less for a later one, and so sayable to a solver in few steps."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass


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


@dataclass(frozen=True, slots=True)
class Table:
    """``ys[i]`` for ``xs[i]``: xs rise, ys never fall."""

    xs: Sequence[int]
    ys: Sequence[int]

    def from_(self, low: int) -> int | None:
        """Return what the first x from *low* on asks; None where there is none."""
        index = bisect_left(self.xs, low)
        return self.ys[index] if index < len(self.ys) else None

    def up_to(self, high: int) -> int | None:
        """Return what the last x up to *high* asks; None where there is none."""
        index = bisect_right(self.xs, high)
        return self.ys[index - 1] if index else None

    def first_reaching(self, value: int) -> int | None:
        """Return the first x that asks at least *value*; None where none does."""
        index = bisect_left(self.ys, value)
        return self.xs[index] if index < len(self.xs) else None

    def last_keeping(self, value: int) -> int | None:
        """Return the last x that asks at most *value*; None where none does."""
        index = bisect_right(self.ys, value)
        return self.xs[index - 1] if index else None

    def within(self, low: int, high: int) -> Table:
        """Return the same for x between two bounds."""
        part = slice(bisect_left(self.xs, low), bisect_right(self.xs, high))
        return Table(self.xs[part], self.ys[part])


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
    >>> at_least(Table((0, 1, 2, 3), (4, 4, 4, 5)))
    Steps(shift=2, steps=((0, 4),))
    """
    if isinstance(table, Shift):
        return Steps(table.amount)
    shift = min(y - x for x, y in zip(table.xs, table.ys, strict=True))
    steps: list[tuple[int, int]] = []
    before = None
    for x, y in zip(table.xs, table.ys, strict=True):
        if y != before and y > x + shift:
            steps.append((x, y))
        before = y
    return Steps(shift, tuple(steps))


def at_most(table: Table | Shift) -> Steps:
    """Return how to say ``y <= table[x]``: ``y <= x + shift``, and a value below each threshold of x.

    Examples
    --------
    >>> at_most(Table((0, 1, 2, 3), (4, 4, 4, 9)))
    Steps(shift=6, steps=((3, 4),))
    """
    if isinstance(table, Shift):
        return Steps(table.amount)
    shift = max(y - x for x, y in zip(table.xs, table.ys, strict=True))
    steps: list[tuple[int, int]] = []
    for index, (x, y) in enumerate(zip(table.xs, table.ys, strict=True)):
        following = index + 1 if index + 1 < len(table.xs) else None
        if (following is None or table.ys[following] != y) and y < x + shift:
            steps.append((x + 1 if following is None else table.xs[following], y))
    return Steps(shift, tuple(steps))
