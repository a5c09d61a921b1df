"""What was put on and waits to dry: from when the next step may be done to it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.moments import not_before, show_moment
from finplan.timetable.job import Job
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
    found: list[WetCoat] = []
    for piece, coat in setting.coats_before:
        following = piece.following(coat)
        if following is not None and following.id in piece.done:
            continue
        if following is None:
            slot = waits.fit(coat)(setting.slot_from(piece.done[coat.id]))
        else:
            after = next(one for one in following.after if one.id == coat.id)
            slot = waits.after_done(piece, after, following)
        dry_from = None if slot is None else setting.clock_of_slot(slot)
        found.append(WetCoat(coat, piece.done[coat.id], following, dry_from))
    return tuple(found)


_FIT = {"handle": "fit to handle", "light-use": "fit for light use", "cure": "cured"}


def drying_words(job: Job, coats: Collection[str] | None = None) -> tuple[str, ...]:
    """Return from when the next step may be done to what is wet, each in a sentence without its stop.

    Parameters
    ----------
    job
        With the air as it was measured
    coats
        The ids of the coats that are told of; None for those whose air was measured otherwise than usual and that are
        still to dry
    """
    usual = {one.coat.id: one.dry_from for one in wet_coats(replace(job, measured=()))}
    names = {one.id: piece.piece for piece in job.pieces for one in piece.operations} if len(job.pieces) > 1 else {}
    told: list[str] = []
    for one in wet_coats(job):
        otherwise = one.dry_from != usual[one.coat.id]
        late = max((at for at in (one.dry_from, usual[one.coat.id]) if at is not None), default=None)
        wanted = otherwise and (late is None or late > job.earliest) if coats is None else one.coat.id in coats
        if wanted:
            name = f"{names[one.coat.id]}, {one.coat.item}" if names else one.coat.item
            told.append(f"{name}: {_when_dry(one, job)}{_as_usual(usual[one.coat.id]) if otherwise else ''}")
    return tuple(told)


def _when_dry(one: WetCoat, job: Job) -> str:
    stage = _FIT[job.ready_for] if one.following is None else f"dry enough for the next step, {one.following.label},"
    on = f"{one.coat.label} of {show_moment(one.ended.astimezone(job.shop.time_zone))}"
    if one.dry_from is None:
        return f"{on} does not get {stage} in the time that is looked at"
    return f"{on} is {stage} from {show_moment(not_before(one.dry_from))}"


def _as_usual(dry_from: datetime | None) -> str:
    words = "it would not get so far" if dry_from is None else f"it would be from {show_moment(not_before(dry_from))}"
    return f", by the air as it was measured; in the shop's usual air {words}"
