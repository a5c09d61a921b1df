"""A plan lived through many times at once: every time is an array, one element a draw."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from finplan.scheduling import Scheduled
from finplan.timetable.apart import Apart
from finplan.timetable.coats import DrawnCoats, Luck
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.one_go import OneGo
from finplan.timetable.operation import Operation, all_operations
from finplan.timetable.racked import Racked
from finplan.timetable.setting import Setting
from finplan.timetable.taken import Draws, Open, Starts, Taken, Which

_SAME = 1e-9
"""Moments that differ by less are the same. [min]"""


class Life:
    """A plan that is lived through, in every draw at once.

    It is repaired as a person would: nothing begins sooner than planned; where it cannot begin yet it begins as soon as
    it can, by whoever has it done first, and what comes in the order of the plan goes first where two meet. What is
    begun is ended, into a break if need be. Where the coat below has become too hard it is abraded first. A coat that
    finds no room on the rack waits until something is lifted.
    """

    def __init__(
        self,
        pieces: Sequence[PieceWork],
        setting: Setting,
        schedule: Mapping[str, Scheduled],
        ready_for: ReadyFor,
        luck: Luck,
        no_sooner: Mapping[str, Draws] | None = None,
        *,
        cleaned_up_after: bool = False,
        on_the_clock: bool = False,
        one_stretch_min: Mapping[str, float] | None = None,
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
        cleaned_up_after
            Whether a coat is begun only where there is time to clean up after it before a break; no date that is
            promised rests on cloths that lie overnight
        on_the_clock
            Whether everything begins on a slot, as it is planned; else at any moment
        one_stretch_min
            By operation, how long whoever begins it has to be there without a break, for what follows on it. [min]
        """
        self._setting, self._schedule = setting, schedule
        self._coats = DrawnCoats(setting, luck, ready_for)
        self._pieces = pieces
        self._luck, self._no_sooner = luck, no_sooner or {}
        self._order: list[tuple[PieceWork, Operation, Scheduled]] = sorted(
            (
                (piece, operation, schedule[operation.id])
                for piece in pieces
                for operation in all_operations(piece.open)
                if operation.id in schedule
            ),
            key=lambda entry: (entry[2].start, entry[2].end),
        )
        self._people = list(setting.spans)
        self._hours = [Open(setting.spans[name], setting.slot_min) for name in self._people]
        self._operations = {
            operation.id: operation for piece in pieces for operation in all_operations(piece.operations)
        }
        self._coat_of = {
            operation.clean_up.id: operation.id
            for piece in pieces
            for operation in piece.open
            if operation.clean_up is not None
        }
        at_once = [
            (operation, operation.after[0].id)
            for piece in pieces
            for operation in piece.open
            if operation.at_once and operation.after
        ]
        self._coat_of |= {clean_up.id: before for clean_up, before in at_once}
        self._goes_on_min = {before: clean_up.work_min for clean_up, before in at_once}
        """By operation, how long what follows at once takes, before a break. [min]"""
        self.starts: dict[str, Draws] = {}
        """When every operation was begun, once it was lived through. [min]"""
        self.ends: dict[str, Draws] = {}
        """And when it was over. [min]"""
        self._who: dict[str, Which] = {}
        self._limits: dict[str, Draws] = {}
        """By coat, until when another may go on without abrading first. [min]"""
        self._all = np.arange(luck.draws)
        self._busy = [Taken(luck.draws) for _ in self._people]
        self._wet, self._dusty, self._sprayed = Taken(luck.draws), Taken(luck.draws), Taken(luck.draws)
        self._keep_out: dict[str, Taken] = defaultdict(lambda: Taken(luck.draws))
        self._kept_out: dict[str, Taken] = defaultdict(lambda: Taken(luck.draws))
        self._rack = Racked(pieces, setting, self._coats, luck.draws)
        self._aired: dict[str, Starts | None] = {}
        self._starts: dict[tuple[str, int, float], Starts] = {}
        """What was worked out of each; a cache of its own methods would keep a life, and 100 MB, until garbage is
        looked for."""
        self._settling_min = setting.settling_slots * setting.slot_min
        self._cleaned_up_after, self._one_stretch_min = cleaned_up_after, one_stretch_min or {}
        self._step_min = setting.slot_min if on_the_clock else 0
        self._one_go = OneGo([entry[1:] for entry in self._order], schedule, self.ends, on_the_clock=on_the_clock)

    def ready(self) -> dict[str, Draws]:
        """Return when each piece is ready. [min]"""
        ready = {piece.key: np.zeros(self._luck.draws) for piece in self._pieces}
        for piece in self._pieces:
            for operation in piece.operations:
                if operation.id in piece.done:
                    end = np.full(self._luck.draws, self._setting.minute(piece.done[operation.id]))
                    self.ends[operation.id] = end
                    if operation.finish is not None:
                        self._note_wet(operation, end, end)
                        following = piece.following(operation)
                        if following is None or following.id not in piece.done:
                            self._rack.lay(operation, end, end)
                        ready[piece.key] = np.maximum(ready[piece.key], self._coats.fit(operation, end))
        for piece, operation, planned in self._order:
            end = self._live(piece, operation, planned)
            fit = end if operation.finish is None else self._coats.fit(operation, end)
            ready[piece.key] = np.maximum(ready[piece.key], fit)
        return ready

    # --- one operation ----------------------------------------------------------------------------------------------

    def _live(self, piece: PieceWork, operation: Operation, planned: Scheduled) -> Draws:
        """Place an operation in every draw; return when it ends. [min]"""
        planned_min = np.full(self._luck.draws, float(planned.start * self._setting.slot_min))
        for in_the_way in (*self._busy, self._wet, self._dusty, self._sprayed):
            in_the_way.forget(planned.start * self._setting.slot_min)
        held_up = [self._no_sooner[operation.id]] if operation.id in self._no_sooner else []
        ready = np.maximum.reduce([planned_min, *held_up, *self._waits(operation)])
        work_min = self._luck.work_min(piece, operation)
        never = np.full(self._luck.draws, math.inf)
        start, end, who = done = never, never.copy(), np.zeros(self._luck.draws, np.intp)
        at_once = ready + work_min
        for person, may in self._candidates(operation, planned, late=ready > planned_min):
            # Where somebody begins it at once nobody is through sooner.
            self._take_sooner(operation, person, np.flatnonzero(may & (end > at_once)), ready, work_min, done)
        for name in self._setting.who(operation):
            left = np.flatnonzero(np.isinf(end))
            if not len(left):
                break  # else whoever did it never comes again, as help that was there for a day
            self._take_sooner(operation, self._people.index(name), left, ready, work_min, done)
        self.starts[operation.id] = start
        self.ends[operation.id], self._who[operation.id] = end, who
        for person, busy in enumerate(self._busy):
            mine = np.flatnonzero(who == person)
            if len(mine):
                busy.add(start[mine], end[mine], mine)
        for person, begins, ends, draws in self._one_go.cleaned_between(operation, start, self._who):
            self._busy[person].add(begins, ends, draws)
        self._note_wet(operation, start, end)
        self._rack.take_off(operation, start)
        self._rack.lay(operation, start, end)
        if operation.sprays:
            self._sprayed.add(start, end, self._all)
        if operation.makes_dust:
            self._dusty.add(start, end + self._settling_min, self._all)
        for apart in self._setting.apart(operation):
            taken = self._keep_out if apart.keeps_out else self._kept_out
            taken[apart.kind].add(start, self._apart_until(apart, start, end), self._all)
        return end

    def _take_sooner(
        self,
        operation: Operation,
        person: int,
        draws: Which,
        ready: Draws,
        work_min: Draws,
        done: tuple[Draws, Draws, Which],
    ) -> None:
        """Note from when to when it is done by a person in those of some draws in which that is sooner."""
        if not len(draws):
            return
        start, end, who = done
        began, ended = self._placed(operation, person, ready[draws], work_min[draws], draws)
        sooner = (ended < end[draws]) | np.isinf(end[draws])
        draws = draws[sooner]
        start[draws], end[draws], who[draws] = began[sooner], ended[sooner], person

    def _candidates(
        self, operation: Operation, planned: Scheduled, *, late: NDArray[np.bool_]
    ) -> Iterator[tuple[int, NDArray[np.bool_]]]:
        """Give who may do it, the one who was planned first, and in which draws; whoever put a coat on cleans up."""
        who = self._setting.who(operation)
        coat = self._coat_of.get(operation.id)
        own = who[planned.mode]
        for name in [own, *(other for other in who if other != own)]:
            person = self._people.index(name)
            if coat is not None and coat in self._who:
                may = self._who[coat] == person
            else:
                may = np.ones(self._luck.draws, bool) if name == own else late
            if may.any():
                yield person, may

    def _placed(
        self, operation: Operation, person: int, ready: Draws, work_min: Draws, draws: Which
    ) -> tuple[Draws, Draws]:
        """Return from when to when a person does it, as soon as hours, air and what else goes on let it begin.

        Only what was moved is looked at once more.
        """
        hours, setting = self._hours[person], self._setting
        pauses = setting.pauses(operation, self._people[person])
        needed_min = 0.0 if pauses else float(operation.work_min)
        if self._cleaned_up_after and operation.clean_up is not None:
            needed_min += operation.clean_up.work_min
        if not pauses:
            needed_min += self._goes_on_min.get(operation.id, 0)
        stays_min = self._one_stretch_min.get(operation.id, 0.0)
        needed_min = max(needed_min, stays_min)
        starts = self._starts_of(operation.id, person, needed_min)
        is_dusty = operation.finish is not None and setting.is_dusty(operation)
        rack = None if operation.finish is None else self._rack.seen_by(operation, ready, draws)
        start, end, left = ready.copy(), np.empty_like(ready), np.arange(len(ready))
        while len(left):
            those, took = draws[left], np.empty(len(left))
            free, over, still = start[left], np.empty(len(left)), np.arange(len(left))
            while len(still):  # by hours and other work first, which is asked soonest
                which = those[still]
                free[still] = starts.next(
                    self._on_the_clock(self._one_go.cleaned_before(operation, free[still], which))
                )
                begun = free[still]
                took[still] = work_min[left[still]] + self._abrading_min(operation, begun, which)
                over[still] = hours.end(begun, took[still]) if pauses else begun + took[still]
                free[still] = self._busy[person].clear(
                    begun, np.maximum(over[still], begun + stays_min), np.maximum(took[still], stays_min), which
                )
                still = still[free[still] != begun]
            begun = free
            if operation.makes_dust:
                begun = self._wet.clear(begun, over + self._settling_min, took + self._settling_min, those)
            if is_dusty and self._dusty.may_be_in_the_way(begun, those):
                begun = self._dusty.clear(begun, self._coats.dust_free(operation, over, those), took, those)
            if operation.sprays:
                begun = self._sprayed.clear(begun, over, took, those)
            begun = self._apart_from(operation, begun, over, took, those)
            if rack is not None:
                begun = rack.clear(begun, over, took, left)
            start[left], end[left] = begun, over
            left = left[begun != free]
        return start, end

    def _apart_from(self, operation: Operation, begun: Draws, over: Draws, took: Draws, draws: Which) -> Draws:
        """Return starts moved behind what an operation is kept apart from in its room."""
        for apart in self._setting.apart(operation):
            until, least_min = (
                self._apart_until(apart, begun, over),
                self._apart_until(apart, np.zeros_like(took), took),
            )
            if apart.keeps_out:
                begun = self._kept_out[apart.kind].clear(begun, until, least_min, draws)
            if apart.alone or not apart.keeps_out:
                begun = self._keep_out[apart.kind].clear(begun, until, least_min, draws)
        return begun

    def _apart_until(self, apart: Apart, start: Draws, end: Draws) -> Draws:
        """Return until when what is done from a start to an end is kept apart: what ends before that, at its start."""
        until = end + apart.tail * self._setting.slot_min
        return until if apart.tail >= 0 else np.maximum(until, start + self._setting.slot_min)

    def _on_the_clock(self, minute: Draws) -> Draws:
        if not self._step_min:
            return minute
        later: Draws = np.ceil(minute / self._step_min - _SAME) * self._step_min
        return later

    # --- what else it waits for -------------------------------------------------------------------------------------

    def _starts_of(self, name: str, person: int, needed_min: float) -> Starts:
        """Return when an operation can begin that a person works on for so long in one go, by hours and air."""
        if name not in self._aired:
            self._aired[name] = self._starts_in_air(name)
        key, aired = (name, person, needed_min), self._aired[name]
        if key not in self._starts:
            there = self._hours[person].starts(needed_min)
            self._starts[key] = there if aired is None else there.both(aired)
        return self._starts[key]

    def _starts_in_air(self, name: str) -> Starts | None:
        """Return when the air lets an operation begin; None for at any time."""
        setting = self._setting
        spans = setting.starts(self._operations[name], first=0, last=setting.slots)
        if spans is None:
            return None
        begins = np.array([span.start * setting.slot_min for span in spans], float)
        return Starts(begins, np.array([(span.end - 1) * setting.slot_min for span in spans], float))

    def _note_wet(self, operation: Operation, start: Draws, end: Draws) -> None:
        if self._setting.keeps_dust_off(operation):
            fit = end + self._setting.airing(operation) * self._setting.slot_min
            if operation.finish is not None:
                fit = np.maximum(fit, self._coats.dust_free(operation, end, self._all))
            self._wet.add(start, fit, self._all)

    # --- what it waits for ------------------------------------------------------------------------------------------

    def _waits(self, operation: Operation) -> Iterator[Draws]:
        """Give the minutes before which an operation cannot start, by what it waits for."""
        for after in operation.after:
            end = self.ends.get(after.id)
            if end is not None:
                yield self._coats.reached(self._operations[after.id], end, after)
        coat = self._coat_of.get(operation.id)
        if coat is not None and coat in self.ends:
            yield self.ends[coat]

    def _abrading_min(self, operation: Operation, start: Draws, draws: Which) -> Draws | float:
        """Return how long the coat below is abraded first, and its dust settles, where it is too hard unplanned."""
        if operation.over is None or operation.again is None or operation.again.id in self._schedule:
            return 0.0
        below, end = self._operations[operation.over], self.ends.get(operation.over)
        if end is None or self._coats.finish(below).recoat_limit_h is None:
            return 0.0
        limits = self._limits.get(below.id)
        if limits is None:
            closes = cache(self._setting.drying_of(below).recoat_closes)
            limits = np.array([math.inf if (at := closes(ended)) is None else at for ended in end.tolist()])
            self._limits[below.id] = limits
        settling_min = self._setting.settling(operation) * self._setting.slot_min
        return np.where(start > limits[draws], float(operation.again.work_min + settling_min), 0.0)
