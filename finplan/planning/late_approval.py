"""Until when the sample of a piece may be approved with every date kept, found by planning from it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from finplan.planning.piece import PlannedPiece
from finplan.timetable import Slips, Timetable, first_stretches

_SHARES = (1, 0.5, 0.25)
"""So much of the time that the first coats seem to be able to wait is tried, until that is found to do."""


def approval_keeps(
    piece: PlannedPiece, planned: Timetable, slips: Slips, can_wait: Callable[[datetime], bool]
) -> datetime | None:
    """Return until when its first coats may wait for an approval; None where that is not known.

    Parameters
    ----------
    piece
        The piece, not its sample
    planned
        The timetable
    slips
        What it costs when that slips
    can_wait
        Whether a plan is found that keeps every date where the first coats of the piece wait until a moment

    Notes
    -----
    Latest starts put off one step and what is planned after it; an approval holds up the first coats of all items, for
    which the room and one pair of hands may be too little then. The first of them as it is planned always does.
    """
    rows = first_stretches(planned.steps)
    coats = [operation.id for operation in piece.operations if operation.finish is not None and operation.id in rows]
    latest = [slips.latest[name] for name in coats if name in slips.latest]
    if not latest:
        return None
    first, last = min(rows[name].start for name in coats), min(latest)
    for share in _SHARES:
        moment = (first + (last - first) * share).replace(second=0, microsecond=0)
        if moment > first and can_wait(moment):
            return moment
    return first
