"""Trying what a maker could change: by the plan that is made at once; a search is asked where that leaves it open."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from finplan.timetable.blocked import blocked
from finplan.timetable.found import Found, NotFoundYetError
from finplan.timetable.help.change import Change, Way, Ways
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.least_late import Progress
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure, roughly_sure_of

_TRY_S = 10.0
"""A change that is not shown to fit in this time, or in what is left of all of it, is not offered. [s]"""
_SEARCHES = 16
"""So often a search is asked where the plan that is made at once is late and waits alone would let it be in time."""
_OF_MANY = 2_500
"""So many operations are planned anew in all, of a job of more than one model takes: twenty pieces some five times."""
_SHIFTED = 2_000
"""So many tasks are placed to move a plan of many pieces back and up again: it only has to show what helps."""


@dataclass(frozen=True)
class Tried:
    """A plan of a changed job that keeps every date."""

    planner: Planner
    found: Found

    def ready(self, key: str) -> datetime:
        """Return when a piece is ready."""
        piece = next(work for work in self.planner.job.pieces if work.key == key)
        return self.planner.setting.clock_of_slot(self.planner.ready_slot(piece, self.found))

    @property
    def all_ready(self) -> datetime:
        """When the last piece is ready."""
        return max(self.ready(piece.key) for piece in self.planner.job.pieces)

    @cached_property
    def in_time(self) -> float | None:
        """How likely the date that is least sure is kept; None where there is none."""
        return None if self.sure.in_time is None else self.sure.least

    @cached_property
    def sure(self) -> Sure:
        """How it fares; of many pieces roughly where it is not sure enough."""
        return roughly_sure_of(self.planner, self.found)


class Tries:
    """Plans jobs that a maker could change theirs to, for as long as something is left of the time.

    With *surely* only what keeps every date as surely as the shop wants is taken to help. Of a *job* it is known which
    pieces are *late_alone* in it: what leaves such a one as it is, and the shop, is of no help.
    """

    def __init__(
        self,
        left_s: Callable[[], float],
        progress: Progress | None = None,
        *,
        surely: bool = False,
        job: Job | None = None,
        late_alone: Sequence[PieceWork] = (),
    ) -> None:
        self._left_s = left_s
        self._progress = progress
        self._surely, self._job, self._late_alone = surely, job, late_alone
        self._searches, self._of_many = _SEARCHES, _OF_MANY
        self.all_tried = True
        """Whether all was tried before the time was over, or enough of a job of many pieces."""

    def unless_late(self, ways: Ways, keys: Collection[str]) -> Sequence[Way]:
        """Return what could be changed of pieces, which takes time to work out; nothing where none is left."""
        return ways(keys) if self._left_s() > 0 else ()

    def kept(self, job: Job) -> Tried | None:
        """Return a plan that keeps every date; None where none is found."""
        left_s = self._left_s()
        if left_s <= 0:
            self.all_tried = False
            return None
        if self._is_no_help(job):
            return None
        planner = Planner(job, limit_s=min(_TRY_S, left_s))
        if blocked(job, planner.setting) or any(map(planner.is_late_alone, job.pieces)):
            return None
        if not planner.is_small:
            if self._of_many <= 0:
                self.all_tried = False
                return None
            self._of_many -= sum(len(piece.open) for piece in job.pieces)
            planner.maker.shifted_at_most = _SHIFTED
        try:
            found = planner.made_early(dated=True) or self._searched(planner)
        except NotFoundYetError:
            return None
        if found is None or planner.lateness(found) > 0:  # a coat that is on already may dry too late
            return None
        tried = Tried(planner, found)
        return tried if not self._surely or tried.sure.kept else None

    def _is_no_help(self, job: Job) -> bool:
        asked = self._job
        return (
            asked is not None
            and job.shop is asked.shop
            and job.earliest == asked.earliest
            and any(piece is late for piece in job.pieces for late in self._late_alone)
        )

    def _searched(self, planner: Planner) -> Found | None:
        """Return a plan that a search finds in time, where none was made at once."""
        if not planner.is_small or self._searches <= 0 or not planner.may_keep_dates():
            return None
        self._searches -= 1
        return planner.searched_in_time()

    def smallest(self, way: Way, gain: Callable[[Tried], float]) -> tuple[Change, Tried] | None:
        """Return the smallest change of a way that helps, and of those that are as small the one that gains most."""
        steps = way.steps
        last = self._best(steps[-1], gain)
        if last is None or len(steps) == 1:
            return last
        if not way.each_helps_more:
            bests = (self._best(step, gain) for step in steps[:-1])
            return next((helps for helps in bests if helps is not None), last)
        low, high, best = -1, len(steps) - 1, last
        while high - low > 1:
            middle = (low + high) // 2
            tried = self._best(steps[middle], gain)
            if tried is None:
                low = middle
            else:
                high, best = middle, tried
        return best

    def _best(self, step: Sequence[Change], gain: Callable[[Tried], float]) -> tuple[Change, Tried] | None:
        best: tuple[float, Change, Tried] | None = None
        for change in step:
            if self._progress is not None:
                self._progress(change.remedy)
            job = change.job()
            kept = None if job is None else self.kept(job)
            if kept is not None and (best is None or gain(kept) > best[0]):
                best = (gain(kept), change, kept)
        return None if best is None else best[1:]
