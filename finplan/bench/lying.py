"""What lay on an item for longer than it may, by what was ticked: that it may have dried on, and what to do."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import datetime, timedelta

from finplan.ledger import HeldPlan, Ledger, numbers_of
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.record import completed, done_now
from finplan.showing import show_duration
from finplan.timetable import Operation


def lying_words(ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime) -> tuple[str, ...]:
    """Return what still lies on an item by the ticks, longer than it may; each a sentence without its stop.

    Parameters
    ----------
    ledger, held
        The record, and the newest plan of the job in it
    plan
        That plan
    moment
        Now
    """
    done, numbers = completed(plan, done_now(ledger, held)), numbers_of(ledger, held.job)
    told = []
    for before, following in _pairs(plan):
        if before.id not in done or following.id in done or before.next_by_h is None:
            continue
        if moment > done[before.id] + timedelta(hours=before.next_by_h):
            at = show_moment(done[before.id].astimezone(plan.shop.time_zone))
            told.append(
                f"{before.item}: {before.label} (step {numbers.get(before.id, before.id)}) was done {at}, and "
                f"{following.label} (step {numbers.get(following.id, following.id)}) is not ticked: what lies there "
                f"for more than {show_duration(before.next_by_h)} may have dried on. {_what_to_do(plan, before)}"
            )
    return tuple(told)


def came_late(
    ledger: Ledger, held: HeldPlan, plan: Plan, steps: Collection[str], numbers: Mapping[str, int]
) -> Iterator[str]:
    """Give of steps that are ticked now those that came too late after what lay there; each without its stop."""
    done = done_now(ledger, held)
    for before, following in _pairs(plan):
        if following.id not in steps or before.id not in done or following.id not in done or before.next_by_h is None:
            continue
        took_h = (done[following.id] - done[before.id]).total_seconds() / 3600
        if took_h > before.next_by_h:
            yield (
                f"{before.item}: {following.label} (step {numbers.get(following.id, following.id)}) was over "
                f"{show_duration(took_h)} after {before.label} (step {numbers.get(before.id, before.id)}), which lies "
                f"for {show_duration(before.next_by_h)} at most: where any of it has dried on, this is to be done. "
                f"{_what_to_do(plan, before)}"
            )


def _pairs(plan: Plan) -> Iterator[tuple[Operation, Operation]]:
    """Give what lies on items, each with what may not wait after it."""
    for piece in plan.pieces:
        bound = {operation.id: operation for operation in piece.operations if operation.next_by_h is not None}
        for following in piece.operations:
            yield from ((bound[after.id], following) for after in following.after if after.id in bound)


def _what_to_do(plan: Plan, before: Operation) -> str:
    said = None if before.extra is None else plan.catalogue.extra_steps[before.extra].dried_on
    return (said or "").removesuffix(".")
