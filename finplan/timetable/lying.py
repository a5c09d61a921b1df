"""What may not lie on an item for long: until when what takes it off again, and washes up after it, is begun."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from finplan.scheduling import Rule, Slots
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import After, Operation
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits


@dataclass(frozen=True, slots=True)
class _Limit:
    """Breaks before which a row is over. Slots."""

    breaks: Sequence[int]
    """When each begins, in order."""
    spare: int
    """So much is kept free before them."""
    last: int
    """The end of all that is looked at."""

    def over_by(self, end: int) -> int:
        """Return by when what follows work that ends with a slot is over."""
        index = bisect_left(self.breaks, end)
        return max(end, self.breaks[index] - self.spare) if index < len(self.breaks) else self.last

    def leaves(self, span: Slots, slots: int) -> bool:
        """Return whether a stretch of somebody has so many slots with no break among them."""
        first, last = bisect_right(self.breaks, span.start), bisect_left(self.breaks, span.end)
        edges = [span.start, *self.breaks[first:last], span.end]
        return any(end - start >= slots for start, end in pairwise(edges))


class DueSoon:
    """Latest starts of what may not wait: it is over so long after what comes before it, and before the next break.

    The next break is that of anybody who could have done what comes before, so that whoever brushed stripper on goes
    nowhere while it lies; and so long before it that a slow hand is in time as well. Where nobody has a stretch for
    that as well nothing is kept free for a slow hand, and where there is none without breaks of others it is over
    while anybody still works.

    That holds of a row of operations of which each may not wait for the one before, where somebody who can do all of
    them works as long as they take with no break in between. In a shop where nobody does, none of it can be asked. Of
    a row that has been begun what is left is due at once.
    """

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, *, for_slow_hand: bool = True
    ) -> None:
        """Look for rows; not *for_slow_hand*: nothing is kept free before a break, as where a plan is lived through."""
        self._setting, self._waits, self._for_slow_hand = setting, waits, for_slow_hand
        self._bound: dict[str, _Limit] = {}
        """What something may not wait for, and before which breaks that is over."""
        self._latest: dict[str, int] = {}
        self.torn: list[tuple[PieceWork, Sequence[Operation]]] = []
        """Rows that are too long for every stretch, with their pieces."""
        self._free = self._free_from(pieces)
        for piece in pieces:
            for row in rows_without_wait(piece):
                self._add(piece, row)

    def over_by(self, before: Operation, following: Operation) -> Rule | None:
        """Return the last start at which an operation may follow the end of another; None where it may wait."""
        if before.id not in self._bound or before.next_by_h is None or following.id in self._latest:
            return None
        slots, limit = self._setting.slots_of(following), self._bound[before.id]
        most = round(before.next_by_h * 60) // self._setting.slot_min
        return lambda end: min(end + most, limit.over_by(end)) - slots

    def latest(self, operation: Operation) -> int | None:
        """Return how late an operation may be begun that is due, as its row has been begun; None for any. [slot]

        Where the time for it is over that is as soon as one after another can be.
        """
        return self._latest.get(operation.id)

    def _add(self, piece: PieceWork, row: Sequence[Operation]) -> None:
        limit = next((tried for tried in self._limits(row) if self._fits(row, tried)), None)
        if limit is None:
            self.torn.append((piece, row))
            return
        self._bound |= {
            operation.id: limit if self._for_slow_hand else replace(limit, spare=0) for operation in row[:-1]
        }
        left = [operation for operation in row if operation.id not in piece.done]
        if left and len(left) < len(row):
            self._due(piece, row[len(row) - len(left) - 1], left)

    def _limits(self, row: Sequence[Operation]) -> Iterator[_Limit]:
        """Give before which breaks a row may have to be over, what is best first. [slots]"""
        setting = self._setting
        spare = max(math.ceil(operation.spare_h * 60 / setting.slot_min - 1e-9) for operation in row)
        own = sorted({span.end for name in setting.who(row[0]) for span in setting.spans[name]})
        anybody = [span.end for span in setting.anybody]
        yield from (_Limit(own, spare, setting.slots), _Limit(own, 0, setting.slots), _Limit(anybody, 0, setting.slots))

    def _fits(self, row: Sequence[Operation], limit: _Limit) -> bool:
        """Return whether somebody who can do all of a row has a stretch in which it has room before a break."""
        setting = self._setting
        slots = sum(map(setting.slots_of, row)) + sum(map(self._waits.wait_slots, row[:-1])) + limit.spare
        able = set.intersection(*(set(setting.who(operation)) for operation in row))
        return any(limit.leaves(span, slots) for name in able for span in setting.spans[name])

    def _due(self, piece: PieceWork, done: Operation, left: Sequence[Operation]) -> None:
        """Let what is left of a row be done as soon as can be, or as late as may be where that is later still."""
        setting = self._setting
        end = latest_end = setting.slot_from(piece.done[done.id])
        before = done
        for operation in left:
            wait = self._waits.reaches(before, After(before.id), operation)
            closes = self.over_by(before, operation)
            last = self._soonest(operation, latest_end if wait is None else wait(latest_end) or latest_end, keep=False)
            start = self._soonest(operation, end if wait is None else wait(end) or end, keep=True)
            limit = None if closes is None else closes(latest_end)
            if start is None or last is None or limit is None:
                return
            self._latest[operation.id] = max(start, last, limit)
            end, latest_end, before = (
                start + setting.slots_of(operation),
                self._latest[operation.id] + setting.slots_of(operation),
                operation,
            )

    def _soonest(self, operation: Operation, earliest: int, *, keep: bool) -> int | None:
        """Return the first slot at which somebody can do an operation before a break; *keep*: whoever does is busy."""
        setting, slots = self._setting, self._setting.slots_of(operation)
        starts = [
            (start, person)
            for person in setting.who(operation)
            for span in setting.spans[person]
            if (start := max(earliest, setting.first, self._free[person], span.start)) + slots <= span.end
        ]
        if not starts:
            return None
        start, person = min(starts)
        if keep:
            self._free[person] = start + slots
        return start

    def _free_from(self, pieces: Sequence[PieceWork]) -> dict[str, int]:
        """Return from when on each person is free: after the clean-ups that are owed."""
        self._free = dict.fromkeys(self._setting.spans, self._setting.first)
        for piece in pieces:
            for operation in piece.owed:
                self._soonest(operation, self._setting.first, keep=True)
        return self._free


def rows_without_wait(piece: PieceWork) -> Iterator[tuple[Operation, ...]]:
    """Give the operations of a piece of which each may not wait for the one before, row by row."""
    row: list[Operation] = []
    for operation in piece.operations:
        if row and any(after.id == row[-1].id for after in operation.after):
            row.append(operation)
        elif operation.next_by_h is not None:
            row = [operation]
        if row and operation.next_by_h is None:
            if len(row) > 1:
                yield tuple(row)
            row = []
