"""What is in the way of a start in many draws at once: hours, and stretches in which something was so."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from finplan.scheduling import Slots

Draws = NDArray[np.float64]
"""One value for each draw."""
Which = NDArray[np.intp]
"""The numbers of some of the draws."""
_MANY = 16
"""Room for so many stretches at first, and for twice as many whenever that is too little."""


_FEW = 8_000
"""Of fewer moments those before another are counted one by one."""


class Starts:
    """Stretches in which something can begin: at the first and at the last moment of each, and at all between."""

    def __init__(self, begins: Draws, lasts: Draws) -> None:
        self._begins, self._lasts = begins, lasts
        self._begins_or_never = np.append(begins, math.inf)

    def next(self, minute: Draws) -> Draws:
        """Return the first minute from one on at which it can begin; infinite for never."""
        later: Draws = np.maximum(minute, self._begins_or_never[self._lasts.searchsorted(minute, side="left")])
        return later

    def both(self, other: Starts) -> Starts:
        """Return the stretches in which something else can begin too."""
        begins = self._begins[other._holds(self._begins)], other._begins[self._holds(other._begins)]
        lasts = self._lasts[other._holds(self._lasts)], other._lasts[self._holds(other._lasts)]
        return Starts(np.unique(np.concatenate(begins)), np.unique(np.concatenate(lasts)))

    def _holds(self, moments: Draws) -> NDArray[np.bool_]:
        """Return which moments lie in one of the stretches."""
        held: NDArray[np.bool_] = self._begins_or_never[self._lasts.searchsorted(moments, side="left")] <= moments
        return held


class Open:
    """When one person works, and for how long since the beginning."""

    def __init__(self, spans: Sequence[Slots], slot_min: int) -> None:
        self._begins = np.array([span.start * slot_min for span in spans], float)
        self._ends = np.array([span.end * slot_min for span in spans], float)
        self._worked = np.concatenate([[0.0], np.cumsum(self._ends - self._begins)])
        self.starts = cache(self._starts)
        """As ``_starts``: the same is asked again and again."""

    def _starts(self, needed_min: float) -> Starts:
        """Return when so much can be begun that is worked in one go."""
        long = (self._ends - self._begins >= needed_min).nonzero()[0]
        ends = self._ends[long]
        return Starts(self._begins[long], ends - needed_min if needed_min else np.nextafter(ends, -math.inf))

    def end(self, start: Draws, work_min: Draws) -> Draws:
        """Return when work is done that begins in working time and pauses over breaks."""
        index = np.maximum(self._begins.searchsorted(start, side="right") - 1, 0)
        done = self._worked[index] + np.minimum(start, self._ends[-1]) - self._begins[index] + work_min
        last = self._worked.searchsorted(done - 1e-9, side="left") - 1
        stretch = np.minimum(last, len(self._begins) - 1)
        ended = self._begins[stretch] + done - self._worked[stretch]
        return np.where((last == stretch) & np.isfinite(start), ended, math.inf)


class Taken:
    """Stretches, in every draw some of them."""

    def __init__(self, draws: int) -> None:
        self._begins = np.empty((0, draws))
        """Of each draw, a column, when they begin, in order, and then without end."""
        self._over = np.empty((0, draws))
        """When the last of those that begin up to one ends."""
        self._most = 0
        self._past = 0
        """How many of the first of every draw are never asked for again."""
        self._count = np.zeros(draws, np.intp)
        self._last_begin, self._last_end = np.full(draws, -math.inf), np.full(draws, -math.inf)
        """When the last of each draw begins, and when all of them are over: most of what is asked comes after it."""

    def add(self, begins: Draws, ends: Draws, draws: Which) -> None:
        """Add a stretch in some draws."""
        self._count[draws] += 1
        self._most = max(self._most, int(self._count[draws].max()))
        self._make_room()
        comes_last = begins >= self._last_begin[draws]
        self._last_begin[draws] = np.maximum(self._last_begin[draws], begins)
        self._last_end[draws] = np.maximum(self._last_end[draws], ends)
        self._append(begins[comes_last], ends[comes_last], draws[comes_last])
        between = ~comes_last
        if between.any():
            self._insert(begins[between], ends[between], draws[between])

    def forget(self, minute: float) -> None:
        """Forget what is over by a minute in every draw: nothing begins before it any more."""
        there = int(self._count.min())
        while self._past < there and self._over[self._past].max() <= minute:
            self._past += 1

    def _append(self, begins: Draws, ends: Draws, draws: Which) -> None:
        at = self._count[draws] - 1
        before = np.where(at > 0, self._over[at - 1, draws], -math.inf)
        self._begins[at, draws] = begins
        self._over[at, draws] = np.maximum(before, ends)

    def _insert(self, begins: Draws, ends: Draws, draws: Which) -> None:
        at = self._begun_by(begins, draws)
        later = self._count[draws] - 1 - at
        first = np.cumsum(later) - later
        row = np.arange(later.sum()) + np.repeat(at - first, later)
        column = np.repeat(draws, later)
        self._begins[row + 1, column] = self._begins[row, column]
        self._over[row + 1, column] = np.maximum(self._over[row, column], np.repeat(ends, later))
        before = np.where(at > 0, self._over[at - 1, draws], -math.inf)
        self._begins[at, draws] = begins
        self._over[at, draws] = np.maximum(before, ends)

    def may_be_in_the_way(self, start: Draws, draws: Which) -> bool:
        """Return whether anything is over only after a start in one of some draws."""
        return bool((start < self._last_end[draws]).any())

    def clear(self, start: Draws, end: Draws, least_min: Draws, draws: Which) -> Draws:
        """Return the start in some draws, moved behind all that lies in the way of what would begin there.

        Behind all of it at once, and again, as long as what begins there and takes *least_min* at least has something
        in its way: whatever the order, it could begin no sooner.
        """
        left = (start < self._last_end[draws]).nonzero()[0]
        if not len(left):
            return start
        those = draws[left]
        begun = self._begun_by(end[left], those)
        over = np.where(begun > 0, self._over[begun - 1, those], -math.inf)
        moved = (over > start[left]).nonzero()[0]
        if not len(moved):
            return start
        left, start = left[moved], start.copy()
        start[left] = self._free_after(begun[moved], over[moved], least_min[left], those[moved])
        return start

    def _free_after(self, begun: Which, over: Draws, least_min: Draws, draws: Which) -> Draws:
        """Return when there is so much room first, in some draws, once all is over that begins up to one.

        Of few all that begin later are looked at at once, which takes fewer steps.
        """
        if (self._most - self._past) * len(draws) <= _FEW:
            first = int(begun.min())
            overs = self._over[first - 1 : self._most, draws]
            has_room = self._begins[first : self._most + 1, draws] >= overs + least_min
            has_room &= np.arange(first, self._most + 1)[:, None] >= begun
            freed: Draws = overs[has_room.argmax(axis=0), np.arange(len(draws))]
            return freed
        over, left = over.copy(), np.arange(len(draws))
        while len(left):
            those = draws[left]
            before = over[left]
            after = self._over[self._begun_by(before + least_min[left], those) - 1, those]
            over[left] = after
            left = left[after > before]
        return over

    def _begun_by(self, moment: Draws, draws: Which) -> Which:
        """Return how many begin before a moment, in some draws: all that is forgotten, and by halves of the rest.

        Of few they are counted, which takes fewer steps.
        """
        if (self._most - self._past) * len(draws) <= _FEW:
            before = self._begins[self._past : self._most, draws] < moment
            counted: Which = self._past + before.sum(axis=0, dtype=np.intp)
            return counted
        begins, columns = self._begins.ravel(), self._begins.shape[1]
        last = draws + (self._past - 1) * columns  # the place of the last that does
        step = 1 << (self._most - self._past).bit_length() >> 1
        while step:
            last = last + (begins[last + step * columns] < moment) * (step * columns)
            step >>= 1
        return (last - draws) // columns + 1

    def _make_room(self) -> None:
        """Make room for one more than there are in any draw, so that by halves nothing is looked up beyond the last."""
        if 2 * self._most - self._past >= len(self._begins) - 1:
            more = max(_MANY, len(self._begins)), self._begins.shape[1]
            self._begins = np.concatenate([self._begins, np.full(more, math.inf)])
            self._over = np.concatenate([self._over, np.full(more, -math.inf)])
