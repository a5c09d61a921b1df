"""Hours of standard air added up over the real air, and when they come to so many."""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import islice
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Minutes = NDArray[np.float64]

_SAME_H = 1e-9
"""Sums of hours that differ by less are the same; else a coat dry at dusk would be dry next morning."""


class Dried:
    """How far something that goes on at a changing pace has come. Minutes are counted from the start of the table.

    Parameters
    ----------
    from_min
        Where each stretch of one pace begins: the first at 0
    rates
        The pace in each, against that in standard air
    end_min
        Where the last one ends
    """

    def __init__(self, from_min: Sequence[float], rates: Sequence[float], end_min: float) -> None:
        self._from_min = array("d", (*from_min, end_min))  # of a year of readings tuples would take four times as much
        self._gained_h = array("d", [0.0])
        gained_h = 0.0
        for begins, ends, rate in zip(from_min, islice(self._from_min, 1, None), rates, strict=True):
            gained_h += rate * (ends - begins) / 60
            self._gained_h.append(gained_h)

    @cached_property
    def _arrays(self) -> tuple[Minutes, Minutes, Minutes, Minutes]:
        """Where each stretch begins, what has been gained by then, how long it is, and what is gained in it."""
        import numpy as np

        from_min, gained_h = np.frombuffer(self._from_min), np.frombuffer(self._gained_h)
        return from_min, gained_h, np.diff(from_min), np.maximum(np.diff(gained_h), _SAME_H)

    def reached(self, start_min: float, hours: float) -> float | None:
        """Return the minute by which so many hours of standard air have passed since *start_min*.

        None where that lies beyond the table.
        """
        wanted_h = self.by(start_min) + hours
        piece = bisect_left(self._gained_h, wanted_h - _SAME_H)
        if piece == len(self._gained_h):
            return None
        if piece == 0:
            return start_min
        before_h, after_h = self._gained_h[piece - 1], self._gained_h[piece]
        begins, ends = self._from_min[piece - 1], self._from_min[piece]
        return max(start_min, begins + min((wanted_h - before_h) / (after_h - before_h), 1.0) * (ends - begins))

    def reached_each(self, starts_min: Minutes, hours: Minutes) -> Minutes:
        """Return ``reached`` for every one of many starts, each with hours of its own; infinite beyond the table."""
        import numpy as np

        from_min, gained_h, lasts_min, gains_h = self._arrays
        wanted_h = np.interp(starts_min, from_min, gained_h) + hours
        after = gained_h.searchsorted(wanted_h - _SAME_H, side="left")
        within = (after < len(gained_h)) & np.isfinite(starts_min)
        piece = np.minimum(np.maximum(after, 1), len(lasts_min)) - 1
        share = np.minimum((wanted_h - gained_h.take(piece)) / gains_h.take(piece), 1.0)
        reached_min = from_min.take(piece) + share * lasts_min.take(piece)
        return np.where(within, np.maximum(starts_min, reached_min), np.inf)

    def reached_in_turn(self, start_min: float, step_min: float, count: int, hours: float) -> Minutes:
        """Return ``reached`` for so many starts, each a step after the one before; infinite beyond the table."""
        import numpy as np

        starts_min = start_min + step_min * np.arange(count, dtype=np.float64)
        return self.reached_each(starts_min, np.full(count, hours))

    def by(self, minute: float) -> float:
        """Return the hours of standard air from the start of the table to a minute. [h]"""
        piece = min(max(bisect_right(self._from_min, minute) - 1, 0), len(self._gained_h) - 2)
        begins, ends = self._from_min[piece], self._from_min[piece + 1]
        share = min(max((minute - begins) / (ends - begins), 0.0), 1.0)
        return self._gained_h[piece] + share * (self._gained_h[piece + 1] - self._gained_h[piece])


def sustained(from_min: Sequence[float], rates: Iterable[float], hold_min: float) -> tuple[list[float], list[float]]:
    """Return stretches in which a pace counts only once it has not been slower for so long.

    What slows down does so at once, what quickens does so *hold_min* later.

    >>> sustained([0, 600, 1080], [0.5, 0.8, 0.5], 60)
    ([0, 660, 1080], [0.5, 0.8, 0.5])
    """
    ends = [*(begins + hold_min for begins in from_min[1:]), float("inf")]
    coming = deque(zip(from_min, rates, ends, strict=True))
    counting: deque[tuple[float, float]] = deque()
    """The paces of late and until when each counts, from slow to quick."""
    starts: list[float] = []
    slowest: list[float] = []
    for minute in sorted({*from_min, *ends[:-1]}):
        while coming and coming[0][0] <= minute:
            _, rate, until = coming.popleft()
            while counting and counting[-1][0] >= rate:
                counting.pop()
            counting.append((rate, until))
        while counting[0][1] <= minute:
            counting.popleft()
        if not slowest or counting[0][0] != slowest[-1]:
            starts.append(minute)
            slowest.append(counting[0][0])
    return starts, slowest
