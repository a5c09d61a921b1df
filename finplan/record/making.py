"""What makes a plan of pieces from what is asked as it was typed: a new one, the rest of one, or one that is held."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from finplan.inputs import LeadTest
from finplan.ledger import RepairEntry
from finplan.planning import (
    Plan,
    PlannedPiece,
    Wishes,
    confidence_of,
    date_of,
    done_of,
    named_done,
    seconds_of,
    start_of,
)
from finplan.record.asked import Asked
from finplan.record.film_tested import NOTHING_TESTED, with_results
from finplan.record.finished import completed
from finplan.record.on_record import with_repairs
from finplan.record.reading import Making
from finplan.timetable import Progress


def plan_maker(
    pieces: Sequence[PlannedPiece],
    moment: datetime,
    *,
    sure: str = "90 %",
    limit: str | None = None,
    lose: str | None = None,
    earliest: bool = True,
    progress: Progress | None = None,
) -> Making:
    """Return what makes a plan of pieces; it raises ``WishError`` where something that is asked is not understood.

    Parameters
    ----------
    pieces
        What is planned
    moment
        Now: work begins no sooner unless that is asked
    sure, limit, lose
        As typed: how sure to be of amounts, how many seconds to search, a day that is lost
    earliest
        Whether the earliest finish is wanted among the answers
    progress
        Told what is being done
    """
    as_read = tuple(pieces)
    zone = as_read[0].source.shop.time_zone

    def make(
        asked: Asked,
        *,
        now: datetime | None,
        done: Mapping[str, datetime],
        numbers: Mapping[str, int],
        repairs: Sequence[RepairEntry] = (),
        results: Mapping[str, LeadTest] = NOTHING_TESTED,
    ) -> Plan:
        pieces = with_repairs(with_results(as_read, results), repairs)
        start = start_of(asked.start, zone, moment) if now is None else now
        wishes = Wishes(
            asap=asked.asap,
            largest_buffer=asked.largest_buffer,
            ready_for=asked.ready_for,
            done=done_of(pieces, named_done(asked.done, start, zone), max(start, moment)),
            limit_s=seconds_of(limit),
            lost_day=None if lose is None else date_of("lose", lose).day,
            earliest=earliest,
            soonest=moment,
            numbers=numbers,
            progress=progress,
        )
        deliver = None if asked.deliver is None else date_of("deliver", asked.deliver)
        plan = Plan(pieces, start, deliver, confidence_of(sure), wishes)
        if done:
            whole = completed(plan, {**done, **wishes.done})
            plan = replace(plan, wishes=replace(plan.wishes, done=whole))
        return plan

    return make
