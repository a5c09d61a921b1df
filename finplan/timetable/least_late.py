"""What all plans of a job are made and searched by, and the plan that is as little late as can be."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.at_once import AtOnce
from finplan.timetable.buffer import WorkingTime
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found, broken
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.problem import Placement, Window
from finplan.timetable.remedy import Remedy
from finplan.timetable.requirement import NoRoomFor
from finplan.timetable.search import Search
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import NO_BUFFER, Buffer
from finplan.timetable.waits import Waits
from finplan.timetable.windows import Windows

if TYPE_CHECKING:
    from finplan.timetable.chance import Drawn, Lived

_NET_S, _NET_S_A_PIECE = 240.0, 30.0
"""Where nothing else is asked the clock ends a search after so long: and so much longer for each piece. [s]"""
_ONE_MODEL_UP_TO = 70
"""So many operations are looked at all together."""
PlannerStage = Literal["looking-back", "largest-buffer", "piece-by-piece"]
"""What a planner does: it looks back from the delivery, for the largest buffer, or betters a plan piece by piece."""
Progress = Callable[[PlannerStage | Remedy], None]
"""Told in words what is being done, or what is being tried."""


class InTimePlanner:
    """Plans the pieces of a job to be in time, and has what all plans of them are made and searched by."""

    def __init__(self, job: Job, *, limit_s: float | None = None, progress: Progress | None = None) -> None:
        self.job = job
        limit_s = _NET_S + _NET_S_A_PIECE * len(job.pieces) if limit_s is None else limit_s
        self._deadline = time.monotonic() + limit_s
        self._progress = progress
        self.setting = Setting(job)
        self.working = WorkingTime(self.setting)
        self.waits = Waits(self.setting, job.ready_for)
        self.maker = Maker(job.pieces, self.setting, self.waits, lambda: self.left_s)
        self._dates = Dates(job, self.setting, self.working)
        self._windows = Windows(self._dates, self.waits, self.maker)
        self._at_once = AtOnce(self._dates, self._windows, self.maker)
        self._search = Search(self._dates, self._windows, self._at_once, self.maker, lambda: self.left_s)
        self._least: dict[tuple[object, ...], Found | None] = {}
        self.is_small = sum(len(piece.open) for piece in job.pieces) <= _ONE_MODEL_UP_TO
        """Whether all is searched as one model."""
        self.lives: dict[tuple[frozenset[tuple[str, Scheduled]], bool], Lived] = {}
        """How plans fare that were lived through, and whether only in few draws."""

    @cached_property
    def luck(self) -> Drawn:
        """What is drawn of work and drying: every plan of the job is lived through with the same luck."""
        from finplan.timetable.chance import SEED, Drawn, draws_of

        return Drawn(self.setting, self.job.pieces, SEED, draws=draws_of(self.job.pieces))

    @cached_property
    def few_draws(self) -> Drawn:
        """What is drawn where it only has to show whether dates have to be moved up."""
        from finplan.timetable.chance import SEED, Drawn, few_draws_of

        return Drawn(self.setting, self.job.pieces, SEED, draws=few_draws_of(self.job.pieces))

    @property
    def left_s(self) -> float:
        """What is left of the time: the net beyond the counted effort. [s]"""
        return self._deadline - time.monotonic()

    def goes_on(self, left_s: float) -> None:
        """Have so much time left, however long something else took meanwhile."""
        self._deadline = time.monotonic() + left_s

    @property
    def faults(self) -> list[str]:
        """Which rule was broken, for each plan that was found and not taken for it."""
        return self._at_once.faults

    @property
    def stuck(self) -> NoRoomFor | None:
        """What finds no room in all the time that is looked at, where there is no plan whatever the dates."""
        return self._at_once.stuck

    @property
    def undecided(self) -> bool:
        """Whether it was ever left open that there is no plan where none was found."""
        return self._search.undecided

    def proven_impossible(self) -> bool:
        """Return whether no plan keeps every date: a search came to its end, or a piece is late even alone."""
        return any(map(self.is_late_alone, self.job.pieces)) or not (self.undecided or self.stuck)

    def is_late_alone(self, piece: PieceWork) -> bool:
        """Return whether a piece is late, or never ready at all, though it have the shop to itself."""
        due = self.due(piece)
        alone = self.setting.slots - 1 if due is None else due
        return bool(piece.open) and self.maker.latest(piece.key, alone) is None

    # --- dates --------------------------------------------------------------------------------------------------------

    def due(self, piece: PieceWork) -> int | None:
        """Return the slot by which a piece has to be ready."""
        return self._dates.due(piece)

    def due_with(self, piece: PieceWork, buffer: Buffer) -> int | None:
        """Return the slot by which a piece has to be ready with so much to spare."""
        return self._dates.due_with(piece, buffer)

    def ready_slot(self, piece: PieceWork, found: Found) -> int:
        """Return when a piece is ready: what is still to be done, and the coats that have been put on already."""
        return self._dates.ready_slot(piece, found)

    def start_slot(self, piece: PieceWork, schedule: Mapping[str, Scheduled]) -> int:
        """Return when the work on a piece begins."""
        return self._dates.start_slot(piece, schedule)

    def placement(self, windows: Mapping[str, Window], *, turns: bool = True) -> Placement:
        """Return the problem of the pieces that have a window; *turns*: with what only helps a search."""
        return self._windows.placement(windows, turns=turns)

    # --- in time, or as little late as can be -------------------------------------------------------------------------

    def least_late(self, buffer: Buffer = NO_BUFFER) -> Found | None:
        """Return the plan whose latest piece is as little late as can be for its date with a buffer."""
        key = (buffer.wanted_h, buffer.working, *sorted(self._dates.dues(buffer).items()))
        if key not in self._least:
            self._least[key] = self._found_least_late(buffer)
        return self._least[key]

    def _found_least_late(self, buffer: Buffer) -> Found | None:
        made = self._at_once.least_late(buffer)
        if made is None:
            return None
        due = self._dates.dues(buffer)
        lateness = self._at_once.lateness(made.schedule, due)
        if lateness == 0:
            return made
        if not self.is_small:
            self._search.undecided = True
            return self._at_once.less_late(made, buffer)
        return self._search.least_late(made, due, self._late_end(made, due), buffer)

    def _late_end(self, made: Found, due: Mapping[str, int]) -> int:
        """Return by when everything is ready in a plan that is no later for its dates than one that was made.

        From now where a date has passed: else what is due later could be late by as much, a year for a year.
        """
        ready = self.maker.ready(made.schedule)
        still = {key: max(at, self.setting.first) for key, at in due.items()}
        lateness = max([0, *(ready[key] - at for key, at in still.items() if key in ready)])
        return min(max([*ready.values(), *(at + lateness for at in still.values())]), self.setting.slots - 1)

    def may_keep_dates(self) -> bool:
        """Return whether waits alone leave room for every date, each piece begun at once."""
        return self._windows.may_keep_dates()

    def searched_in_time(self) -> Found | None:
        """Return a plan that keeps every date, searched for where none was made at once; None where none is found.

        What is too much for one model is not searched for. That something helps is all that is asked: where it does
        not, it is not searched how late all would be.
        """
        made = self._at_once.least_late(NO_BUFFER) if self.is_small else None
        if made is None:
            return None
        due = self._dates.dues(NO_BUFFER)
        lateness = self._at_once.lateness(made.schedule, due)
        if lateness == 0:
            return self._at_once.in_time(made, NO_BUFFER)
        found = self._search.in_time(made, due, self._late_end(made, due), NO_BUFFER)
        return None if found is None else self._at_once.in_time(found, NO_BUFFER)

    def _in_time(self, buffer: Buffer) -> Found | None:
        """Return a plan that keeps every date with a buffer, where none was made at once; None where none is found."""
        due = self._dates.dues(buffer)
        if any(self.maker.latest(key, at) is None for key, at in due.items()):
            return None  # not even alone in the shop
        least = self.least_late(buffer) if self.is_small or buffer == NO_BUFFER else self._less_late_than_early(buffer)
        if least is None or self._at_once.lateness(least.schedule, due) > 0:
            return None
        return self._at_once.in_time(least, buffer)

    def _less_late_than_early(self, buffer: Buffer) -> Found | None:
        """Return a plan that may leave a buffer, made of one that is ready early; None where that misses a date.

        Of many pieces that is wanted anyway where this leaves it not, and finds as much as one for the buffer alone.
        """
        early = self._at_once.early(dated=True) or self.least_late()
        if early is None or self._at_once.lateness(early.schedule, self._dates.dues(NO_BUFFER)) > 0:
            return None
        return self._at_once.less_late(early, buffer)

    def lateness(self, found: Found) -> int:
        """Return by how much all pieces together are late for their dates. [slots]"""
        dues = ((piece, self.due(piece)) for piece in self.job.pieces)
        return sum(max(0, self.ready_slot(piece, found) - due) for piece, due in dues if due is not None)

    def put_back(self, plan: Schedule, buffer: Buffer) -> Found | None:
        """Return a plan that was put back after things went otherwise; None where it breaks a rule."""
        found = self._at_once.as_found(plan, {}, buffer)
        return None if broken(found.placement, plan) else found

    # --- bettering ----------------------------------------------------------------------------------------------------

    def _better(self, made: Found, *, late: bool, tidy: bool) -> Found:
        """Return a plan that was made at once, made better where it is too much for one model."""
        if tidy and not self.is_small:
            self._tell("piece-by-piece")
            made = self._search.improved(made, late=late)
        return self._search.against_bound(made, late=late)

    def _tell(self, doing: PlannerStage) -> None:
        if self._progress is not None:
            self._progress(doing)
