"""What was assumed because the shop cannot quite do it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.learning import OwnTime
from finplan.listing import number_of
from finplan.showing import show_duration
from finplan.timetable.dust import settling_h
from finplan.timetable.hardened import hardened
from finplan.timetable.job import Job
from finplan.timetable.operation import ONE_STRETCH, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import TimetableStep


def notes(job: Job, setting: Setting, steps: Sequence[TimetableStep]) -> tuple[str, ...]:
    """Return what a maker has to know of a plan that the shop cannot quite do, each in a sentence."""
    told = [*_rack(job), *_spraying(job, setting), *_dust(job, setting), *hardened(job, setting, steps), *_torn(steps)]
    told += _own_times(job)
    return tuple(dict.fromkeys(told))


def _rack(job: Job) -> Iterator[str]:
    rack = job.shop.rack
    for piece in job.pieces:
        for item, (places, hooks) in piece.rack.items():
            if places > rack.places:
                yield f"{item} takes {number_of(places, 'flat place')} and the rack has {rack.places}: find it others."
            if hooks > rack.hooks:
                yield f"{item} takes {number_of(hooks, 'hook')} and the rack has {rack.hooks}: find it others."


def _spraying(job: Job, setting: Setting) -> Iterator[str]:
    sprays = any(operation.sprays for piece in job.pieces for operation in piece.open)
    if sprays and job.shop.room_for("spraying") is None:
        yield f"No room is for spraying: it is planned in {setting.rooms['spraying']}."


def _dust(job: Job, setting: Setting) -> Iterator[str]:
    """Give how long dust settles before a coat, where something is sanded beside it."""
    found = [operation for piece in job.pieces for operation in piece.open]
    coats = [one for one in found if one.finish is not None]
    wait_h = max((settling_h(job.shop, job.catalogue, one.room_use) for one in coats), default=0.0)
    if not wait_h or not any(one.makes_dust for one in found):
        return
    source = job.catalogue.sources[job.catalogue.work["let-dust-settle"].source_of("wait")]
    told = f"Wood is sanded where coats go on or dry, in {setting.rooms['sanding']}"
    yield f"{told}: no coat is begun until dust has settled for {show_duration(wait_h)}. Source: {source.title}."


_WORK: dict[str, str] = {
    "sand": "sanding bare wood",
    "raise-grain": "raising the grain",
    "fill": "filling",
    "coat": "coating",
    "abrade": "abrading",
    "rub-out": "rubbing out",
    "abrade-again": "abrading again",
    "clean-up": "cleaning up",
    "glue-up": "gluing up",
    "joints": "sanding joints",
    "mask": "masking",
    "put-together": "putting together",
    "test": "testing old paint",
    "wipe-down": "wiping down",
}


def work_name(deed: str) -> str:
    """Return a kind of work as it is named in a sentence.

    >>> work_name("sand")
    'sanding bare wood'
    """
    return _WORK[deed]


def _own_times(job: Job) -> Iterator[str]:
    """Give what is planned by the shop's own times."""
    found = [operation for piece in job.pieces for operation in all_operations(piece.open)]
    deeds = dict.fromkeys(one.deed for one in found if one.deed in job.times.work)
    told = [f"{work_name(deed)} {_times(job.times.work[deed], 'timed')}" for deed in deeds]
    finishes = dict.fromkeys(one.finish for one in found if one.finish in job.times.drying)
    told += [
        f"{job.catalogue.finishes[name].title} dries in {_times(job.times.drying[name], 'found dry')}"
        for name in finishes
        if name is not None
    ]
    if told:
        yield f"Planned by this shop's own times: {'; '.join(told)}."


def _times(own: OwnTime, noted: str) -> str:
    return f"{own.times.typical:.2g} times what is reckoned ({own.count} {noted})"


def _torn(steps: Sequence[TimetableStep]) -> Iterator[str]:
    """Give the work that should not be interrupted and is."""
    seen: set[str] = set()
    for step in steps:
        if step.kind == "attended" and step.deed in ONE_STRETCH and step.id in seen:
            cleaned = " and the cleaning up" if step.deed in ("coat", "fill") else ""
            told = f"{step.item}: {step.step} is interrupted by a break"
            yield f"{told}: no stretch of {step.person} is long enough for it{cleaned}."
        seen.add(step.id)
