"""When something may follow something else: what each wait of a job says of the end of an operation, in slots."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from finplan.scheduling import Rule
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.operation import After, Operation, Stage
from finplan.timetable.setting import Setting
from finplan.timetable.stages import StageTime, stage_time, surface_time


class Waits:
    """The waits of a job in one setting. Coats that dry alike share what is worked out."""

    def __init__(self, setting: Setting, ready_for: ReadyFor) -> None:
        self._setting = setting
        self._ready_for = ready_for
        self._dries: dict[tuple[object, ...], Rule] = {}
        self._hardens: dict[tuple[object, ...], Rule] = {}
        self._lifts: dict[tuple[object, ...], Rule] = {}

    def reaches(self, before: Operation, after: After, following: Operation) -> Rule | None:
        """Return when an operation may follow the end of another; None for at once."""
        if before.finish is None or after.stage == "done":
            wait = max(self.wait_slots(before), self._setting.settling(following) if before.makes_dust else 0)
            return (lambda end: end + wait) if wait else None
        thick = replace(before, thickness=before.thickness * after.times_as_thick)
        return self._dry(thick, self._time(before, after.stage))

    def fit(self, coat: Operation) -> Rule:
        """Return when a coat is fit for the customer."""
        return self._dry(coat, self._time(coat, coat.ready_as or self._ready_for))

    def fit_for_dust(self, operation: Operation) -> Rule:
        """Return when dust may be made again: it no longer sticks to a coat, and the air is fit."""
        airing = self._setting.airing(operation)
        if operation.finish is None:
            return lambda end: end + airing
        free = self._dry(operation, surface_time(self._setting.catalogue.finishes[operation.coated_with]))
        if not airing:
            return free
        return lambda end: None if (dry := free(end)) is None else max(dry, end + airing)

    def too_hard(self, below: Operation) -> Rule | None:
        """Return the last moment at which a coat takes another as it is; None where that is always so."""
        setting = self._setting
        if setting.catalogue.finishes[below.coated_with].recoat_limit_h is None:
            return None
        key = (below.finish, setting.slots_of(below) * setting.slot_min - below.work_min)
        if key not in self._hardens:
            self._hardens[key] = cache(lambda end: setting.limit_slot(below, end))
        return self._hardens[key]

    def lifted(self, coat: Operation) -> Rule:
        """Return when a coat has been lifted off the rack at the latest: fit to handle, and somebody is there."""
        setting, dry = self._setting, self._dry(coat, self._time(coat, "handle"))

        def off(end: int) -> int:
            moment = dry(end)
            there = None if moment is None else setting.lifted(moment)
            return setting.slots if there is None else there

        return self._lifts.setdefault((coat.finish, coat.thickness), cache(off))

    def after_done(self, piece: PieceWork, after: After, following: Operation) -> int | None:
        """Return when what waits for an operation that has been done may begin; None for not in the time looked at."""
        end = self._setting.slot_from(piece.done[after.id])
        rule = self.reaches(piece.operation(after.id), after, following)
        return end if rule is None else rule(end)

    def since(self, piece: PieceWork, coat: Operation, rule: Rule) -> Rule:
        """Return a rule of the end of a coat; of one that was put on before, what it says of that moment."""
        done = piece.done.get(coat.id)
        if done is None:
            return rule
        moment = rule(self._setting.slot_from(done))
        return lambda _: moment

    def wait_slots(self, before: Operation) -> int:
        """Return how many slots nothing follows an operation, whatever the air."""
        return -(-round(before.wait_h * 60) // self._setting.slot_min)

    def _time(self, coat: Operation, stage: Stage | ReadyFor) -> StageTime:
        return stage_time(self._setting.catalogue.finishes[coat.coated_with], stage)

    def _dry(self, coat: Operation, stage: StageTime) -> Rule:
        setting = self._setting
        key = (coat.finish, coat.thickness, stage)
        if key not in self._dries:
            self._dries[key] = cache(setting.dry_slots(coat, stage))
        return self._dries[key]
