"""A plan lived through many times at once: every time is an array, one element a draw."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from finplan.catalogue import Finish
from finplan.scheduling import Scheduled, Slots
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.operation import Operation, Stage, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.stages import StageTime, stage_time, surface_time

Draws = NDArray[np.float64]
"""One value for each draw."""
_ROUNDS = 12
"""So often what stands in the way of a start is looked for; more things in a row never were."""


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


class _Hours:
    """When one person works, and for how long since the beginning."""

    def __init__(self, spans: Sequence[Slots], slot_min: int) -> None:
        self._begins = np.array([span.start * slot_min for span in spans], float)
        self._ends = np.array([span.end * slot_min for span in spans], float)
        self._worked = np.concatenate([[0.0], np.cumsum(self._ends - self._begins)])

    def next_start(self, minute: Draws, needed_min: float) -> Draws:
        """Return the first minute from one on at which so much can be worked in one go; infinite for never."""
        long = np.flatnonzero(self._ends - self._begins >= needed_min)
        if not len(long):
            return np.full_like(minute, math.inf)
        begins, last = self._begins[long], self._ends[long] - needed_min
        index = np.searchsorted(last, minute, side="left" if needed_min else "right")
        found = np.append(begins, math.inf)[index]
        later: Draws = np.maximum(minute, found)
        return later

    def end(self, start: Draws, work_min: Draws) -> Draws:
        """Return when work is done that begins in working time and pauses over breaks."""
        index = np.clip(np.searchsorted(self._begins, start, side="right") - 1, 0, None)
        done = self._worked[index] + np.minimum(start, self._ends[-1]) - self._begins[index] + work_min
        last = np.searchsorted(self._worked, done - 1e-9, side="left") - 1
        ended = (
            self._begins[np.minimum(last, len(self._begins) - 1)]
            + done
            - self._worked[np.minimum(last, len(self._begins) - 1)]
        )
        return np.where((last < len(self._begins)) & np.isfinite(start), ended, math.inf)


class _Stretch:
    """From when to when something was so, in every draw."""

    __slots__ = ("begins", "ends", "first", "last")

    def __init__(self, begins: Draws, ends: Draws) -> None:
        self.begins, self.ends = begins, ends
        self.first, self.last = float(begins.min()), float(ends.max())
        """The whole in which it was so in any draw: most things are done long before or long after."""


class Life:
    """A plan that is lived through, in every draw at once.

    It is repaired as a person would: nothing begins sooner than planned; where it cannot begin yet it begins as soon as
    it can, by whoever has it done first, and what comes in the order of the plan goes first where two meet. What is
    begun is ended, into a break if need be. Where the coat below has become too hard it is abraded first. The rack is
    not looked at.
    """

    def __init__(
        self,
        pieces: Sequence[PieceWork],
        setting: Setting,
        schedule: Mapping[str, Scheduled],
        ready_for: ReadyFor,
        luck: Luck,
        no_sooner: Mapping[str, Draws] | None = None,
    ) -> None:
        """Set out to live through a plan.

        Parameters
        ----------
        pieces, setting
            The work and the shop
        schedule
            The plan
        ready_for
            What the customer may do when a piece counts as ready
        luck
            How finishes dry and work goes
        no_sooner
            By operation, before which minute it is not begun, whatever was planned
        """
        self._setting, self._schedule, self._ready_for = setting, schedule, ready_for
        self._pieces = pieces
        self._luck, self._no_sooner = luck, no_sooner or {}
        self._order: list[tuple[PieceWork, Operation, Scheduled]] = sorted(
            (
                (piece, operation, schedule[operation.id])
                for piece in pieces
                for operation in all_operations(piece.open)
                if operation.id in schedule
            ),
            key=lambda one: (one[2].start, one[2].end),
        )
        self._people = list(setting.spans)
        self._hours = [_Hours(setting.spans[name], setting.slot_min) for name in self._people]
        self._operations = {one.id: one for piece in pieces for one in all_operations(piece.operations)}
        self._coat_of = {one.clean_up.id: one.id for piece in pieces for one in piece.open if one.clean_up is not None}
        self.starts: dict[str, Draws] = {}
        """When every operation was begun, once it was lived through. [min]"""
        self._ends: dict[str, Draws] = {}
        self._who: dict[str, NDArray[np.intp]] = {}
        self._busy: list[list[_Stretch]] = [[] for _ in self._people]
        self._wet: list[_Stretch] = []
        self._dusty: list[_Stretch] = []
        self._air = cache(self._allowed)
        self._settling_min = setting.settling_slots * setting.slot_min

    def ready(self) -> dict[str, Draws]:
        """Return when each piece is ready. [min]"""
        ready = {piece.key: np.zeros(self._luck.draws) for piece in self._pieces}
        for piece in self._pieces:
            for operation in piece.operations:
                if operation.id in piece.done:
                    end = np.full(self._luck.draws, self._setting.minute(piece.done[operation.id]))
                    self._ends[operation.id] = end
                    if operation.finish is not None:
                        self._note_wet(operation, end, end)
                        ready[piece.key] = np.maximum(ready[piece.key], self._fit(operation, end))
        for piece, operation, planned in self._order:
            end = self._live(piece, operation, planned)
            fit = end if operation.finish is None else self._fit(operation, end)
            ready[piece.key] = np.maximum(ready[piece.key], fit)
        return ready

    # --- one operation ----------------------------------------------------------------------------------------------

    def _live(self, piece: PieceWork, operation: Operation, planned: Scheduled) -> Draws:
        """Place an operation in every draw; return when it ends. [min]"""
        planned_min = np.full(self._luck.draws, float(planned.start * self._setting.slot_min))
        held_up = [self._no_sooner[operation.id]] if operation.id in self._no_sooner else []
        ready = np.maximum.reduce([planned_min, *held_up, *self._waits(operation)])
        work_min = self._luck.work_min(piece, operation)
        done = (
            np.full(self._luck.draws, math.inf),
            np.full(self._luck.draws, math.inf),
            np.zeros(self._luck.draws, np.intp),
        )
        for person, may in self._candidates(operation, planned, late=ready > planned_min):
            done = self._sooner(operation, person, may, ready, work_min, done)
        for name in self._setting.who(operation):
            left = np.isinf(done[1])
            if not left.any():
                break  # else whoever did it never comes again, as help that was there for a day
            done = self._sooner(operation, self._people.index(name), left, ready, work_min, done)
        start, end, who = done
        self.starts[operation.id] = start
        self._ends[operation.id], self._who[operation.id] = end, who
        for person in np.unique(who):
            mine = who == person
            # Where somebody else does it, it keeps nobody from anything.
            self._busy[person].append(_Stretch(np.where(mine, start, math.inf), np.where(mine, end, -math.inf)))
        if operation.finish is not None:
            self._note_wet(operation, start, end)
        if operation.makes_dust:
            self._dusty.append(_Stretch(start, end + self._settling_min))
        return end

    def _sooner(
        self,
        operation: Operation,
        person: int,
        may: NDArray[np.bool_],
        ready: Draws,
        work_min: Draws,
        done: tuple[Draws, Draws, NDArray[np.intp]],
    ) -> tuple[Draws, Draws, NDArray[np.intp]]:
        """Return from when to when and by whom it is done where a person does it too, if that is sooner."""
        start, end, who = done
        began, ended = self._placed(operation, person, ready, work_min)
        sooner = may & ((ended < end) | np.isinf(end))
        return np.where(sooner, began, start), np.where(sooner, ended, end), np.where(sooner, person, who)

    def _candidates(
        self, operation: Operation, planned: Scheduled, *, late: NDArray[np.bool_]
    ) -> Iterator[tuple[int, NDArray[np.bool_]]]:
        """Give who may do it, the one who was planned first, and in which draws; whoever put a coat on cleans up."""
        who = self._setting.who(operation)
        coat = self._coat_of.get(operation.id)
        own = who[planned.mode]
        for name in [own, *(one for one in who if one != own)]:
            person = self._people.index(name)
            if coat is not None and coat in self._who:
                may = self._who[coat] == person
            else:
                may = np.ones(self._luck.draws, bool) if name == own else late
            if may.any():
                yield person, may

    def _placed(self, operation: Operation, person: int, ready: Draws, work_min: Draws) -> tuple[Draws, Draws]:
        """Return from when to when a person does it, as soon as hours, air and what else goes on let it begin."""
        hours, setting = self._hours[person], self._setting
        pauses = setting.pauses(operation, self._people[person])
        needed_min = 0.0 if pauses else float(operation.work_min)
        start = ready
        for _ in range(_ROUNDS):
            before = start
            start = self._aired(operation, hours.next_start(start, needed_min))
            extra = self._abrading_min(operation, start)
            end = hours.end(start, work_min + extra) if pauses else start + work_min + extra
            start = self._clear(start, end, self._busy[person])
            if operation.makes_dust and self._wet:
                start = self._clear(start, end + self._settling_min, self._wet)
            if operation.finish is not None and self._dusty and setting.is_dusty(operation):
                start = self._clear(start, self._dust_free(operation, end), self._dusty)
            if np.array_equal(start, before):
                break
        return start, end

    def _clear(self, start: Draws, end: Draws, stretches: Sequence[_Stretch]) -> Draws:
        """Return the start moved behind every stretch that lies in the way of what would begin there."""
        begins, ends = float(start.min()), float(end.max())
        for one in stretches:
            if one.first >= ends or begins >= one.last:
                continue
            in_the_way = (one.begins < end) & (start < one.ends)
            if in_the_way.any():
                later = np.subtract(one.ends, start, where=in_the_way, out=np.zeros_like(start))
                start, end = np.where(in_the_way, one.ends, start), end + later
                begins, ends = float(start.min()), float(end.max())
        return start

    def _aired(self, operation: Operation, minute: Draws) -> Draws:
        """Return the first minute from one on at which the air lets a coat begin."""
        if operation.finish is None:
            return minute
        begins, ends = self._air(operation.id)
        found = np.append(begins, math.inf)[np.searchsorted(ends, minute, side="left")]
        later: Draws = np.maximum(minute, found)
        return later

    def _allowed(self, name: str) -> tuple[Draws, Draws]:
        setting = self._setting
        spans = setting.starts(self._operations[name], first=0, last=setting.slots) or ()
        begins = np.array([span.start * setting.slot_min for span in spans], float)
        return begins, np.array([(span.end - 1) * setting.slot_min for span in spans], float)

    def _note_wet(self, coat: Operation, start: Draws, end: Draws) -> None:
        if self._setting.is_dusty(coat):
            self._wet.append(_Stretch(start, self._dust_free(coat, end)))

    # --- what it waits for ------------------------------------------------------------------------------------------

    def _waits(self, operation: Operation) -> Iterator[Draws]:
        """Give the minutes before which an operation cannot start, by what it waits for."""
        for after in operation.after:
            end = self._ends.get(after.id)
            if end is not None:
                yield self._reached(self._operations[after.id], end, after.stage)
        coat = self._coat_of.get(operation.id)
        if coat is not None and coat in self._ends:
            yield self._ends[coat]

    def _reached(self, before: Operation, end: Draws, stage: Stage) -> Draws:
        if before.finish is None or stage == "done":
            return end + before.wait_h * 60
        return self._dry(before, end, stage_time(self._finish(before), stage))

    def _fit(self, coat: Operation, end: Draws) -> Draws:
        return self._dry(coat, end, stage_time(self._finish(coat), self._ready_for))

    def _dust_free(self, coat: Operation, end: Draws) -> Draws:
        return self._dry(coat, end, surface_time(self._finish(coat)))

    def _dry(self, coat: Operation, end: Draws, stage: StageTime) -> Draws:
        hours = self._luck.hours(coat.coated_with, stage)
        return self._setting.drying_of(coat).reached_each(end, stage.phase, hours, coat.thickness)

    def _abrading_min(self, operation: Operation, start: Draws) -> Draws | float:
        """Return how long the coat below is abraded first, and its dust settles, where it is too hard unplanned."""
        if operation.over is None or operation.again is None or operation.again.id in self._schedule:
            return 0.0
        below, end = self._operations[operation.over], self._ends.get(operation.over)
        if end is None or self._finish(below).recoat_limit_h is None:
            return 0.0
        drying = self._setting.drying_of(below)
        closes = cache(drying.recoat_closes)
        limits = np.array([math.inf if (at := closes(one)) is None else at for one in end.tolist()])
        settling_min = self._setting.settling(operation) * self._setting.slot_min
        return np.where(start > limits, float(operation.again.work_min + settling_min), 0.0)

    def _finish(self, operation: Operation) -> Finish:
        return self._setting.catalogue.finishes[operation.coated_with]
