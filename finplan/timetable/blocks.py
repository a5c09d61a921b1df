"""What may not lie on an item, in a plan that is lived through late: its rows are put off whole, torn by no break."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from finplan.scheduling import Scheduled
from finplan.timetable.job import Job
from finplan.timetable.lying import DueSoon, rows_without_wait
from finplan.timetable.operation import Operation
from finplan.timetable.setting import Setting
from finplan.timetable.taken import Draws
from finplan.timetable.waits import Waits


class Blocks:
    """Rows of what may not lie, as they are planned; such as overlap are one block, worked in turns.

    Of a row that was begun before, or of which not all is planned, nothing is asked here.
    """

    def __init__(self, job: Job, setting: Setting, schedule: Mapping[str, Scheduled]) -> None:
        """Find the blocks of a schedule."""
        self._setting, self._schedule = setting, schedule
        self._lying = DueSoon(job.pieces, setting, Waits(setting, job.ready_for), for_slow_hand=False)
        self._rows = [
            row
            for piece in job.pieces
            for row in rows_without_wait(piece)
            if all(operation.id in schedule for operation in row) and self._lying.over_by(row[0], row[1]) is not None
        ]
        self.needed_min = self._needed_min()
        """By operation, for how long whoever begins it has to be there: to the end of their part of its block. [min]"""
        self.followed_at_once = frozenset(operation.id for row in self._rows for operation in row[1:])
        """What comes after the first of a row: until when it is begun is decided when that was."""

    def kept(self, starts: Mapping[str, Draws], ends: Mapping[str, Draws], draws: int) -> NDArray[np.bool_]:
        """Return in which draws nothing lies longer than it may."""
        kept, slot_min = np.ones(draws, bool), self._setting.slot_min
        for before, following in (pair for row in self._rows for pair in pairwise(row)):
            over_by = self._lying.over_by(before, following)
            if over_by is None:
                continue
            end, which = np.unique(ends[before.id], return_inverse=True)
            slots = [int(-(-minute // slot_min)) if np.isfinite(minute) else self._setting.slots for minute in end]
            last = np.array([over_by(slot) or 0 for slot in slots]) * slot_min
            kept &= starts[following.id] <= last[which]
        return kept

    def _needed_min(self) -> dict[str, float]:
        needed_min: dict[str, float] = {}
        for block in self._joined():
            for operation in block:
                name, planned = self._by(operation), self._schedule[operation.id]
                until = max(self._schedule[other.id].end for other in block if self._by(other) == name)
                if any(span.start <= planned.start and until <= span.end for span in self._setting.spans[name]):
                    needed_min[operation.id] = float((until - planned.start) * self._setting.slot_min)
        return needed_min

    def _by(self, operation: Operation) -> str:
        return self._setting.who(operation)[self._schedule[operation.id].mode]

    def _joined(self) -> Sequence[list[Operation]]:
        """Return the rows in the order of the plan, those that overlap as one."""
        blocks: list[list[Operation]] = []
        until = -1
        for row in sorted(self._rows, key=lambda row: self._schedule[row[0].id].start):
            if self._schedule[row[0].id].start < until:
                blocks[-1].extend(row)
            else:
                blocks.append(list(row))
            until = max(until, self._schedule[row[-1].id].end)
        return blocks
