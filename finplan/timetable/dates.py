"""When each piece of a job is due, begun and ready, in slots."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from finplan.scheduling import Finish, Scheduled
from finplan.timetable.buffer import WorkingTime
from finplan.timetable.found import Found, finished
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.operation import all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.stages import stage_time
from finplan.timetable.timetable import Buffer


class Dates:
    """The dates of the pieces of a job in one setting."""

    def __init__(self, job: Job, setting: Setting, working: WorkingTime) -> None:
        self.job, self.setting, self.working = job, setting, working

    def due(self, piece: PieceWork) -> int | None:
        """Return the slot by which a piece has to be ready."""
        moment = self.job.delivery(piece)
        return None if moment is None else self.setting.slot_up_to(moment)

    def due_with(self, piece: PieceWork, buffer: Buffer) -> int | None:
        """Return the slot by which a piece has to be ready with so much to spare."""
        due = self.due(piece)
        if due is None:
            return None
        due -= math.ceil(buffer.sooner_h.get(piece.key, 0.0) * 60 / self.setting.slot_min)
        wanted_h = min(buffer.wanted_h, buffer.at_most_h.get(piece.key, buffer.wanted_h))
        slots = round(wanted_h * 60 / self.setting.slot_min)
        return self.working.back(due, slots) if buffer.working else due - slots

    def dues(self, buffer: Buffer) -> dict[str, int]:
        """Return by piece key the slot by which it has to be ready with so much to spare, where it has a date."""
        dues = {piece.key: self.due_with(piece, buffer) for piece in self.job.pieces}
        return {key: due for key, due in dues.items() if due is not None}

    def ready_slot(self, piece: PieceWork, found: Found) -> int:
        """Return when a piece is ready: what is still to be done, and the coats that have been put on already."""
        still = [finished(finish, found.schedule) for finish in found.placement.finishes[piece.key]]
        return max([*still, *self._done_slots(piece)], default=self.setting.first)

    def _done_slots(self, piece: PieceWork) -> Iterator[int]:
        for operation in piece.operations:
            if operation.id in piece.done:
                end = self.setting.slot_from(piece.done[operation.id])
                fit = None
                if operation.finish is not None:
                    finish = self.setting.catalogue.finishes[operation.finish]
                    stage = stage_time(finish, operation.ready_as or self.job.ready_for)
                    fit = self.setting.dry_slot(operation, end, stage)
                yield end if fit is None else fit

    def start_slot(self, piece: PieceWork, schedule: Mapping[str, Scheduled]) -> int:
        """Return when the work on a piece begins."""
        names = (operation.id for operation in all_operations(piece.open))
        return min((schedule[name].start for name in names if name in schedule), default=self.setting.first)

    def left_over(self, piece: PieceWork, found: Found, *, working: bool) -> int | None:
        """Return how many slots a plan leaves before the delivery of a piece, all or those in which somebody works."""
        due, ready = self.due(piece), self.ready_slot(piece, found)
        if due is None:
            return None
        return self.working.up_to(due) - self.working.up_to(ready) if working else due - ready

    def measured(self, finish: Finish, piece: PieceWork, *, working: bool) -> Finish:
        """Return a finish with its due date, both in working slots where that is how buffers are measured."""
        due = self.due(piece)
        if due is None or not working:
            return replace(finish, due=due)
        count = self.working.up_to

        def counted(end: int) -> int | None:
            moment = end if finish.rule is None else finish.rule(end)
            return None if moment is None else count(moment)

        return Finish(finish.activity, counted, count(due))
