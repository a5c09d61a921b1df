"""What is left of pieces to be done, planned again after things went otherwise."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime

from finplan.figures import checked
from finplan.material import CoatNeed
from finplan.planning.fit_air import Looked, in_fit_air
from finplan.planning.job import job_of
from finplan.planning.piece import PlannedPiece
from finplan.planning.timing import timetable_of
from finplan.planning.wishes import Wishes
from finplan.reading import GivenDate
from finplan.timetable import Job, Kept, Timetable, TimetableStep, dry_from, first_stretches, kept_rest, numbered


def replanned(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    before: Timetable,
    *,
    coats: Callable[[], Sequence[CoatNeed]],
    now: datetime,
    wishes: Wishes,
) -> Kept:
    """Return the timetable of what is left to do, in which as little moves as can be.

    Where a date is missed in that, or not kept as surely as the shop wants, all is planned anew as well: that is taken
    where it is less late, or surer by what is worth it, or as sure as is wanted. Where no plan keeps every date any
    more, what is planned anew is what is ready as early as can be, whatever the dates.

    Parameters
    ----------
    pieces, deliveries, now, wishes
        As for ``timetable_of``
    before
        The timetable whose rest it is; where it has not all that is left, all is planned anew
    coats
        Gives how much every coat takes

    Raises
    ------
    NotFoundYetError
        As for ``timetable_of``.
    """

    def planned(air_waits_h: Mapping[str, float]) -> Looked:
        kept = _replanned(pieces, deliveries, before, now, wishes, air_waits_h)
        return Looked(kept, lambda: kept)

    return in_fit_air(planned, pieces, coats, now=now, done=wishes.done)


def _replanned(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    before: Timetable,
    now: datetime,
    wishes: Wishes,
    air_waits_h: Mapping[str, float],
) -> Kept:
    job = replace(job_of(pieces, deliveries, now, wishes), air_waits_h=air_waits_h)
    dry = dry_from(job, stood={step: row.start for step, row in first_stretches(before.steps).items()})

    def rest_of(rows: Sequence[TimetableStep]) -> Kept | None:
        kept = kept_rest(job, rows, before.buffer, limit_s=wishes.limit_s)
        if kept is None:
            return None
        steps = numbered(kept.timetable.steps, wishes.numbers)
        table = replace(kept.timetable, steps=steps, notes=(*dry, *kept.timetable.notes))
        return replace(kept, timetable=checked(table, "the timetable"))

    kept = rest_of(before.steps)
    if kept is not None:
        table = kept.timetable
        if _lateness_h(table) == 0 and not table.unsure and not _later_day(table, before, wishes):
            return kept
    anew = timetable_of(pieces, deliveries, now=now, wishes=wishes, air_waits_h=air_waits_h)
    if kept is not None and not anew.has_plan:
        undated = replace(wishes, asap=True, answers=False)
        early = timetable_of(pieces, [None] * len(pieces), now=now, wishes=undated, air_waits_h=air_waits_h)
        sooner = rest_of(early.steps) if early.has_plan else None
        if sooner is not None and _lateness_h(sooner.timetable) < _lateness_h(kept.timetable):
            kept = sooner
    if kept is not None and (not anew.has_plan or not _better(anew, kept.timetable, job, asap=wishes.asap)):
        return _with_help(kept, anew)
    if anew.has_plan and any(piece.owed for piece in job.pieces):  # what can catch fire is cleaned up first
        first = kept_rest(job, anew.steps, anew.buffer, limit_s=wishes.limit_s)
        if first is not None and _lateness_h(first.timetable) <= _lateness_h(anew):
            steps = numbered(first.timetable.steps, wishes.numbers)
            anew = replace(first.timetable, steps=steps, would_be_sure=anew.would_be_sure)
    anew = replace(anew, notes=(*dry, *anew.notes))
    if anew.has_plan and not anew.steps:  # nothing is left to be begun
        anew = replace(anew, latest_safe_start=None, earliest_ready=None)
    return Kept(anew, now)


def _with_help(kept: Kept, anew: Timetable) -> Kept:
    """Return the rest with what would help: what was tried for the plan made *anew*, but for dates, which are its own.

    By how much sooner it would be ready is not said: that was reckoned against the plan made anew.
    """
    if _lateness_h(kept.timetable) > 0:
        fits = dict.fromkeys((*(fit for clash in anew.clashes for fit in clash.would_fit), *anew.would_be_sure))
        tried = (replace(fit, gain_h=None, gain_working_h=None) for fit in fits if fit.kind != "date")
        return replace(kept, timetable=replace(kept.timetable, would_be_in_time=(*tried, *kept.dates)))
    tried = (fit for fit in anew.would_be_sure if fit.kind != "date")
    return replace(kept, timetable=replace(kept.timetable, would_be_sure=(*tried, *kept.dates)))


def _better(anew: Timetable, kept: Timetable, job: Job, *, asap: bool) -> bool:
    """Return whether a plan that was made anew is worth that everything in it moves."""
    late_h = _lateness_h(anew), _lateness_h(kept)
    if late_h[0] != late_h[1]:
        return late_h[0] < late_h[1]
    if kept.unsure:
        worth = job.catalogue.time_in_hand["common"].worth_moving_pct / 100
        return not anew.unsure or _least_sure(anew) >= _least_sure(kept) + worth
    return asap and not anew.unsure and _ready_day(anew) < _ready_day(kept)


def _lateness_h(table: Timetable) -> float:
    """Return by how much all pieces together are late for their dates. [h]"""
    return sum(max(0.0, -piece.buffer_h) for piece in table.pieces if piece.buffer_h is not None)


def _least_sure(table: Timetable) -> float:
    return min((piece.in_time for piece in table.pieces if piece.in_time is not None), default=1.0)


def _ready_day(table: Timetable) -> date:
    return max(piece.ready for piece in table.pieces).date()


def _later_day(table: Timetable, before: Timetable, wishes: Wishes) -> bool:
    """Return whether what is to be ready as early as can be is ready a day later than before."""
    return wishes.asap and _ready_day(table) > _ready_day(before)
