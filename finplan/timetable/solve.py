"""From a job to a plan: as late as is safe, or as early as can be.

A plan is made at once by placing one operation after another (``at_once``). What is not too much for one model is then
searched for the best there is, from that plan on; what is, is made better a piece at a time (``search``). How long each
search goes on is counted in the solver's own steps, so that every machine gets the same plan; the clock is only a net
beyond that.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Collection
from dataclasses import replace

from finplan.scheduling import EarliestFinish, LargestSlack, LatestStarts
from finplan.timetable.found import Found
from finplan.timetable.job import PieceWork
from finplan.timetable.problem import Window
from finplan.timetable.ready_early import EarlyPlanner
from finplan.timetable.timetable import Buffer
from finplan.timetable.windows import WEEKS


class Planner(EarlyPlanner):
    """Plans the pieces of a job, again and again under other wishes, in one setting."""

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

    def least_sooner_h(self, piece: PieceWork, buffer: Buffer, ready: int) -> float:
        """Return how much sooner a piece is asked for at least, so that with a buffer it is before a slot. [h]

        By less the slot it has to be ready by may stay the same: it may be the first after a break.
        """

        def sooner_h(slots: int) -> float:
            return max(0.0, slots - 0.5) * self.setting.slot_min / 60  # rounded up to whole slots

        def is_before(slots: int) -> bool:
            due = self.due_with(piece, replace(buffer, sooner_h={piece.key: sooner_h(slots)}))
            return due is None or due < ready

        return sooner_h(bisect_left(range(self.setting.slots), True, key=is_before))

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
        already = self._least_left(made, buffer) if several and made is not None else None
        found = None
        if self.is_small and (already is None or already < self._most_left(buffer)):
            found = self._safest(early, made if several else None, kept, buffer, slots)
        if found is None or (already is not None and already >= self._least_left(found, buffer)):
            found = early if made is None else self._better(made, late=True, tidy=tidy)
        return replace(found, buffer=buffer)

    def _most_left(self, buffer: Buffer) -> int:
        """Return what no plan leaves more of before every date, each piece alone in the shop. [slots]"""
        left: list[int] = []
        for piece in self.job.pieces:
            due = self.due(piece)
            if due is not None and piece.open:
                soonest = self.maker.soonest(piece.key)
                count = self.working.up_to
                left.append(count(due) - count(soonest) if buffer.working else due - soonest)
        return min(left, default=0)

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

    def refined(self, made: Found) -> Found:
        """Return a plan for ``late`` that was made at once, made better where it is too much for one model."""
        return made if self.is_small else self._better(made, late=True, tidy=True)

    def moved_back(self, found: Found, buffer: Buffer) -> Found | None:
        """Return a plan that leaves a buffer, as late as can be in the order of another; None where it has no room."""
        return self._at_once.moved_back(found, buffer)

    def begins_later(self, found: Found, than: Found) -> bool:
        """Return whether a plan for ``late`` is better than another: less is abraded again, or all begins later."""
        return self._at_once.late_score(found.schedule) < self._at_once.late_score(than.schedule)

    def gained(self, found: Found, than: Found) -> float:
        """Return which part a plan for ``late`` gains of what another loses against each piece alone in the shop."""
        stages = self._search.against_bound(than, late=True).result.stages
        lost = next((stage.bound - stage.value for stage in stages if isinstance(stage.objective, LatestStarts)), 0)
        begun = [-self._at_once.late_score(plan.schedule)[1] for plan in (found, than)]
        return (begun[0] - begun[1]) / lost if lost else 0.0

    def against_all(self, found: Found) -> Found:
        """Return a plan with how far it may be from the best; of one made at once against all pieces together."""
        stages = found.result.stages
        alone = (LatestStarts(()), EarliestFinish(()))
        if stages and all(stage.proven or stage.objective not in alone for stage in stages):
            return found
        late = not stages or any(stage.objective == LatestStarts(()) for stage in stages)
        bounded = self._search.against_bound(found if stages else self._dated(found), late=late, together=True)
        return replace(found, result=replace(bounded.result, cut_short=found.result.cut_short))

    def _dated(self, found: Found) -> Found:
        """Return a plan that was made at once with its dates: how early it could be ready was not asked."""
        dues = self._dates.dues(found.buffer)
        windows = {key: replace(window, due=dues.get(key)) for key, window in found.windows.items()}
        return replace(found, windows=windows)
