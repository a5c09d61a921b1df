"""What may not lie on an item for long: until when what takes it off again, and washes up after it, is begun."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.scheduling import Rule
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import After, Operation
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits


class DueSoon:
    """Latest starts of what may not wait: it is over so long after what comes before it, and before the next break.

    That holds of a row of operations of which each may not wait for the one before, where somebody who can do all of
    them works as long as they take with no break in between. In a shop where nobody does, none of it can be asked. Of
    a row that has been begun what is left is due at once.
    """

    def __init__(self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits) -> None:
        self._setting, self._waits = setting, waits
        self._bound: set[str] = set()
        """What something may not wait for."""
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
        setting, slots = self._setting, self._setting.slots_of(following)
        most = round(before.next_by_h * 60) // setting.slot_min
        return lambda end: min(end + most, setting.until_break(end)) - slots

    def latest(self, operation: Operation) -> int | None:
        """Return how late an operation may be begun that is due, as its row has been begun; None for any. [slot]

        Where the time for it is over that is as soon as one after another can be.
        """
        return self._latest.get(operation.id)

    def _add(self, piece: PieceWork, row: Sequence[Operation]) -> None:
        if not self._fits(row):
            self.torn.append((piece, row))
            return
        self._bound |= {one.id for one in row[:-1]}
        left = [one for one in row if one.id not in piece.done]
        if left and len(left) < len(row):
            self._due(piece, row[len(row) - len(left) - 1], left)

    def _fits(self, row: Sequence[Operation]) -> bool:
        """Return whether somebody who can do all of a row has a stretch in which it has room."""
        setting = self._setting
        slots = sum(map(setting.slots_of, row)) + sum(map(self._waits.wait_slots, row[:-1]))
        able = set.intersection(*(set(setting.who(one)) for one in row))
        return any(span.end - span.start >= slots for name in able for span in setting.spans[name])

    def _due(self, piece: PieceWork, done: Operation, left: Sequence[Operation]) -> None:
        """Let what is left of a row be done as soon as can be, or as late as may be where that is later still."""
        setting = self._setting
        end = latest_end = setting.slot_from(piece.done[done.id])
        before = done
        for one in left:
            wait = self._waits.reaches(before, After(before.id), one)
            closes = self.over_by(before, one)
            last = self._soonest(one, latest_end if wait is None else wait(latest_end) or latest_end, keep=False)
            start = self._soonest(one, end if wait is None else wait(end) or end, keep=True)
            limit = None if closes is None else closes(latest_end)
            if start is None or last is None or limit is None:
                return
            self._latest[one.id] = max(start, last, limit)
            end, latest_end, before = start + setting.slots_of(one), self._latest[one.id] + setting.slots_of(one), one

    def _soonest(self, operation: Operation, earliest: int, *, keep: bool) -> int | None:
        """Return the first slot at which somebody can do an operation before a break; *keep*: whoever does is busy."""
        setting, slots = self._setting, self._setting.slots_of(operation)
        found = [
            (start, person)
            for person in setting.who(operation)
            for span in setting.spans[person]
            if (start := max(earliest, setting.first, self._free[person], span.start)) + slots <= span.end
        ]
        if not found:
            return None
        start, person = min(found)
        if keep:
            self._free[person] = start + slots
        return start

    def _free_from(self, pieces: Sequence[PieceWork]) -> dict[str, int]:
        """Return from when on each person is free: after the clean-ups that are owed."""
        self._free = dict.fromkeys(self._setting.spans, self._setting.first)
        for piece in pieces:
            for one in piece.owed:
                self._soonest(one, self._setting.first, keep=True)
        return self._free


def rows_without_wait(piece: PieceWork) -> Iterator[tuple[Operation, ...]]:
    """Give the operations of a piece of which each may not wait for the one before, row by row."""
    row: list[Operation] = []
    for one in piece.operations:
        if row and any(after.id == row[-1].id for after in one.after):
            row.append(one)
        elif one.next_by_h is not None:
            row = [one]
        if row and one.next_by_h is None:
            if len(row) > 1:
                yield tuple(row)
            row = []
