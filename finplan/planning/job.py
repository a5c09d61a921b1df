"""Pieces as a job for the timetable."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from finplan.planning.approval import Approval, approval_of, with_approval
from finplan.planning.piece import PlannedPiece
from finplan.planning.wishes import Wishes
from finplan.reading import GivenDate
from finplan.timetable import Job, Operation, PieceWork, owed_clean_ups, rack_needs


def job_of(
    pieces: Sequence[PlannedPiece], deliveries: Sequence[GivenDate | None], now: datetime, wishes: Wishes
) -> Job:
    """Return pieces of one shop as a job for the timetable; arguments as for ``timetable_of``."""
    owed = owed_clean_ups((operation for piece in pieces for operation in piece.operations), wishes.done)
    works = tuple(
        replace(
            work_of(piece, deliver, wishes.done, approval_of(piece, now, wishes.done)),
            owed=tuple(operation for operation in owed if any(coat.clean_up is operation for coat in piece.operations)),
        )
        for piece, deliver in zip(pieces, deliveries, strict=True)
    )
    first = pieces[0]
    catalogue = first.times.over(first.source.catalogue)
    shop, times = first.source.shop, first.times
    begins = now.astimezone(shop.time_zone)  # its day is told, and it is that of the shop
    return Job(works, catalogue, shop, begins, wishes.ready_for, times=times, measured=wishes.measured)


def work_of(
    piece: PlannedPiece, deliver: GivenDate | None, done: Mapping[str, datetime], approval: Approval | None = None
) -> PieceWork:
    """Return the work on a piece; of what is *done*, that which is this piece's.

    Its first coats wait for the *approval* of its sample, where there is one.
    """
    of_piece = {operation.id: done[operation.id] for operation in piece.operations if operation.id in done}
    rack = rack_needs(piece.treatments, piece.surface)
    operations = tuple(_as_abraded(operation, done) for operation in piece.operations)
    if approval is not None:
        operations, signed = with_approval(piece, operations, approval)
        of_piece |= signed
    return PieceWork(piece.name, piece.key, operations, rack, deliver, of_piece)


def _as_abraded(coat: Operation, done: Mapping[str, datetime]) -> Operation:
    """Return a coat that waits no more for what is below it to be abraded, where that has been done since."""
    at = None if coat.again is None else done.get(coat.again.id)
    below = None if coat.over is None else done.get(coat.over)
    return coat if at is None or below is None or at < below else replace(coat, over=None, again=None)
