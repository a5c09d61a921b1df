"""The plan that keeps its dates as surely as the shop wants: they are moved up until it does."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from finplan.timetable.found import Found, NotFoundYetError
from finplan.timetable.sure import Sure, aim_of, at_a_look, dues_of, in_full, less_sure, sure_of
from finplan.timetable.timetable import Buffer

if TYPE_CHECKING:
    from finplan.timetable.solve import Planner

_ROUNDS, _ROUNDS_OF_MANY = 6, 12
"""So often the dates are moved up where a plan is not sure enough: working hours make it jump, and of many pieces one
comes in the way of another."""
_STILL_PAYS = 0.05
"""A plan is made better once more for as long as that took such a part off what is lost."""
_LOOKED_AT = 4_000
"""And until so many steps were lived through, in all plans together: of very many pieces it is done once."""
_ROUNDS_OF_BETTER = 4
"""So often what was made better is tried to be made sure enough, and is still better."""
_HARDLY = 0.1
"""Of many pieces one that is so hardly in time anyway may be less so with the last hand on it: few draws tell it no
better."""
_HANDS = 3
"""So often pieces are left as they are, one after another, that would be less sure with the last hand on them."""
_STEP_MIN = 30.0
"""By so much at least. [min]"""


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
    """Return the plan for ``late_and_sure``; of many pieces one that is not kept is lived through in few draws.

    Of many pieces the last hand is on a plan that is kept, so that all draws are lived through only once.
    """
    best: Sure | None = None
    was_better = False
    found = planner.late(buffer, tidy=tidy and planner.is_small) if first is None else first
    proven = found is not None and found.result.status == "optimal"
    sooner = dict.fromkeys((piece.key for piece, _ in dues_of(planner)), 0.0)
    for _ in range(_ROUNDS if planner.is_small else _ROUNDS_OF_MANY):
        if found is None:
            break
        sure = replace(at_a_look(planner, replace(found, buffer=buffer)), sooner_h=sooner)
        if sure.kept:
            # What is kept in few draws is made better first, and only then lived through in full, which takes long.
            better = sure if proven else _improved(planner, buffer, sure, tidy=tidy)
            plain, sure, was_better = sure, in_full(planner, better), True
            if sure.kept:
                return sure
            if plain.least > better.least:  # what it was made of may be kept in all
                plain = in_full(planner, plain)
                if plain.kept:
                    return plain
                best = _surer(best, plain)
        best = _surer(best, sure)
        moved = _moved(planner, buffer, sure)
        if moved == sure.sooner_h:
            break
        sooner = moved
        wanted = replace(buffer, sooner_h=sooner)
        # What could not be searched to the end once is not searched anew for every try, and what was made better
        # stays so: it is moved only as far as it has to be.
        try:
            if proven:
                found = planner.late(wanted, tidy=tidy)
            else:
                again = planner.moved_back(sure.found, wanted) if was_better and not planner.is_small else None
                found = again or planner.made_late(wanted)
        except NotFoundYetError:
            break
    return best


def _surer(sure: Sure | None, other: Sure) -> Sure:
    """Return the surer of two plans, where that is both the first."""
    return other if sure is None or other.least > sure.least else sure


def _moved(planner: Planner, buffer: Buffer, sure: Sure) -> dict[str, float]:
    """Return by how much each piece has to be ready sooner, where that is too late in too many draws: by key. [h]"""
    wanted = replace(buffer, sooner_h=sure.sooner_h)
    moved = dict(sure.sooner_h)
    for piece, due in dues_of(planner):
        late_min = sure.lived.ready_by(piece.key, aim_of(planner)) - due
        if late_min > 0:
            # It may be ready sooner than it had to be: less than that would give the same plan again.
            ready = planner.ready_slot(piece, sure.found)
            spare = (planner.due_with(piece, wanted) or 0) - ready
            by_h = (spare * planner.setting.slot_min + max(late_min, _STEP_MIN)) / 60
            sooner_h = max(moved[piece.key] + by_h, planner.least_sooner_h(piece, wanted, ready))
            if planner.may_be_sooner(piece, wanted, sooner_h):
                moved[piece.key] = sooner_h
    return moved


def _improved(planner: Planner, buffer: Buffer, sure: Sure, *, tidy: bool) -> Sure:
    """Return a plan that was made at once and is sure enough, searched for better ones that are so too.

    What was searched as one model once is searched anew only for other dates.
    """
    if not planner.is_small:
        return _with_last_hand(planner, _better_of_many(planner, buffer, sure)) if tidy else sure
    if not any(sure.sooner_h.values()):
        return sure
    try:
        found = planner.late(replace(buffer, sooner_h=sure.sooner_h), tidy=tidy)
    except NotFoundYetError:
        return sure
    if found is None:
        return sure
    better = _looked_at(planner, sure, found)
    return better if better.kept else sure


def _better_of_many(planner: Planner, buffer: Buffer, sure: Sure) -> Sure:
    """Return a plan that is made better a few pieces at a time, for as long as it stays sure enough in few draws."""
    pays = True
    while pays:
        better = _better_once(planner, buffer, sure)
        if better is None:
            break
        looked_at = len(planner.lives) * len(better.found.schedule)
        pays = looked_at < _LOOKED_AT and planner.gained(better.found, sure.found) > _STILL_PAYS
        sure = better
    return sure


def _better_once(planner: Planner, buffer: Buffer, sure: Sure) -> Sure | None:
    """Return a plan that is made better once more and is sure enough in few draws; None where there is none.

    Where it is not, its dates are moved up, and it only as far as these ask for, for as long as it is the better one.
    """
    wanted = replace(buffer, sooner_h=sure.sooner_h)
    found: Found | None = planner.refined(replace(sure.found, buffer=wanted))
    for _ in range(_ROUNDS_OF_BETTER):
        if found is None or not planner.begins_later(found, sure.found):
            return None
        better = replace(_looked_at(planner, sure, found), sooner_h=wanted.sooner_h)
        if better.kept:
            return better
        wanted = replace(buffer, sooner_h=_moved(planner, buffer, better))
        if wanted.sooner_h == better.sooner_h:
            return None
        found = planner.moved_back(found, wanted)
    return None


def _looked_at(planner: Planner, sure: Sure, found: Found) -> Sure:
    """Return how a plan fares in few draws that is to take the place of another; the buffer wanted stays the same."""
    looked = at_a_look(planner, replace(found, buffer=sure.found.buffer))
    return replace(looked, sooner_h=sure.sooner_h)


def sure_last_hand(planner: Planner, sure: Sure) -> Sure:
    """Return a plan that is better work, keeps dates and starts and is as sure as is wanted, or as it was.

    Where a piece is less sure with coats moved too, only other work is moved; where it still is, nothing of that piece.
    Of many pieces those are not asked that are hardly ever in time anyway (``_HARDLY``). All draws of what is returned
    are lived through.
    """
    if sure.has_last_hand:
        return in_full(planner, sure)
    better = in_full(planner, _with_last_hand(planner, sure))
    return in_full(planner, sure) if not sure.is_rough and less_sure(planner, better, sure) else better


def _with_last_hand(planner: Planner, sure: Sure) -> Sure:
    """Return the plan for ``sure_last_hand``, one of many pieces in few draws.

    Of these what was less sure stays at once: what is tried takes long, and there are others.
    """
    still: set[str] = set()
    look = at_a_look(planner, sure.found)
    asked = {key for key, share in look.in_time_of.items() if planner.is_small or share > _HARDLY}
    for coats in (True, *[False] * (_HANDS if planner.is_small else 1)):
        found = planner.with_last_hand(sure.found, still=still, coats=coats)
        if found is None:
            break
        # What is asked of no piece is not looked at: all its draws are lived through in the end.
        better = at_a_look(planner, found) if asked else sure_of(planner, found)
        less = less_sure(planner, better, look) & asked
        if not less:
            return replace(better, sooner_h=sure.sooner_h, has_last_hand=True)
        still |= set() if coats and planner.is_small else less
    return replace(look, sooner_h=sure.sooner_h, has_last_hand=True)


def latest_and_sure(planner: Planner) -> Sure | None:
    """Return the plan that starts latest of those that keep every date as surely as the shop wants, with no buffer."""
    return late_and_sure(planner, Buffer(0.0, working=False), tidy=False)
