"""How coats dry in many draws at once."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

import numpy as np

from finplan.catalogue import Finish
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.operation import After, Operation
from finplan.timetable.setting import Setting
from finplan.timetable.stages import StageTime, stage_time, surface_time
from finplan.timetable.taken import Draws, Which


class Luck(Protocol):
    """How finishes dry and work goes in every draw."""

    @property
    def draws(self) -> int:
        """How many there are."""
        ...

    def hours(self, finish: str, stage: StageTime) -> Draws:
        """Return how long a finish takes to a stage, in the air that its time is given for. [h]"""
        ...

    def work_min(self, piece: PieceWork, operation: Operation) -> Draws:
        """Return how long an operation takes. [min]"""
        ...


class DrawnCoats:
    """When coats come to a stage, in every draw at once."""

    def __init__(self, setting: Setting, luck: Luck, ready_for: ReadyFor) -> None:
        self._setting, self._luck, self._ready_for = setting, luck, ready_for
        self._all = np.arange(luck.draws)

    def reached(self, before: Operation, end: Draws, after: After) -> Draws:
        """Return when what waits for the end of an operation may begin. [min]"""
        if before.finish is None or after.stage == "done":
            return end + before.wait_h * 60
        thick = before.thickness * after.times_as_thick
        if thick != before.thickness:
            before = replace(before, thickness=thick)
        return self._dry(before, end, stage_time(self.finish(before), after.stage), self._all)

    def fit(self, coat: Operation, end: Draws) -> Draws:
        """Return when a coat that ends then is fit for the customer. [min]"""
        return self._dry(coat, end, stage_time(self.finish(coat), coat.ready_as or self._ready_for), self._all)

    def handled(self, coat: Operation, end: Draws, draws: Which) -> Draws:
        """Return when a coat that ends then in some draws may be lifted off. [min]"""
        return self._dry(coat, end, stage_time(self.finish(coat), "handle"), draws)

    def dust_free(self, coat: Operation, end: Draws, draws: Which) -> Draws:
        """Return when dust no longer sticks to a coat that ends then in some draws. [min]"""
        return self._dry(coat, end, surface_time(self.finish(coat)), draws)

    def _dry(self, coat: Operation, end: Draws, stage: StageTime, draws: Which) -> Draws:
        """Return when a coat that ends then in some draws has come to a stage in them."""
        hours = self._luck.hours(coat.coated_with, stage)[draws]
        return self._setting.drying_of(coat).reached_each(end, stage.phase, hours, coat.thickness)

    def finish(self, operation: Operation) -> Finish:
        """Return what a coat is of."""
        return self._setting.catalogue.finishes[operation.coated_with]
