"""From a job to a plan: as late as is safe, or as early as can be.

A plan is made at once by placing one operation after another (``at_once``). What is not too much for one model is then
searched for the best there is, from that plan on; what is, is made better a piece at a time (``search``). How long each
search goes on is counted in the solver's own steps, so that every machine gets the same plan; the clock is only a net
beyond that.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from finplan.scheduling import EarliestFinish, LargestSlack, LatestStarts, Schedule, Scheduled
from finplan.timetable.at_once import AtOnce
from finplan.timetable.blocked import blocked
from finplan.timetable.buffer import WorkingTime
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found, NotFoundYetError, broken
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.problem import Placement, Window
from finplan.timetable.remedy import Remedy
from finplan.timetable.requirement import NoRoomFor
from finplan.timetable.search import Search
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import NO_BUFFER, Buffer
from finplan.timetable.waits import Waits
from finplan.timetable.windows import WEEKS, Windows

if TYPE_CHECKING:
    from finplan.timetable.chance import Drawn

_NET_S, _NET_S_A_PIECE = 240.0, 30.0
"""Where nothing else is asked the clock ends a search after so long: and so much longer for each piece. [s]"""
_ONE_MODEL_UP_TO = 70
"""So many operations are looked at all together."""
_FAR_LATER = 1.1
"""What is made at once for fewer people, and so much later than for all, is no better in another order either."""
PlannerStage = Literal["looking-back", "largest-buffer", "piece-by-piece"]
"""What a planner does: it looks back from the delivery, for the largest buffer, or betters a plan piece by piece."""
Progress = Callable[[PlannerStage | Remedy], None]
"""Told in words what is being done, or what is being tried."""


class Planner:
    """Plans the pieces of a job, again and again under other wishes, in one setting."""

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

    @cached_property
    def luck(self) -> Drawn:
        """What is drawn of work and drying: every plan of the job is lived through with the same luck."""
        from finplan.timetable.chance import SEED, Drawn

        return Drawn(self.setting, self.job.pieces, SEED)

    @cached_property
    def soonest_in_time(self) -> Found | None:
        """The plan that is ready as early as can be with every date kept, not made tidy; None where none is found."""
        return self.early(dated=True, tidy=False)

    @cached_property
    def few_draws(self) -> Drawn:
        """What is drawn where it only has to show whether dates have to be moved up."""
        from finplan.timetable.chance import FEW_DRAWS, SEED, Drawn

        return Drawn(self.setting, self.job.pieces, SEED, draws=FEW_DRAWS)

    @property
    def left_s(self) -> float:
        """What is left of the time: the net beyond the counted effort. [s]"""
        return self._deadline - time.monotonic()

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

    # --- dates ------------------------------------------------------------------------------------------------------

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

    # --- plans ------------------------------------------------------------------------------------------------------

    def late(self, buffer: Buffer, *, tidy: bool = True) -> Found | None:
        """Return the plan that starts as late as leaves a buffer; None where none is found.

        Without *tidy* only the start is right, and nothing is done to share clean-ups.
        """
        made = self.made_late(buffer) or self._in_time(buffer)
        if made is None or not self.is_small:
            return None if made is None else self._better(made, late=True, tidy=tidy)
        for windows, last in self._windows.late(made, buffer):
            self._tell("looking-back")
            wishes = self._search.late_wishes(self.placement(windows))
            found = self._search.solved(windows, buffer, wishes, made=made, confirm=last, tidy=tidy)
            if found is not None:
                return found
        return self._better(made, late=True, tidy=tidy)

    def made_late(self, buffer: Buffer) -> Found | None:
        """Return the plan that is made at once for ``late``; None where it finds no room, which proves nothing."""
        return self._at_once.late(buffer)

    def late_from(self, early: Found, buffer: Buffer, keys: Collection[str] = ()) -> Found | None:
        """Return the plan that is made at once for ``late``; where none is, one made of another that leaves a buffer.

        Some pieces stay in it where they are, and whatever else finds no room. None where that other leaves it not
        either.
        """
        made = self.made_late(buffer)
        if made is None and self._at_once.lateness(early.schedule, self._dates.dues(buffer)) == 0:
            made = self._at_once.late_around(early, keys, buffer)
        return made

    def begun_sooner(self, found: Found, keys: Collection[str]) -> Found:
        """Return a plan with some pieces begun and ready as early as can be, as far as the others keep their dates."""
        return self._at_once.begun_sooner(found, keys)

    def as_left(self, buffer: Buffer, found: Found) -> Buffer:
        """Return a buffer of which each piece has no more than a plan leaves it."""
        at_most = dict(buffer.at_most_h)
        for piece in self.job.pieces:
            due, ready = self.due_with(piece, buffer), self.ready_slot(piece, found)
            if due is not None and due < ready:
                left = self._dates.left_over(piece, found, working=buffer.working) or 0
                at_most[piece.key] = max(left, 0) * self.setting.slot_min / 60
        return replace(buffer, at_most_h=at_most)

    def may_be_sooner(self, piece: PieceWork, buffer: Buffer, sooner_h: float) -> bool:
        """Return whether a piece alone in the shop could be ready so much sooner than a buffer asks."""
        if not math.isfinite(sooner_h):
            return False
        due = self.due_with(piece, replace(buffer, sooner_h={**buffer.sooner_h, piece.key: sooner_h}))
        return due is not None and self.maker.latest(piece.key, due) is not None

    def safest(self, enough: Buffer | None, *, tidy: bool = True) -> Found | None:
        """Return the plan with the largest smallest buffer, up to *enough*, that starts as late as keeps it.

        What is ready as early as can be leaves some buffer: with less no piece is looked for. Of many pieces each has
        all of it that it has room for. *tidy*: as for ``late``.
        """
        self._tell("largest-buffer")
        buffer = enough or Buffer(0.0, working=self.job.shop.buffer_h is None)
        slots = None if enough is None else round(enough.wanted_h * 60 / self.setting.slot_min)
        early = self.soonest_in_time
        if early is None:
            return None
        left = self._least_left(early, buffer)
        least = left if slots is None else min(left, slots)
        kept = Buffer(least * self.setting.slot_min / 60, working=buffer.working)
        several = enough is not None and len(self.job.pieces) > 1
        made = self.late_from(early, self.as_left(buffer, early) if several else kept)
        found = self._safest(early, made if several else None, kept, buffer, slots) if self.is_small else None
        if found is None or (
            several and made is not None and self._least_left(made, buffer) >= self._least_left(found, buffer)
        ):
            found = early if made is None else self._better(made, late=True, tidy=tidy)
        return replace(found, buffer=buffer)

    def _least_left(self, found: Found, buffer: Buffer) -> int:
        """Return what a plan leaves at least before a date, in the measure of a buffer. [slots]"""
        left = (self._dates.left_over(piece, found, working=buffer.working) for piece in self.job.pieces)
        return min((slots for slots in left if slots is not None), default=0)

    def _safest(
        self, early: Found, made: Found | None, kept: Buffer, buffer: Buffer, slots: int | None
    ) -> Found | None:
        """Return the plan for ``safest`` as it is searched for, from one that leaves a buffer; None where none is.

        What has all of the buffer in a plan that was *made* begins no sooner than there: weeks of it would be searched.
        """
        windows: dict[str, Window] = {}
        for piece in self.job.pieces:
            last = self.due_with(piece, kept)
            if last is None:
                last = max(self.ready_slot(piece, early), self.setting.first + self._windows.slots(WEEKS[0]))
            first = self.setting.first
            if made is not None and piece.key not in made.buffer.at_most_h:
                first = self.start_slot(piece, made.schedule)
            windows[piece.key] = Window(first, last, self.due(piece))
        placement = self.placement(windows)
        finishes = tuple(
            self._dates.measured(finish, piece, working=buffer.working)
            for piece in self.job.pieces
            for finish in placement.finishes[piece.key]
        )
        objectives = [LargestSlack(finishes, slots), *self._search.late_wishes(placement)]
        found = self._search.solved(windows, buffer, objectives, made=made or early)
        return found if found is None or made is None else self._search.against_bound(found, late=True)

    def early(self, *, dated: bool = False, tidy: bool = True) -> Found | None:
        """Return the plan that is ready as early as can be; *dated*: with every date kept; *tidy*: as for ``late``.

        With *tidy* more is tried, and nothing is ready later than without the last of several people.
        """
        made = self.made_early(dated=dated) or (self._in_time(NO_BUFFER) if dated else None)
        return self._early(made, dated=dated, tidy=tidy)

    def _early(self, made: Found | None, *, dated: bool, tidy: bool) -> Found | None:
        """Return the plan for ``early`` from one that was *made* at once, if any was; other arguments as there."""
        found = None if made is None else self._earliest(made, dated=dated, tidy=tidy)
        if not tidy or (found is not None and found.result.status == "optimal"):
            return found
        fewer = self._by_fewer(made, dated=dated)
        if fewer is None or (found is not None and self._at_once.earliest_of(found, fewer) is found):
            return found
        return self._better(self._at_once.earlier(fewer, dated=dated, asked=tidy), late=False, tidy=tidy)

    def _earliest(self, made: Found, *, dated: bool, tidy: bool) -> Found | None:
        """Return a plan that was made at once for ``early``, made better; arguments as there."""
        if not self.is_small:
            return self._better(self._at_once.earlier(made, dated=dated, asked=tidy), late=False, tidy=tidy)
        windows = self._windows.early(made, dated=dated)
        finishes = tuple(finish for of_piece in self.placement(windows).finishes.values() for finish in of_piece)
        found = self._search.solved(windows, NO_BUFFER, [EarliestFinish(finishes)], made=made, tidy=tidy)
        stages = () if found is None else found.result.stages
        if any(stage.proven for stage in stages if isinstance(stage.objective, EarliestFinish)):
            return found
        earlier = self._at_once.earlier(found or made, dated=dated, asked=tidy)
        return found if found is not None and earlier is found else self._better(earlier, late=False, tidy=tidy)

    def _by_fewer(self, made: Found | None, *, dated: bool) -> Found | None:
        """Return the plan for ``early`` without the last of several people; None where there is none.

        What fewer people can do more can: with one more nothing has to be ready later, so they are planned for as they
        would be alone. Not tried where what is made at once for them is ready far later than what was *made* for all.
        """
        shop = self.job.shop.model_copy(update={"people": self.job.shop.people[:-1]})
        fewer = Planner(replace(self.job, shop=shop), limit_s=self.left_s)
        if not shop.people or blocked(fewer.job, fewer.setting):
            return None
        try:
            theirs = fewer.made_early(dated=dated)
            if theirs is None or (made is not None and fewer._takes(theirs) > _FAR_LATER * self._takes(made)):
                return None
            found = fewer._early(theirs, dated=dated, tidy=True)
        except NotFoundYetError:
            return None
        return None if found is None else self._at_once.in_this_shop(found.schedule, dated=dated)

    def sooner_of(self, found: Found, late: Found) -> Found:
        """Return the better one of two plans for ``early`` with every date kept, one of which was made for ``late``."""
        other = self._at_once.in_this_shop(late.schedule, dated=True)
        if other is None or self._at_once.earliest_of(found, other) is found:
            return found
        return self._search.against_bound(other, late=False)

    def _takes(self, found: Found) -> int:
        """Return how long it is from now until everything is ready in a plan. [slots]"""
        return max(self.maker.ready(found.schedule).values(), default=self.setting.first) - self.setting.first

    def made_early(self, *, dated: bool) -> Found | None:
        """Return the plan that is made at once for ``early``; None where it keeps not every date, or finds no room."""
        return self._at_once.early(dated=dated)

    def with_last_hand(self, found: Found, *, still: Collection[str] = (), coats: bool = True) -> Found | None:
        """Return a plan that is better work and keeps dates and starts; None where it is the same.

        Parameters
        ----------
        found
            The plan
        still
            Keys of pieces of which nothing moves
        coats
            Whether coats move too
        """
        return self._at_once.with_last_hand(found, still=still, coats=coats)

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
        last = max([*self.maker.ready(made.schedule).values(), *(at + lateness for at in due.values())])
        return self._search.least_late(made, due, min(last, self.setting.slots - 1), buffer)

    def put_back(self, plan: Schedule, buffer: Buffer) -> Found | None:
        """Return a plan that was put back after things went otherwise; None where it breaks a rule."""
        found = self._at_once.as_found(plan, {}, buffer)
        return None if broken(found.placement, plan) else found

    def lateness(self, found: Found) -> int:
        """Return by how much all pieces together are late for their dates. [slots]"""
        dues = ((piece, self.due(piece)) for piece in self.job.pieces)
        return sum(max(0, self.ready_slot(piece, found) - due) for piece, due in dues if due is not None)

    def may_keep_dates(self) -> bool:
        """Return whether waits alone leave room for every date, each piece begun at once."""
        return self._windows.may_keep_dates()

    def searched_in_time(self) -> Found | None:
        """Return a plan that keeps every date, searched for where none was made at once; None where none is found.

        What is too much for one model is not searched for.
        """
        return self._in_time(NO_BUFFER) if self.is_small else None

    def _in_time(self, buffer: Buffer) -> Found | None:
        """Return a plan that keeps every date with a buffer, where none was made at once; None where none is found."""
        due = self._dates.dues(buffer)
        if any(self.maker.latest(key, at) is None for key, at in due.items()):
            return None  # not even alone in the shop
        least = self.least_late(buffer)
        if least is None or self._at_once.lateness(least.schedule, due) > 0:
            return None
        return self._at_once.in_time(least, buffer)

    def refined(self, made: Found, *, as_early: bool = False) -> Found:
        """Return a plan for ``late`` that was made at once, made better where it is too much for one model.

        With *as_early* no piece is ready later than it is in that plan, however much later it is due.
        """
        if self.is_small:
            return made
        if not as_early:
            return self._better(made, late=True, tidy=True)
        ready = self.maker.ready(made.schedule)
        windows = {
            key: window if window.due is None else replace(window, due=min(window.due, ready.get(key, window.due)))
            for key, window in made.windows.items()
        }
        better = self._better(replace(made, windows=windows), late=True, tidy=True)
        dues = {key: replace(window, due=made.windows[key].due) for key, window in better.windows.items()}
        return replace(better, windows=dues)

    def against_all(self, found: Found) -> Found:
        """Return a plan with how far it may be from the best; of one made at once against all pieces together."""
        stages = found.result.stages
        alone = (LatestStarts(()), EarliestFinish(()))
        if stages and all(stage.proven or stage.objective not in alone for stage in stages):
            return found
        late = not stages or any(stage.objective == LatestStarts(()) for stage in stages)
        bounded = self._search.against_bound(found, late=late, together=True)
        return replace(found, result=replace(bounded.result, cut_short=found.result.cut_short))

    def _better(self, made: Found, *, late: bool, tidy: bool) -> Found:
        """Return a plan that was made at once, made better where it is too much for one model."""
        if tidy and not self.is_small:
            self._tell("piece-by-piece")
            made = self._search.improved(made, late=late)
        return self._search.against_bound(made, late=late)

    def _tell(self, doing: PlannerStage) -> None:
        if self._progress is not None:
            self._progress(doing)
