"""What was assumed because the shop cannot quite do it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.timetable.dust import settling_h
from finplan.timetable.hardened import hardened
from finplan.timetable.job import Job
from finplan.timetable.lying import DueSoon
from finplan.timetable.note import (
    AloneWithOldPaint,
    DriesOn,
    DustSettles,
    Interrupted,
    LearntTime,
    NoSprayRoom,
    Note,
    OwnTimesUsed,
    RackShort,
)
from finplan.timetable.operation import ONE_STRETCH, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import TimetableStep
from finplan.timetable.waits import Waits


def notes(job: Job, setting: Setting, steps: Sequence[TimetableStep]) -> tuple[Note, ...]:
    """Return what a maker has to know of a plan that the shop cannot quite do, each once."""
    said: list[Note] = [*_rack(job), *_spraying(job, setting), *_dust(job, setting), *hardened(job, setting, steps)]
    said += [AloneWithOldPaint(room) for room in sorted(setting.alone_with_old_paint)]
    said += [*_interrupted(steps), *_dries_on(job, setting), *_own_times(job)]
    return tuple(dict.fromkeys(said))


def _rack(job: Job) -> Iterator[RackShort]:
    rack = job.shop.rack
    for piece in job.pieces:
        for item, (places, hooks) in piece.rack.items():
            if places > rack.places:
                yield RackShort(item, places, rack.places, "flat place")
            if hooks > rack.hooks:
                yield RackShort(item, hooks, rack.hooks, "hook")


def _spraying(job: Job, setting: Setting) -> Iterator[NoSprayRoom]:
    sprays = any(operation.sprays for piece in job.pieces for operation in piece.open)
    if sprays and job.shop.room_for("spraying") is None:
        yield NoSprayRoom(setting.rooms["spraying"])


def _dust(job: Job, setting: Setting) -> Iterator[DustSettles]:
    """Give how long dust settles before a coat, where something is sanded beside it."""
    operations = [operation for piece in job.pieces for operation in piece.open]
    coats = [operation for operation in operations if operation.finish is not None]
    wait_h = max((settling_h(job.shop, job.catalogue, coat.room_use) for coat in coats), default=0.0)
    if not wait_h or not any(operation.makes_dust for operation in operations):
        return
    source = job.catalogue.sources[job.catalogue.work["let-dust-settle"].source_of("wait")]
    yield DustSettles(setting.rooms["sanding"], wait_h, source.title)


def _dries_on(job: Job, setting: Setting) -> Iterator[DriesOn]:
    """Give what is still to be put on and would dry on, as nobody works for as long as it takes."""
    waits = Waits(setting, job.ready_for)
    for piece, row in DueSoon(job.pieces, setting, waits).torn:
        if row[0].id not in piece.done:
            slots = sum(map(setting.slots_of, row)) + sum(map(waits.wait_slots, row[:-1]))
            yield DriesOn(row[0].item, row[0].label, slots * setting.slot_min / 60)


def _own_times(job: Job) -> Iterator[OwnTimesUsed]:
    """Give what is planned by the shop's own times."""
    operations = [operation for piece in job.pieces for operation in all_operations(piece.open)]
    deeds = dict.fromkeys(operation.deed for operation in operations if operation.deed in job.times.work)
    finishes = dict.fromkeys(operation.finish for operation in operations if operation.finish in job.times.drying)
    work, drying = job.times.work, job.times.drying
    learnt = [LearntTime(deed, None, work[deed].times.typical, work[deed].count) for deed in deeds]
    learnt += [
        LearntTime(None, job.catalogue.finishes[name].title, drying[name].times.typical, drying[name].count)
        for name in finishes
        if name is not None
    ]
    if learnt:
        yield OwnTimesUsed(tuple(learnt))


def _interrupted(steps: Sequence[TimetableStep]) -> Iterator[Interrupted]:
    """Give the work that should not be interrupted and is."""
    seen: set[str] = set()
    for step in steps:
        if step.kind == "attended" and step.deed in ONE_STRETCH and step.id in seen:
            yield Interrupted(step.item, step.step, step.person, with_clean_up=step.deed in ("coat", "fill"))
        seen.add(step.id)
