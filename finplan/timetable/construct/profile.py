"""How much of something is taken when: a level that steps up and down."""

from __future__ import annotations

from bisect import bisect_right


class Level:
    """A level over time, 0 before anything is taken."""

    def __init__(self) -> None:
        self._at = [-1]
        self._level = [0]

    def copy(self) -> Level:
        """Return the same, to be changed by itself."""
        copy = Level()
        copy._at, copy._level = self._at.copy(), self._level.copy()
        return copy

    def take(self, start: int, end: int, amount: int) -> None:
        """Take so much from *start* up to but without *end*; give it back with a negative amount."""
        if start >= end or not amount:
            return
        first, last = self._step(start), self._step(end)
        for index in range(first, last):
            self._level[index] += amount
        self._join(last)
        self._join(first)

    def over(self, start: int, end: int, limit: int) -> tuple[int, int] | None:
        """Return from when the level first is above a limit in a span, and until when it last is; None for never.

        Both may lie outside the span: a step that reaches into it counts as a whole.
        """
        moments, level = self._at, self._level
        first = last = -1
        index, steps = bisect_right(moments, start) - 1, len(moments)
        while index < steps and moments[index] < end:
            if level[index] > limit:
                last = index
                if first < 0:
                    first = index
            index += 1
        return None if first < 0 else (moments[first], moments[last + 1])

    def _step(self, at: int) -> int:
        """Return the index of the step that begins at a moment; one is made where there is none."""
        index = bisect_right(self._at, at) - 1
        if self._at[index] == at:
            return index
        self._at.insert(index + 1, at)
        self._level.insert(index + 1, self._level[index])
        return index + 1

    def _join(self, index: int) -> None:
        if 0 < index < len(self._at) and self._level[index] == self._level[index - 1]:
            del self._at[index], self._level[index]
