"""Items that get the same in the same time: they take their turns in the order of the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation

Item = tuple[Operation, ...]
"""The operations of one item, in their order."""


@dataclass(frozen=True, slots=True)
class Turns:
    """Items of one piece that are the same in everything: their operations correspond one by one."""

    items: tuple[Item, ...]

    def pairs(self) -> Iterator[tuple[str, str]]:
        """Give the names of corresponding operations of items that follow one another."""
        for earlier, later in pairwise(self.items):
            for before, after in zip(earlier, later, strict=True):
                yield before.id, after.id


def turns_of(piece: PieceWork, slots: Mapping[str, int]) -> list[Turns]:
    """Return the items of a piece that take turns, several together at the least.

    Parameters
    ----------
    piece
        The piece
    slots
        How long each operation takes, by id

    Notes
    -----
    Of items that are the same in everything, the first can always go first: exchanging the first to start, the second
    to start, and so on, at every step keeps every wait, since what waits longer was begun later. Not so of items that
    are begun: what was done to them, was done when it was.
    """
    begun = {operation.item for operation in piece.operations if operation.id in piece.done}
    by_item: dict[str, list[Operation]] = {}
    for operation in (still_open for still_open in piece.open if still_open.item not in begun):
        by_item.setdefault(operation.item, []).append(operation)
    groups: dict[tuple[object, ...], list[Item]] = {}
    for item, operations in by_item.items():
        key = [(same.deed, same.finish, same.method, same.label, same.thickness, slots[same.id]) for same in operations]
        groups.setdefault((*key, piece.rack.get(item)), []).append(tuple(operations))
    return [Turns(tuple(items)) for items in groups.values() if len(items) > 1]


def in_turns(plan: Schedule, turns: Iterable[Turns]) -> dict[str, Scheduled]:
    """Return a plan in which items that take turns have exchanged their places, so that the first is first throughout.

    It keeps every wait; a rack that is full it may not, where the one begun later was taken off sooner.
    """
    turned = dict(plan)
    for step in (step for turn in turns for step in zip(*turn.items, strict=True)):
        places = sorted(step, key=lambda operation: (plan[operation.id].start, plan[operation.id].end))
        for operation, there in zip(step, places, strict=True):
            turned[operation.id] = plan[there.id]
            for mine, theirs in ((operation.clean_up, there.clean_up), (operation.again, there.again)):
                if mine is None or theirs is None:
                    continue
                turned.pop(mine.id, None)
                if theirs.id in plan:
                    turned[mine.id] = plan[theirs.id]
    return turned
