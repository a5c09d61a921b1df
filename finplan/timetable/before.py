"""What was done before a plan, as rows: what of it is still in the air of the shop."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from finplan.inputs import Shop
from finplan.system import drying_id
from finplan.timetable.dust import room_of
from finplan.timetable.operation import Operation, all_operations
from finplan.timetable.owed import done_with_a_later
from finplan.timetable.timetable import TimetableStep

_DAYS = 14
"""Of what was put on longer ago nothing is in the air any more."""


def rows_before(
    operations: Iterable[Operation], done: Mapping[str, datetime], shop: Shop, now: datetime
) -> tuple[TimetableStep, ...]:
    """Return what was done in the last two weeks as rows in order of time, and from when on its coats dry.

    Parameters
    ----------
    operations
        All of a job, without their clean-ups
    done
        When what is done ended, by id, clean-ups too
    shop
        Its rooms
    now
        The beginning of the plan

    Notes
    -----
    Only its end is known: it took as long as is planned. What counts as done because a later step is, at the time of
    that one, is left out, since nobody knows when it was.
    """
    every = all_operations(operations)
    followed = done_with_a_later(every, done)
    since = now.astimezone(UTC) - timedelta(days=_DAYS)
    steps: list[TimetableStep] = []
    for operation in every:
        at = done.get(operation.id)
        if at is not None and operation.id not in followed and at >= since:
            steps.append(_row(operation, at, shop))
            if operation.finish is not None:
                steps.append(_drying(operation, at, shop))
    return tuple(sorted(steps, key=lambda row: (row.end.timestamp(), row.kind, row.id)))


def _row(operation: Operation, at: datetime, shop: Shop) -> TimetableStep:
    end = at.astimezone(shop.time_zone)
    return TimetableStep(
        id=operation.id,
        piece="",
        item=operation.item,
        step=operation.label,
        kind="attended",
        deed=operation.deed,
        start=(at.astimezone(UTC) - timedelta(minutes=operation.work_min)).astimezone(shop.time_zone),
        end=end,
        person=None,
        room=room_of(shop, operation.room_use),
        of_step=operation.of_step,
        side=operation.side,
        extra=operation.extra,
    )


def _drying(coat: Operation, at: datetime, shop: Shop) -> TimetableStep:
    """Return from when on a coat dries, and where: not how long, which the catalogue says of its solvent."""
    put_on = _row(coat, at, shop)
    room = room_of(shop, "drying")
    return replace(put_on, id=drying_id(coat.id), kind="drying", start=put_on.end, room=room, dries=coat.id)
