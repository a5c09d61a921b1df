"""The plan that keeps its dates as surely as the shop wants, and how sure a plan is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from finplan.timetable.found import Found, NotFoundYetError
from finplan.timetable.job import PieceWork
from finplan.timetable.timetable import Buffer

if TYPE_CHECKING:
    from finplan.timetable.chance import Lived
    from finplan.timetable.solve import Planner

_ROUNDS, _ROUNDS_OF_MANY = 6, 12
"""So often the dates are moved up where a plan is not sure enough: working hours make it jump, and of many pieces one
comes in the way of another."""
_HANDS = 3
"""So often pieces are left as they are, one after another, that would be less sure with the last hand on them."""
_STEP_MIN = 30.0
"""By so much at least. [min]"""


@dataclass(frozen=True, slots=True)
class Sure:
    """A plan with how it fares."""

    found: Found
    lived: Lived
    in_time: float | None
    """How likely every date is kept; None where there is none."""
    in_time_of: Mapping[str, float]
    """By piece key, how likely its own date is kept, where it has one."""
    kept: bool
    """Whether each date is as surely kept as is wanted."""
    sooner_h: Mapping[str, float] = field(default_factory=dict)
    """By piece key, by how much its date was moved up for that."""
    is_rough: bool = False
    """Whether only few draws were lived through, as they show already that it is not sure enough."""

    @property
    def least(self) -> float:
        """How surely the piece that is least so is in time; 1 where none has a date."""
        return min(self.in_time_of.values(), default=1.0)


def sure_of(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares when work and drying take more or less than is typical."""
    return _lived_through(planner, found, is_rough=False)


