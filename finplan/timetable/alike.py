"""Items that get the same in the same time: they take their turns in the order of the file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation

Item = tuple[Operation, ...]
"""The operations of one item, in their order."""


@dataclass(frozen=True, slots=True)
class Turns:
    """Items of one piece whose operations correspond one by one. ``same``: in what they take as well."""

    piece: PieceWork
    items: tuple[Item, ...]
    same: bool

    def pairs(self) -> Iterator[tuple[str, str]]:
        """Give the names of corresponding operations of items that follow one another."""
        for one, other in pairwise(self.items):
            for before, after in zip(one, other, strict=True):
                yield before.id, after.id


def turns_of(piece: PieceWork, slots: Mapping[str, int], *, loose: bool) -> list[Turns]:
    """Return the items of a piece that take turns, several together at the least.

    Parameters
    ----------
    piece
        The piece
    slots
        How long each operation takes, by id
    loose
        Whether items take turns too that get the same, but do not take the same time or room

    Notes
    -----
    Of items that are the same in everything, the first can always go first: exchanging the first to start, the second
    to start, and so on, at every step keeps every wait, since what waits longer was begun later. Of items that only get
    the same, that is a choice, and a better plan may be missed.
    """
    by_item: dict[str, list[Operation]] = {}
    for operation in piece.open:
        by_item.setdefault(operation.item, []).append(operation)
    groups: dict[tuple[object, ...], list[Item]] = {}
    for item, operations in by_item.items():
        key: list[object] = [(one.deed, one.finish, one.method, one.label) for one in operations]
        if not loose:
            key += [slots[one.id] for one in operations] + [piece.rack.get(item)]
        groups.setdefault(tuple(key), []).append(tuple(operations))
    return [
        Turns(piece, tuple(items), same=not loose or _same(items, slots, piece))
        for items in groups.values()
        if len(items) > 1
    ]


def _same(items: Sequence[Item], slots: Mapping[str, int], piece: PieceWork) -> bool:
    taken = {(tuple(slots[one.id] for one in item), piece.rack.get(item[0].item)) for item in items}
    return len(taken) == 1
