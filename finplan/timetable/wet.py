"""What was put on and waits to dry: from when the next step may be done to it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from types import MappingProxyType

from finplan.timetable.job import Job
from finplan.timetable.note import DryFrom
from finplan.timetable.operation import Operation
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits


@dataclass(frozen=True, slots=True)
class WetCoat:
    """A coat that has been put on, on which nothing has been done yet."""

    coat: Operation
    ended: datetime
    following: Operation | None
    """What is done next to its item; None after the last coat."""
    dry_from: datetime | None
    """From when that may be done, or the item is fit for the customer; None for not in the time looked at."""


def wet_coats(job: Job) -> tuple[WetCoat, ...]:
    """Return the coats that have been put on and on which nothing has been done yet, as the job stands."""
    setting = Setting(job)
    waits = Waits(setting, job.ready_for)
    wet: list[WetCoat] = []
    for piece, coat in setting.coats_before:
        following = piece.following(coat)
        if following is not None and following.id in piece.done:
            continue
        if following is None:
            slot = waits.fit(coat)(setting.slot_from(piece.done[coat.id]))
        else:
            after = next(known for known in following.after if known.id == coat.id)
            slot = waits.after_done(piece, after, following)
        dry_at = None if slot is None else setting.clock_of_slot(slot)
        wet.append(WetCoat(coat, piece.done[coat.id], following, dry_at))
    return tuple(wet)


def dry_from(
    job: Job,
    coats: Collection[str] | None = None,
    *,
    stood: Mapping[str, datetime] = MappingProxyType({}),
) -> tuple[DryFrom, ...]:
    """Return from when the next step may be done to what is wet.

    Parameters
    ----------
    job
        With the air as it was measured
    coats
        The ids of the coats that are told of; None for those that are still to dry where that is otherwise than
        reckoned: their air was measured otherwise than usual, or their next step was to come before that
    stood
        By its id, when a step was to be begun by the plan before
    """
    if coats is not None and not any(operation.id in coats for piece in job.pieces for operation in piece.coats_on):
        return ()
    all_wet = wet_coats(job)
    in_usual_air = wet_coats(replace(job, measured=())) if job.measured else all_wet
    usual = {wet.coat.id: wet.dry_from for wet in in_usual_air}
    names = (
        {operation.id: piece.piece for piece in job.pieces for operation in piece.operations}
        if len(job.pieces) > 1
        else {}
    )
    dry: list[DryFrom] = []
    for wet in all_wet:
        as_usual = usual[wet.coat.id]
        otherwise = wet.dry_from != as_usual
        late = max((at for at in (wet.dry_from, as_usual) if at is not None), default=None)
        planned = None if wet.following is None else stood.get(wet.following.id)
        too_soon = planned is not None and (wet.dry_from is None or planned < wet.dry_from)
        wet_still = late is None or late > job.earliest
        wanted = (otherwise or too_soon) and wet_still if coats is None else wet.coat.id in coats
        if wanted:
            dry.append(
                DryFrom(
                    piece=names.get(wet.coat.id),
                    item=wet.coat.item,
                    coat=wet.coat.label,
                    put_on=wet.ended.astimezone(job.shop.time_zone),
                    next_step=None if wet.following is None else wet.following.label,
                    ready_for=job.ready_for,
                    dry_from=wet.dry_from,
                    otherwise=otherwise,
                    usual=as_usual,
                    stood=planned if too_soon else None,
                )
            )
    return tuple(dry)