def roughly_sure_of(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares: one of many pieces that is not sure enough in few draws, by those alone."""
    rough = _at_a_look(planner, found)
    return in_full(planner, rough) if rough.kept else rough


def _at_a_look(planner: Planner, found: Found) -> Sure:
    """Return how a plan fares, one of many pieces in few draws."""
    return _lived_through(planner, found, is_rough=not planner.is_small)


def in_full(planner: Planner, sure: Sure) -> Sure:
    """Return how a plan fares in all draws."""
    return replace(sure_of(planner, sure.found), sooner_h=sure.sooner_h) if sure.is_rough else sure


def _lived_through(planner: Planner, found: Found, *, is_rough: bool) -> Sure:
    dues = {piece.key: due for piece, due in _dues(planner)}
    many = _lived(planner, found, is_rough=is_rough)
    of_piece = {key: many.piece_in_time(key, due) for key, due in dues.items()}
    kept = all(share >= _aim(planner) for share in of_piece.values())
    return Sure(found, many, many.in_time(dues) if dues else None, of_piece, kept, is_rough=is_rough)


def _lived(planner: Planner, found: Found, *, is_rough: bool) -> Lived:
    """Return how a plan fares, which is worked out once: other dates, and the last hand, often come to the same."""
    from finplan.timetable.chance import lived

    told = frozenset(found.schedule.items()), is_rough
    if told not in planner.lives:
        luck = planner.few_draws if is_rough else planner.luck
        job = planner.job
        planner.lives[told] = lived(job.pieces, planner.setting, found.schedule, job.ready_for, luck)
    return planner.lives[told]


def late_and_sure(planner: Planner, buffer: Buffer, first: Found | None = None, *, tidy: bool = True) -> Sure | None:
    """Return the plan that starts as late as leaves a buffer and keeps every date as surely as the shop wants.

    Where a piece is late in too many draws it is to be ready so much sooner, and all is planned anew.

    Parameters
    ----------
    planner
        Of the job
    buffer
        What is left at least
    first
        The plan that starts as late as leaves the buffer, where it is known
    tidy
        As for ``Planner.late``

    Returns
    -------
    Sure | None
        None where there is no plan that leaves the buffer; one that is not kept where none is sure enough
    """
    sure = moved_up(planner, buffer, first, tidy=tidy)
    return None if sure is None else in_full(planner, sure)


def moved_up(planner: Planner, buffer: Buffer, first: Found | None, *, tidy: bool = True) -> Sure | None:
    """Return the plan for ``late_and_sure``; of many pieces one that is not kept is lived through in few draws."""
    best: Sure | None = None
    found = planner.late(buffer, tidy=tidy and planner.is_small) if first is None else first
    proven = found is not None and found.result.status == "optimal"
    sooner = dict.fromkeys((piece.key for piece, _ in _dues(planner)), 0.0)
    for _ in range(_ROUNDS if planner.is_small else _ROUNDS_OF_MANY):
        if found is None:
            return best
        wanted = replace(buffer, sooner_h=dict(sooner))
        looked = _at_a_look(planner, replace(found, buffer=buffer))
        sure = replace(looked, sooner_h=wanted.sooner_h)
        if sure.kept:
            # What few draws are kept in is made better first: it is lived through in full only if that is no use.
            sure = in_full(planner, sure if proven else _improved(planner, wanted, sure, tidy=tidy))
        if best is None or sure.least > best.least:
            best = sure
        if sure.kept:
            return sure
        moved = dict(sooner)
        for piece, due in _dues(planner):
            late_min = sure.lived.ready_by(piece.key, _aim(planner)) - due
            if late_min > 0:
                # It may be ready sooner than it had to be: less than that would give the same plan again.
                spare = (planner.due_with(piece, wanted) or 0) - planner.ready_slot(piece, found)
                by_h = (spare * planner.setting.slot_min + max(late_min, _STEP_MIN)) / 60
                if planner.may_be_sooner(piece, wanted, moved[piece.key] + by_h):
                    moved[piece.key] += by_h
        if moved == sooner:
            return best
        sooner = moved
        wanted = replace(buffer, sooner_h=dict(sooner))
        # What could not be searched to the end once is not searched anew for every try.
        try:
            found = planner.late(wanted, tidy=tidy) if proven else planner.made_late(wanted)
        except NotFoundYetError:
            return best
    return best


def _improved(planner: Planner, wanted: Buffer, sure: Sure, *, tidy: bool) -> Sure:
    """Return a plan that was made at once and is sure enough, searched for better ones that are so too.

    What was searched as one model once is searched anew only for other dates. What is made better a few pieces at a
    time, and is then not sure enough, is made better once more with no piece ready later than it was.
    """
    moved = any(wanted.sooner_h.values())
    if not (moved if planner.is_small else tidy):
        return sure
    made = replace(sure.found, buffer=wanted)
    for as_early in (False, True):
        try:
            found = planner.late(wanted, tidy=tidy) if planner.is_small else planner.refined(made, as_early=as_early)
        except NotFoundYetError:
            return sure
        if found is None:
            return sure
        found = replace(found, buffer=sure.found.buffer)
        if found.schedule == sure.found.schedule:
            return replace(sure, found=found)
        better = replace(roughly_sure_of(planner, found), sooner_h=wanted.sooner_h)
        if better.kept or planner.is_small:
            break
    return better if better.kept else sure


def sure_last_hand(planner: Planner, sure: Sure) -> Sure:
    """Return a plan that is better work, keeps dates and starts and is as sure as is wanted, or as it was.

    Where a piece is less sure with coats moved too, only other work is moved; where it still is, nothing of that piece.
    Of many pieces those that were less sure stay at once: what is tried takes long, and there are others. All draws of
    what is returned are lived through.
    """
    still: set[str] = set()
    look = sure if planner.is_small else _at_a_look(planner, sure.found)
    for coats in (True, *[False] * (_HANDS if planner.is_small else 1)):
        found = planner.with_last_hand(sure.found, still=still, coats=coats)
        if found is None:
            break
        better = _at_a_look(planner, found)
        less = less_sure(planner, better, look)
        if not less:
            better = in_full(planner, better)
            less = set() if sure.is_rough else less_sure(planner, better, sure)
        if not less:
            return replace(better, sooner_h=sure.sooner_h)
        still |= set() if coats and planner.is_small else less
    return in_full(planner, sure)


def less_sure(planner: Planner, sure: Sure, than: Sure) -> set[str]:
    """Return the keys of the pieces that are neither as sure as is wanted nor as they were in another plan."""
    aim = _aim(planner)
    return {key for key, in_time in sure.in_time_of.items() if in_time < min(aim, than.in_time_of[key])}


def latest_and_sure(planner: Planner) -> Sure | None:
    """Return the plan that starts latest of those that keep every date as surely as the shop wants, with no buffer."""
    return late_and_sure(planner, Buffer(0.0, working=False), tidy=False)


def _aim(planner: Planner) -> float:
    return planner.job.shop.in_time_pct / 100


def _dues(planner: Planner) -> list[tuple[PieceWork, float]]:
    """Return the pieces that have a date, with its minute."""
    dues = ((piece, planner.job.delivery(piece)) for piece in planner.job.pieces)
    return [(piece, planner.setting.minute(moment)) for piece, moment in dues if moment is not None]
