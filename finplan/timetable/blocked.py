"""Work that can never be done in a shop, whatever the date."""

from __future__ import annotations

from finplan.inputs import takes_what_burns
from finplan.timetable.job import Job
from finplan.timetable.operation import Operation
from finplan.timetable.requirement import AirObjects, NobodyDoes, NoBooth, SomebodyWorks, TimeFound
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import Clash


def blocked(job: Job, setting: Setting) -> tuple[Clash, ...]:
    """Return what can never be done, one clash for each reason."""
    if any(piece.open for piece in job.pieces) and not any(setting.spans.values()):
        last = setting.clock_of_slot(setting.slots)
        return (Clash(SomebodyWorks(job.earliest.date(), last.date()), None),)
    by_reason: dict[NobodyDoes | NoBooth | AirObjects, dict[str, list[str]]] = {}
    for piece in job.pieces:
        for operation in piece.open:
            reason = _reason(operation, setting)
            if reason is not None:
                labels = by_reason.setdefault(reason, {}).setdefault(operation.item, [])
                if operation.label not in labels:
                    labels.append(operation.label)
    return tuple(
        Clash(TimeFound(tuple((item, tuple(labels)) for item, labels in by_item.items()), reason), None)
        for reason, by_item in by_reason.items()
    )


def _reason(operation: Operation, setting: Setting) -> NobodyDoes | NoBooth | AirObjects | None:
    """Return why an operation can never be done; None where it can be."""
    if not setting.who(operation):
        return NobodyDoes(operation.skill)
    if operation.finish is None:
        return None
    no_booth = _no_booth(operation, setting)
    if no_booth is not None:
        return no_booth
    objection = setting.why_not(operation)
    return None if objection is None else AirObjects(objection)


def _no_booth(operation: Operation, setting: Setting) -> NoBooth | None:
    """Return why something may not be sprayed in the shop; None where it may."""
    hazards = setting.catalogue.finishes[operation.coated_with].hazards
    if not operation.sprays or not (hazards.flammable or hazards.isocyanate):
        return None
    if setting.shop.spray_without_booth is not None:
        return None
    room = setting.rooms["spraying"]
    booth = setting.shop.rooms[room].booth
    if takes_what_burns(booth, setting.catalogue):
        return None
    return NoBooth(
        isocyanate=hazards.isocyanate,
        room=room,
        least_m_s=setting.catalogue.exhausts["booth"].velocity_m_s,
        has_m_s=None if booth is None else booth.velocity_m_s,
        units=setting.shop.units,
    )
