"""The plan that is sure enough and then starts as late as is safe, with a buffer that fits its length."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace

from finplan.scheduling import LargestSlack
from finplan.timetable.buffer import buffer_wanted
from finplan.timetable.found import Found, NotFoundYetError
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure, less_sure, roughly_sure_of, sure_of
from finplan.timetable.sure_enough import moved_up
from finplan.timetable.timetable import Buffer

_ROUNDS = 3
"""How often the buffer is fitted to the length of the plan, where it depends on it."""
_EARLIER = 6
"""So often more pieces are begun as early as can be, where some are not sure enough; then all are."""
_LONGER = 1.02
"""So much longer than it looks a plan is taken to be, so that its buffer is not fitted to it for minutes."""


def plan_late(planner: Planner) -> Sure | None:
    """Return the plan that keeps every date as surely as the shop wants and then starts as late as leaves a buffer.

    Where the buffer wanted cannot be had, it has as much of it as can be; where no plan is sure enough, it is the
    surest that was found, of many pieces perhaps only roughly. Where the buffer depends on the length of the plan, it
    is fitted to it: from what the plan takes at least. None where no plan keeps the dates at all.
    """
    found, buffer = _with_buffer(planner)
    safest = False
    if found is None:
        found = planner.safest(buffer, tidy=planner.is_small)  # else it is made better once it is sure enough
        if found is None:
            return None
        safest = _has_most(found)
        buffer = planner.as_left(buffer, found)
    best = moved_up(planner, buffer, found)
    if best is None or best.kept:
        return best
    if len(planner.job.pieces) == 1 and not safest:
        best = _surest(planner, best, lambda: planner.safest(None))
    return begun_at_once_if_surer(planner, best)


def _has_most(found: Found) -> bool:
    """Return whether a plan is proven to leave the largest buffer there can be, though that is not enough."""
    return any(
        stage.proven and (asked.enough is None or stage.value < asked.enough)
        for stage in found.result.stages
        if isinstance(asked := stage.objective, LargestSlack)
    )


def begun_at_once_if_surer(planner: Planner, sure: Sure) -> Sure:
    """Return a plan in which what is not sure enough is ready as early as can be, where that is surer.

    What begins as late as leaves the same buffer has no time in hand before it. All else is begun as late as before,
    but for what is in the way of that.
    """
    if sure.kept:
        return sure
    try:
        early = _soonest(planner)
    except NotFoundYetError:
        early = None
    return sure if early is None else _with_unsure_early(planner, early, sure)


def _soonest(planner: Planner) -> Found | None:
    if not planner.is_small:
        return planner.made_early(dated=True)
    return planner.early(dated=True) if len(planner.job.pieces) == 1 else planner.soonest_in_time


def _with_unsure_early(planner: Planner, early: Found, sure: Sure) -> Sure:
    """Return a plan that is as sure as one that is ready as early as can be, with as little begun early as is found."""
    soonest = roughly_sure_of(planner, replace(early, buffer=sure.found.buffer))
    if soonest.least <= sure.least:
        return sure
    first = _unsure(planner, sure)
    for _ in range(_EARLIER):
        if first >= set(sure.in_time_of):
            break
        try:
            found = _with_some_early(planner, early, sure, first)
        except NotFoundYetError:
            break
        if found is None:
            break
        mixed = roughly_sure_of(planner, replace(found, buffer=sure.found.buffer))
        if mixed.kept or mixed.least >= soonest.least:
            return mixed if planner.is_small else _refined(planner, mixed, first)
        less = less_sure(planner, mixed, soonest)
        more = _in_the_way(planner, mixed, first) if less <= first else less
        if more <= first:
            break
        first |= more
    return soonest


def _refined(planner: Planner, sure: Sure, keys: Collection[str]) -> Sure:
    """Return a plan made better a few pieces at a time, with some ready as early as can be, where it is as sure.

    What is less sure in it comes to be one of these.
    """
    refined = planner.refined(sure.found)
    sooner = set(keys)
    for _ in range(_ROUNDS):
        found = planner.begun_sooner(refined, sooner)
        better = roughly_sure_of(planner, replace(found, buffer=sure.found.buffer))
        less = less_sure(planner, better, sure)
        if not less:
            return better
        sooner |= less
    return sure


def _unsure(planner: Planner, sure: Sure) -> set[str]:
    return {key for key, share in sure.in_time_of.items() if share < planner.job.shop.in_time_pct / 100}


def _in_the_way(planner: Planner, sure: Sure, unsure: Collection[str]) -> set[str]:
    """Return what is worked on before the last of some pieces is ready."""
    pieces = planner.job.pieces
    last = max(planner.ready_slot(piece, sure.found) for piece in pieces if piece.key in unsure)
    return {piece.key for piece in pieces if planner.start_slot(piece, sure.found.schedule) < last}


def _with_some_early(planner: Planner, early: Found, sure: Sure, keys: Collection[str]) -> Found | None:
    """Return the plan that starts as late as it did, but for some pieces, which are ready as soon as in another."""
    buffer = planner.as_left(replace(sure.found.buffer, sooner_h=sure.sooner_h), early)
    sooner, at_most = dict(buffer.sooner_h), dict(buffer.at_most_h)
    for piece in planner.job.pieces:
        due, wanted, ready = planner.due(piece), planner.due_with(piece, buffer), planner.ready_slot(piece, early)
        if due is not None and wanted is not None and (piece.key in keys or wanted < ready):
            at_most[piece.key] = 0.0
            sooner[piece.key] = (due - ready - 0.5) * planner.setting.slot_min / 60  # rounded up to whole slots
    buffer = replace(buffer, sooner_h=sooner, at_most_h=at_most)
    found = planner.late_from(early, buffer, keys)
    return None if found is None else planner.begun_sooner(found, keys)


def _surest(planner: Planner, best: Sure, other: Callable[[], Found | None]) -> Sure:
    """Return the surer of two plans; the buffer wanted stays that of the first."""
    try:
        found = other()
    except NotFoundYetError:
        return best
    surer = None if found is None else roughly_sure_of(planner, replace(found, buffer=best.found.buffer))
    return surer if surer is not None and surer.least > best.least else best


def later_of(planner: Planner, sure: Sure, latest: Sure) -> Sure:
    """Return the plan that is to be worked by, where the one that starts latest leaves the buffer wanted as well.

    How sure a plan is jumps with the hours of the shop: where dates were moved up until one was sure enough, a later
    one may be so too. It is planned once more for its clean-ups, and taken where it is as sure then.
    """
    buffer = sure.found.buffer
    dated = [piece for piece in planner.job.pieces if piece.deliver is not None and piece.open]
    begun = [min(planner.start_slot(piece, made.found.schedule) for piece in dated) for made in (sure, latest) if dated]
    if not begun or begun[1] <= begun[0] or not _leaves(planner, latest.found, buffer):
        return sure
    try:
        found = planner.late(replace(latest.found.buffer, sooner_h=latest.sooner_h))
    except NotFoundYetError:
        found = None
    tidy = latest if found is None else sure_of(planner, found)
    taken = tidy if tidy.kept and _leaves(planner, tidy.found, buffer) else latest
    return replace(taken, found=replace(taken.found, buffer=buffer))


def _leaves(planner: Planner, found: Found, buffer: Buffer) -> bool:
    """Return whether every piece is ready so long before its date."""
    dues = [(planner.due_with(piece, buffer), piece) for piece in planner.job.pieces if piece.deliver is not None]
    return all(due is not None and planner.ready_slot(piece, found) <= due for due, piece in dues)


def _with_buffer(planner: Planner) -> tuple[Found | None, Buffer]:
    """Return the plan that starts as late as leaves the buffer wanted, and that buffer; None where there is none."""
    shop, rule = planner.job.shop, planner.job.catalogue.time_in_hand["common"]
    buffer = buffer_wanted(shop, shortest_plan_hours(planner) * _LONGER, rule)
    found = None
    for _ in range(_ROUNDS):
        try:
            found = planner.late(buffer, tidy=planner.is_small)  # else it is made better once it is sure enough
        except NotFoundYetError:
            if found is None:
                raise
            return found, found.buffer
        if found is None:
            return None, buffer
        plan_h = plan_hours(planner, found)
        if buffer_wanted(shop, plan_h, rule).wanted_h <= buffer.wanted_h:
            return found, buffer
        buffer = buffer_wanted(shop, plan_h * _LONGER, rule)
    return found, buffer if found is None else found.buffer


def plan_hours(planner: Planner, found: Found) -> float:
    """Return how long the longest of the plans of the pieces runs, from its start to ready. [h]"""
    slots = max(
        planner.ready_slot(piece, found) - planner.start_slot(piece, found.schedule) for piece in planner.job.pieces
    )
    return slots * planner.setting.slot_min / 60


def shortest_plan_hours(planner: Planner) -> float:
    """Return how long the longest plan of a piece takes at least, by its waits alone, before its delivery. [h]"""
    longest = 0
    for piece in planner.job.pieces:
        due = planner.due(piece)
        latest = None if due is None or not piece.open else planner.maker.latest(piece.key, due)
        if due is not None and latest is not None:
            longest = max(longest, due - latest)
    return longest * planner.setting.slot_min / 60
