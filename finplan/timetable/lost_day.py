"""What becomes of a plan when a day is lost: what was done before it stays, the rest is planned anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from finplan.timetable.answer import drafted
from finplan.timetable.calendar import day_begins
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.least_late import Progress
from finplan.timetable.operation import Operation, all_operations, planned_minutes
from finplan.timetable.rows import in_order
from finplan.timetable.timetable import Timetable, TimetableStep


def with_lost_day(
    job: Job,
    planned: Timetable,
    day: date,
    *,
    asap: bool = False,
    largest_buffer: bool = False,
    limit_s: float | None = None,
    progress: Progress | None = None,
) -> Timetable:
    """Return the timetable after nobody worked on a day though it was planned: what was done before, and the rest anew.

    A shift that began the evening before is worked to its end.

    Parameters
    ----------
    job
        The job
    planned
        Its timetable
    day
        The day that is lost
    asap, largest_buffer, limit_s, progress
        As for ``drafted``, of the rest
    """
    shop = job.shop.model_copy(update={"closed": job.shop.closed | {day}})
    lost_from = day_begins(shop, day)
    kept = [row for row in planned.steps if row.start < lost_from]
    before = [row for row in kept if row.kind == "attended"]
    pieces = tuple(_as_of(piece, before) for piece in job.pieces)
    if not any(piece.open for piece in pieces):
        return planned
    rest = replace(job, pieces=pieces, shop=shop, earliest=max(job.earliest, lost_from), lost_day=day)
    after = drafted(rest, asap=asap, largest_buffer=largest_buffer, limit_s=limit_s, progress=progress).told()
    if not after.has_plan:
        return after
    begun = [_is_begun(piece, before) for piece in job.pieces]
    times = tuple(
        replace(piece, start=was.start) if is_begun else piece
        for piece, was, is_begun in zip(after.pieces, planned.pieces, begun, strict=True)
    )
    return replace(
        after,
        steps=in_order((*kept, *after.steps)),
        pieces=times,
        start=min(piece_times.start for piece_times in times),
        latest_safe_start=None if any(begun) else after.latest_safe_start,
    )


def _is_begun(piece: PieceWork, before: Sequence[TimetableStep]) -> bool:
    names = {operation.id for operation in all_operations(piece.operations)}
    return any(row.id in names for row in before)


def _as_of(piece: PieceWork, before: Sequence[TimetableStep]) -> PieceWork:
    """Return a piece with what was done: what was begun keeps what is left of it."""
    done = dict(piece.done)
    operations: list[Operation] = []
    for operation in piece.operations:
        rows = [row for row in before if row.id == operation.id]
        left_min = operation.work_min - _worked_min(rows)
        if rows and left_min <= 0:
            done[operation.id] = rows[-1].end
        elif rows:
            operation = replace(operation, work_min=planned_minutes(left_min / 60))
        again = operation.again
        if again is not None and any(row.id == again.id for row in before):
            operation = replace(operation, over=None, again=None)  # it may come when it likes
        operations.append(operation)
    return replace(piece, operations=tuple(operations), done=done)


def _worked_min(rows: Sequence[TimetableStep]) -> int:
    # In one zone times are taken from one another by the clock on the wall, which may have been put on or back.
    return sum(round((row.end.timestamp() - row.start.timestamp()) / 60) for row in rows)
