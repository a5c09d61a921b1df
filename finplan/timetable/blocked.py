"""Work that can never be done in a shop, whatever the date."""

from __future__ import annotations

from finplan.inputs import proper
from finplan.showing import show_speed
from finplan.timetable.job import Job
from finplan.timetable.operation import Operation
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import Clash


def blocked(job: Job, setting: Setting) -> tuple[Clash, ...]:
    """Return what can never be done, one clash for each reason."""
    if any(piece.open for piece in job.pieces) and not any(setting.spans.values()):
        last = setting.clock_of_slot(setting.slots)
        return (Clash(f"nobody works in the shop from {job.earliest:%Y-%m-%d} to {last:%Y-%m-%d}", None),)
    found: dict[str, dict[str, list[str]]] = {}
    for piece in job.pieces:
        for operation in piece.open:
            reason = _reason(operation, setting)
            if reason is not None:
                labels = found.setdefault(reason, {}).setdefault(operation.item, [])
                if operation.label not in labels:
                    labels.append(operation.label)
    return tuple(Clash(_told(by_item, reason), None) for reason, by_item in found.items())


def _reason(operation: Operation, setting: Setting) -> str | None:
    """Return why an operation can never be done; None where it can be."""
    if not setting.who(operation):
        return f"nobody with hours in the shop does {operation.skill}"
    if operation.finish is None:
        return None
    return _no_booth(operation, setting) or setting.why_not(operation)


def _no_booth(operation: Operation, setting: Setting) -> str | None:
    """Return why something may not be sprayed in the shop; None where it may."""
    hazards = setting.catalogue.finishes[operation.coated_with].hazards
    if not operation.sprays or not (hazards.flammable or hazards.isocyanate):
        return None
    if setting.shop.spray_without_booth is not None:
        return None
    room = setting.rooms["spraying"]
    booth = setting.shop.rooms[room].booth
    if proper(booth, setting.catalogue):
        return None
    least = show_speed(setting.catalogue.exhausts["booth"].velocity_m_s, setting.shop.units)
    has = (
        "has no booth" if booth is None else f"has a booth of only {show_speed(booth.velocity_m_s, setting.shop.units)}"
    )
    what = "isocyanate" if hazards.isocyanate else "what burns"
    return (
        f"{what} is sprayed only in a booth whose air moves at {least} or faster, and {room} {has}; brush or wipe it, "
        "have it sprayed in a shop that has one, or give the room its 'booth'"
    )


def _told(by_item: dict[str, list[str]], reason: str) -> str:
    work = "; ".join(f"{item}: {', '.join(labels)}" for item, labels in by_item.items())
    finds = "find" if sum(len(labels) for labels in by_item.values()) > 1 else "finds"
    return f"{work} {finds} no time: {reason}"
