"""A timetable in which nothing is sanded before the air of the room is fit for it, where the dates leave room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.material import CoatNeed
from finplan.planning.piece import PlannedPiece
from finplan.planning.surroundings import around_of
from finplan.safety import SandingAir, may_be_reckoned, sanding_air
from finplan.timetable import Kept, NotFoundYetError, Timetable, rows_before


@dataclass(frozen=True, slots=True)
class Looked:
    """A timetable that is looked at."""

    kept: Kept
    told: Callable[[], Kept]
    """Gives all that is told of it: asked only of the one that is worked by."""


Planning = Callable[[Mapping[str, float]], Looked]
"""Makes a timetable: by the ids of rows, how long after them nothing makes dust in their room. [h]"""


def in_fit_air(
    planned: Planning,
    pieces: Sequence[PlannedPiece],
    coats: Callable[[], Sequence[CoatNeed]],
    *,
    now: datetime,
    done: Mapping[str, datetime],
) -> Kept:
    """Return a timetable, made once more where it sands before the air is fit, if that keeps every date as well.

    Parameters
    ----------
    planned
        Makes it
    pieces
        What it is made for
    coats
        Gives how much every coat takes; asked only where vapour gets to where wood is sanded
    now, done
        As for ``timetable_of``: what was put on lately is in the air as well

    Notes
    -----
    What the air holds follows from who puts on what when, so it is reckoned of a plan that is made; the waits that
    follow from it are a rule of the next one. Two rounds, and of both the one that is kept is told as it is: what still
    comes too early is told at its step (``Safety.too_early``). A date that is missed is told to nobody on account of
    waits that are longer than they need be.
    """
    looked = planned({})
    unaired = looked.kept
    around = around_of(pieces[0].source)
    treatments = [treatment for piece in pieces for treatment in piece.treatments]
    if not unaired.timetable.has_plan or not may_be_reckoned(treatments, around):
        return looked.told()
    before = rows_before((operation for piece in pieces for operation in piece.operations), done, around.shop, now)

    def air(kept: Kept) -> SandingAir:
        return sanding_air(treatments, coats(), kept.timetable.steps, around, before)

    first = air(unaired)
    if not first.waits_h:
        return looked.told()
    try:
        again = planned(first.waits_h)
    except NotFoundYetError:
        return looked.told()
    kept = _keeps_dates(again.kept.timetable, unaired.timetable)
    return (again if kept and len(air(again.kept).too_early) < len(first.too_early) else looked).told()


def _keeps_dates(aired: Timetable, unaired: Timetable) -> bool:
    """Return whether a timetable misses no date that another keeps, and none by more."""
    was = {piece.piece: min(0.0, piece.buffer_h or 0.0) for piece in unaired.pieces}
    return aired.has_plan and all(
        piece.buffer_h is None or piece.buffer_h >= was[piece.piece] for piece in aired.pieces
    )
