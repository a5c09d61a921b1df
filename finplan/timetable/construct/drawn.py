"""Orders of what comes first that are drawn at random, each tried as a plan: what no rule puts in order is found so."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from random import Random
from typing import TypeVar

from finplan.timetable.construct.network import Task

_T = TypeVar("_T")
_SEED = 25
_LEAST, _MOST = 0.03, 1.0
"""By such a part of the time in question tasks are moved in their order, more or less."""
_FEW = (1, 1, 2, 3)
"""Of so many one is drawn where only a few are moved, items or tasks."""


class Moves:
    """By how much tasks are moved in their order.

    Notes
    -----
    All that is done to an item is moved together, since what lies on the rack is best taken further first; every other
    time each task by itself. That priorities drawn at random find what no rule does is old (Kolisch and Hartmann,
    "Heuristic algorithms for the resource-constrained project scheduling problem", 1999, from memory). The numbers of
    the generator are the same ones everywhere.
    """

    def __init__(self) -> None:
        self._random = Random(_SEED)  # noqa: S311 - no secret
        self._together = False

    def drawn(self, tasks: Iterable[Task], length: int) -> Mapping[str, float]:
        """Return by how much each task is moved, either way; *length*: of the time in question. [slots]"""
        self._together = not self._together
        by = length * self.part()
        moves: dict[tuple[str, ...], float] = {}
        by_task: dict[str, float] = {}
        for task in tasks:
            key = (task.piece, task.operation.item) if self._together else (task.name,)
            if key not in moves:
                moves[key] = (2 * self._random.random() - 1) * by
            by_task[task.name] = moves[key]
        return by_task

    def few(self, tasks: Iterable[Task], length: int) -> Mapping[str, float]:
        """Return by how much a few items or tasks are moved, each by its own part of the time; all others stay."""
        groups: dict[tuple[str, ...], list[str]] = {}
        for task in tasks:
            groups.setdefault((task.piece, task.operation.item), []).append(task.name)
        items, names = list(groups.values()), [name for group in groups.values() for name in group]
        by_task: dict[str, float] = {}
        for _ in range(self.one(_FEW)):
            by = (2 * self._random.random() - 1) * length * self.part()
            by_task |= dict.fromkeys(self.one(items) if self._random.random() < 0.5 else [self.one(names)], by)
        return by_task

    def one(self, listed: Sequence[_T]) -> _T:
        """Return one of several."""
        return listed[int(self._random.random() * len(listed))]

    def some(self, listed: Sequence[_T], most: int) -> list[_T]:
        """Return up to so many of several, at least one where there is one, in any order."""
        left = list(listed)
        count = min(len(left), 1 + int(self._random.random() * most))
        return [left.pop(int(self._random.random() * len(left))) for _ in range(count)]

    def one_of(self, numbers: Collection[int]) -> int:
        """Return one of several numbers."""
        return sorted(numbers)[int(self._random.random() * len(numbers))]

    def part(self) -> float:
        """Return a part of the time in question, small ones as often as large ones."""
        return float(_LEAST * (_MOST / _LEAST) ** self._random.random())
