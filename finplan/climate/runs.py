"""Stretches of time in which something holds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Runs:
    """Stretches of minutes that do not meet, in order: each from one of ``starts`` until before its end."""

    starts: tuple[float, ...]
    ends: tuple[float, ...]

    @classmethod
    def of(cls, stretches: Iterable[tuple[float, float]]) -> Runs:
        """Return stretches that come in order and do not overlap, those that touch joined.

        >>> Runs.of([(0, 60), (60, 90), (120, 150)])
        Runs(starts=(0, 120), ends=(90, 150))
        """
        starts: list[float] = []
        ends: list[float] = []
        for start, end in stretches:
            if ends and start <= ends[-1]:
                ends[-1] = end
            else:
                starts.append(start)
                ends.append(end)
        return cls(tuple(starts), tuple(ends))

    def stretches(self) -> Iterator[tuple[float, float]]:
        """Give every stretch: from which minute, until before which."""
        return zip(self.starts, self.ends, strict=True)

    def next_from(self, minute: float) -> tuple[float, float] | None:
        """Return the stretch around *minute*, else the next one after it.

        >>> Runs((0, 120), (90, 150)).next_from(90)
        (120, 150)
        """
        index = bisect_right(self.ends, minute)
        return (self.starts[index], self.ends[index]) if index < len(self.ends) else None
