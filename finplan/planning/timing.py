"""The timetable of pieces as they were read, and what could be changed where it does not fit."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from finplan.figures import checked
from finplan.planning.approval import signed_id
from finplan.planning.changes import ways_of
from finplan.planning.job import job_of
from finplan.planning.piece import PlannedPiece
from finplan.planning.wishes import Wishes
from finplan.reading import GivenDate
from finplan.timetable import Draft, Slips, Timetable, Way, drafted, keeps_dates, numbered, slips_of, with_lost_day


def timetable_of(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    *,
    now: datetime,
    wishes: Wishes | None = None,
    air_waits_h: Mapping[str, float] = MappingProxyType({}),
) -> Timetable:
    """Return the timetable of pieces in one shop.

    Parameters
    ----------
    pieces
        The pieces; all read with the same shop
    deliveries
        The date of each; None for none
    now
        The earliest moment at which work may start; knows its time zone
    wishes
        What else is wanted
    air_waits_h
        By the ids of rows, how long after them nothing makes dust in their room; none of those it leaves out. [h]

    Raises
    ------
    NotFoundYetError
        No plan was found in the time, and none was proven impossible.
    """
    return draft_of(pieces, deliveries, now=now, wishes=wishes or Wishes(), air_waits_h=air_waits_h).told()


def draft_of(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    *,
    now: datetime,
    wishes: Wishes,
    air_waits_h: Mapping[str, float],
) -> Draft:
    """Return the timetable of pieces in one shop, and the rest of it once it is asked for; as ``timetable_of``."""
    job = replace(job_of(pieces, deliveries, now, wishes), air_waits_h=air_waits_h)

    def ways(late: Collection[str]) -> list[Way]:
        return list(ways_of(pieces, job, wishes.soonest, late)) if wishes.answers else []

    draft = drafted(
        job,
        asap=wishes.asap,
        largest_buffer=wishes.largest_buffer,
        limit_s=wishes.limit_s,
        answers=wishes.answers,
        earliest=wishes.earliest,
        ways=ways,
        progress=wishes.progress,
    )
    if wishes.lost_day is not None and draft.timetable.has_plan:
        draft = Draft.of(
            with_lost_day(
                job,
                draft.told(),
                wishes.lost_day,
                limit_s=wishes.limit_s,
                asap=wishes.asap,
                largest_buffer=wishes.largest_buffer,
                progress=wishes.progress,
            )
        )

    def finished(planned: Timetable) -> Timetable:
        return checked(replace(planned, steps=numbered(planned.steps, wishes.numbers)), "the timetable")

    return Draft(finished(draft.timetable), lambda: finished(draft.told()))


def slips_if_late(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    planned: Timetable,
    *,
    now: datetime,
    wishes: Wishes,
) -> Slips:
    """Return what it costs when a plan slips; the other arguments as for ``timetable_of``."""
    job = replace(job_of(pieces, deliveries, now, wishes), air_waits_h=planned.air_waits_h)

    def can_begin(moment: datetime) -> bool:
        return _keeps_dates(pieces, deliveries, moment, wishes, planned.air_waits_h)

    return slips_of(job, planned.steps, can_begin)


def keeps_dates_approved(
    piece: PlannedPiece,
    moment: datetime,
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    planned: Timetable,
    *,
    now: datetime,
    wishes: Wishes,
) -> bool:
    """Return whether a plan is found that keeps every date where the sample of a piece is approved at a moment."""
    waits = replace(wishes, done={**wishes.done, signed_id(piece): moment})
    return _keeps_dates(pieces, deliveries, now, waits, planned.air_waits_h)


def _keeps_dates(
    pieces: Sequence[PlannedPiece],
    deliveries: Sequence[GivenDate | None],
    now: datetime,
    wishes: Wishes,
    air_waits_h: Mapping[str, float],
) -> bool:
    """Return whether a plan is found that keeps every date; the first that is found will do."""
    if wishes.lost_day is not None:
        soon = replace(wishes, asap=True, answers=False)
        return timetable_of(pieces, deliveries, now=now, wishes=soon, air_waits_h=air_waits_h).has_plan
    job = replace(job_of(pieces, deliveries, now, wishes), air_waits_h=air_waits_h)
    return keeps_dates(job, limit_s=wishes.limit_s)
