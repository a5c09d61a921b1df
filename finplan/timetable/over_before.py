"""What of a plan is over before all else can begin, which waits for something still to come: a sample's approval."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits


def over_before(pieces: Sequence[PieceWork], setting: Setting, waits: Waits, plan: Schedule) -> Mapping[str, Scheduled]:
    """Return where a plan has all that does not wait for something still to come, if it is over before that.

    Nothing where some of it is not, or nothing waits so. What is over by then, its coats fit for the customer and off
    the rack, is in nobody's way: however it were done, what waits could be no earlier.
    """
    waiting = {piece.key: _waiting(piece, setting, waits) for piece in pieces}
    begins = min((soonest for _, soonest in waiting.values() if soonest is not None), default=None)
    if begins is None:
        return {}
    over: dict[str, Scheduled] = {}
    for piece in pieces:
        later, _ = waiting[piece.key]
        if any(
            operation.over is not None and operation.over not in later
            for operation in piece.open
            if operation.id in later
        ):
            return {}  # it may have become too hard
        for work in all_operations(operation for operation in piece.open if operation.id not in later):
            if work.id in plan:
                if _gone(work, plan[work.id].end, setting, waits) > begins:
                    return {}
                over[work.id] = plan[work.id]
    return over


def _waiting(piece: PieceWork, setting: Setting, waits: Waits) -> tuple[set[str], int | None]:
    """Return what waits for something still to come, whatever it comes after, and when the first of it can begin."""
    to_come = {name for name, moment in piece.done.items() if setting.slot_from(moment) > setting.first}
    later: set[str] = set()
    before = -1
    while len(later) > before:
        before = len(later)
        waited_for = later | to_come
        later |= {operation.id for operation in piece.open if any(after.id in waited_for for after in operation.after)}
    moments = [
        waits.after_done(piece, after, operation)
        for operation in piece.open
        for after in operation.after
        if after.id in to_come
    ]
    return later, min((setting.slots if at is None else at for at in moments), default=None)


def _gone(work: Operation, end: int, setting: Setting, waits: Waits) -> int:
    """Return when a piece of work, its dust, its vapour and a coat that dries are in the way of nothing."""
    if work.finish is not None:
        moments = waits.fit(work)(end), waits.lifted(work)(end), end + setting.airing(work)
        return max(setting.slots if at is None else at for at in moments)
    return end + max(waits.wait_slots(work), setting.settling_slots, setting.airing(work))
