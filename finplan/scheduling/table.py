"""What one start asks of another: never less for a later one, and so sayable to a solver in few steps."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Offset:
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

    def within(self, low: int, high: int) -> Offset:
        """Return the same for x between two bounds."""
        return self


class Table:
    """What is asked for each of several x: what follows from ``of``, by default x itself, and never falls.

    Nothing is worked out before it is wanted, and of two that are the same it is worked out once; *known* may be shared
    by tables of one *value*.
    """

    def __init__(
        self,
        xs: Sequence[int],
        value: Callable[[int], int],
        of: Sequence[int] | None = None,
        known: dict[int, int] | None = None,
    ) -> None:
        self.xs = xs
        self._of = xs if of is None else of
        self._value = value
        self._known = {} if known is None else known

    def _at(self, index: int) -> int:
        of = self._of[index]
        if of not in self._known:
            self._known[of] = self._value(of)
        return self._known[of]

    @property
    def ys(self) -> list[int]:
        """What all of them ask."""
        known, value = self._known, self._value
        for of in self._of:
            if of not in known:
                known[of] = value(of)
        return [known[of] for of in self._of]

    def from_(self, low: int) -> int | None:
        """Return what the first x from *low* on asks; None where there is none."""
        index = bisect_left(self.xs, low)
        return self._at(index) if index < len(self.xs) else None

    def up_to(self, high: int) -> int | None:
        """Return what the last x up to *high* asks; None where there is none."""
        index = bisect_right(self.xs, high)
        return self._at(index - 1) if index else None

    def first_reaching(self, value: int) -> int | None:
        """Return the first x that asks at least *value*; None where none does."""
        index = bisect_left(range(len(self.xs)), value, key=self._at)
        return self.xs[index] if index < len(self.xs) else None

    def last_keeping(self, value: int) -> int | None:
        """Return the last x that asks at most *value*; None where none does."""
        index = bisect_right(range(len(self.xs)), value, key=self._at)
        return self.xs[index - 1] if index else None

    def within(self, low: int, high: int) -> Table:
        """Return the same for x between two bounds."""
        begin, end = bisect_left(self.xs, low), bisect_right(self.xs, high)
        if begin == 0 and end == len(self.xs):
            return self
        return Table(self.xs[begin:end], self._value, self._of[begin:end], self._known)


@dataclass(frozen=True, slots=True)
class Ramp:
    """From one threshold of x up to but without another, a bound of y that moves with x."""

    start: int
    end: int
    shift: int


@dataclass(frozen=True, slots=True)
class TableWords:
    """How to say a table: a bound of y that moves with x everywhere, steps, and ramps between thresholds of x.

    A step is a threshold of x and a bound of y: it holds from the threshold on where y is bounded from below, and below
    the threshold where y is bounded from above.
    """

    shift: int
    steps: tuple[tuple[int, int], ...] = ()
    ramps: tuple[Ramp, ...] = ()


def at_least(table: Table | Offset) -> TableWords:
    """Return how to say ``y >= table[x]``.

    Examples
    --------
    >>> at_least(Table((0, 1, 2, 3), (4, 4, 4, 5).__getitem__))
    TableWords(shift=2, steps=((0, 4),), ramps=())
    """
    if isinstance(table, Offset):
        return TableWords(table.amount)
    points = list(zip(table.xs, table.ys, strict=True))
    shift = min(y - x for x, y in points)
    steps: list[tuple[int, int]] = []
    ramps: list[Ramp] = []
    for run, following in _runs(points):
        x, y = run[0]
        if y > x + shift:
            steps.append((x, y))
        if run[-1][1] > y and y > x + shift:
            ramps.append(Ramp(x, run[-1][0] + 1 if following is None else following, y - x))
    return TableWords(shift, tuple(steps), tuple(ramps))


def at_most(table: Table | Offset) -> TableWords:
    """Return how to say ``y <= table[x]``.

    Examples
    --------
    >>> at_most(Table((0, 1, 2, 3), (4, 4, 4, 9).__getitem__))
    TableWords(shift=6, steps=((3, 4),), ramps=())
    """
    if isinstance(table, Offset):
        return TableWords(table.amount)
    points = list(zip(table.xs, table.ys, strict=True))
    shift = max(y - x for x, y in points)
    steps: list[tuple[int, int]] = []
    ramps: list[Ramp] = []
    for run, following in _runs(points):
        x, y = run[-1]
        end = x + 1 if following is None else following
        if y < x + shift:
            steps.append((end, y))
        if run[0][1] < y and y < x + shift:
            ramps.append(Ramp(run[0][0], end, y - x))
    return TableWords(shift, tuple(steps), tuple(ramps))


def _runs(points: list[tuple[int, int]]) -> Iterator[tuple[list[tuple[int, int]], int | None]]:
    """Give the runs of a table in which y stands still or moves with x, each with the x at which the next begins."""
    begin = 0
    while begin < len(points):
        x, y = points[begin]
        level = ramp = begin + 1
        while level < len(points) and points[level][1] == y:
            level += 1
        while ramp < len(points) and points[ramp][1] - points[ramp][0] == y - x:
            ramp += 1
        end = max(level, ramp)
        yield points[begin:end], points[end][0] if end < len(points) else None
        begin = end
