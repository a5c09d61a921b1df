"""Where an activity can start in a mode, and where it then ends: looked up, cut and shared without being copied."""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise


@dataclass(frozen=True, slots=True)
class Ends:
    """The points at which an activity can start in a mode, in order, each with the slot at which it ends.

    Both are views of whole tables, which all activities that take the same time in the same hours share.

    Examples
    --------
    >>> ends = Ends.of([(3, 5), (4, 6), (9, 11)])
    >>> ends[4], len(ends.between(4, 8)), len(ends.first(2))
    (6, 1, 2)
    """

    starts: memoryview[int]
    slots: memoryview[int]

    @classmethod
    def of(cls, pairs: Sequence[tuple[int, int]]) -> Ends:
        """Return starts with their ends, from pairs in order of the start."""
        starts, slots = zip(*pairs, strict=True) if pairs else ((), ())
        return cls(memoryview(array("q", starts)), memoryview(array("q", slots)))

    def __len__(self) -> int:
        return len(self.starts)

    def __getitem__(self, start: int) -> int:
        """Return the slot of the end; *start* is one of the starts."""
        return self.slots[bisect_left(self.starts, start)]

    def pairs(self) -> Iterator[tuple[int, int]]:
        """Give every start with its end."""
        return zip(self.starts, self.slots, strict=True)

    def first(self, count: int) -> Ends:
        """Return the first so many."""
        return self._cut(0, count)

    def between(self, low: int, high: int) -> Ends:
        """Return those that start from *low* up to *high*."""
        return self._cut(bisect_left(self.starts, low), bisect_right(self.starts, high))

    def _cut(self, begin: int, end: int) -> Ends:
        return self if end - begin == len(self) else Ends(self.starts[begin:end], self.slots[begin:end])


class Merging:
    """The ends of several modes as one; those of the same modes are worked out once."""

    def __init__(self) -> None:
        self._ends: dict[tuple[object, ...], tuple[Sequence[Ends], Ends | None]] = {}
        self._starts: dict[tuple[object, ...], tuple[Sequence[Ends], Sequence[int]]] = {}
        """By the identity of what was merged, which is therefore kept."""

    def starts(self, modes: Sequence[Ends]) -> Sequence[int]:
        """Return the starts of any mode, in order."""
        if len(modes) == 1:
            return modes[0].starts
        key = tuple(map(id, modes))
        if key not in self._starts:
            self._starts[key] = (modes, sorted({start for mode in modes for start in mode.starts}))
        return self._starts[key][1]

    def agreed(self, modes: Sequence[Ends]) -> Ends | None:
        """Return the ends of all modes as one where those that start together end together, the later never sooner."""
        return self._once("agreed", modes, lambda: _agreed(modes))

    def loosest(self, modes: Sequence[Ends], *, first: bool) -> Ends:
        """Return for every start the first end of any mode from it on, or the last of any up to it."""
        ends = self._once(first, modes, lambda: _loosest(modes, min if first else max, backwards=first))
        return _NONE if ends is None else ends

    def _once(self, what: object, modes: Sequence[Ends], merged: Callable[[], Ends | None]) -> Ends | None:
        key = (what, *map(id, modes))
        if key not in self._ends:
            self._ends[key] = (modes, merged())
        return self._ends[key][1]


_NONE = Ends.of(())


def _agreed(modes: Sequence[Ends]) -> Ends | None:
    if len(modes) == 1:
        return modes[0]
    together: dict[int, int] = {}
    if any(together.setdefault(start, end) != end for mode in modes for start, end in mode.pairs()):
        return None
    ends = [(start, together[start]) for start in sorted(together)]
    return Ends.of(ends) if all(sooner[1] <= later[1] for sooner, later in pairwise(ends)) else None


def _loosest(modes: Sequence[Ends], choose: Callable[[int, int], int], *, backwards: bool) -> Ends:
    ends: dict[int, int] = {}
    for mode in modes:
        for start, end in mode.pairs():
            ends[start] = choose(ends.get(start, end), end)
    starts = sorted(ends, reverse=backwards)
    loosest = list(zip(starts, accumulate((ends[start] for start in starts), choose), strict=True))
    return Ends.of(loosest[::-1] if backwards else loosest)
