"""Pieces as a job for the timetable."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from finplan.planning.piece import PlannedPiece
from finplan.planning.wishes import Wishes
from finplan.reading import GivenDate
from finplan.timetable import Job, PieceWork, rack_needs


def job_of(
    pieces: Sequence[PlannedPiece], deliveries: Sequence[GivenDate | None], now: datetime, wishes: Wishes
) -> Job:
    """Return pieces of one shop as a job for the timetable; arguments as for ``timetable_of``."""
    works = tuple(work_of(piece, deliver, wishes.done) for piece, deliver in zip(pieces, deliveries, strict=True))
    first = pieces[0]
    catalogue = first.times.over(first.source.catalogue)
    shop, times = first.source.shop, first.times
    return Job(works, catalogue, shop, now, wishes.ready_for, times=times, measured=wishes.measured)


def work_of(piece: PlannedPiece, deliver: GivenDate | None, done: Mapping[str, datetime]) -> PieceWork:
    """Return the work on a piece; of what is *done*, that which is this piece's."""
    of_piece = {operation.id: done[operation.id] for operation in piece.operations if operation.id in done}
    rack = rack_needs(piece.treatments, piece.surface)
    return PieceWork(piece.name, piece.key, piece.operations, rack, deliver, of_piece)
