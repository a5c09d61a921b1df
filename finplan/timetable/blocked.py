"""Work that can never be done in a shop, whatever the date."""

from __future__ import annotations

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
    return None if operation.finish is None else setting.why_not(operation)


def _told(by_item: dict[str, list[str]], reason: str) -> str:
    work = "; ".join(f"{item}: {', '.join(labels)}" for item, labels in by_item.items())
    finds = "find" if sum(len(labels) for labels in by_item.values()) > 1 else "finds"
    return f"{work} {finds} no time: {reason}"
