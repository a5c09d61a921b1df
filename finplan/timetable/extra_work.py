"""Steps beside the coats as operations: on an item, and on the whole piece at last."""

from __future__ import annotations

from finplan.catalogue import ExtraStep
from finplan.system import ExtraWork, TreatmentStep
from finplan.timetable.operation import Operation, planned_minutes


def extra_operation(work: ExtraWork, step: TreatmentStep | None = None, *, on_bare_wood: bool = False) -> Operation:
    """Return a step beside the coats as an operation.

    Parameters
    ----------
    work
        What is done, to what, for how long
    step
        The step of a treatment that it is; None where it is done to the whole piece
    on_bare_wood
        Whether it comes before the first coat
    """
    record, hours = work.record, work.hours
    return Operation(
        id=work.id,
        item=work.item,
        deed="extra",
        label=record.label if step is None else step.label,
        step=step,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill=record.skill,
        room_use=record.skill,
        wait_h=_wait_h(record, step),
        next_by_h=record.wait_h.high if record.next_before_break and record.wait_h is not None else None,
        spare_h=record.spare_h,
        watch_h=record.watch_h,
        watch_by_h=record.watch_by_h,
        on_bare_wood=on_bare_wood,
        extra=work.name,
        dusty=record.dusty,
        one_stretch=record.one_stretch,
    )


def _wait_h(record: ExtraStep, step: TreatmentStep | None) -> float:
    """Return how long nothing else is done after it: what mends a coat waits as long as the fault asks. [h]"""
    if step is not None and step.mends is not None and step.mends.wait_h is not None:
        return step.mends.wait_h
    return 0.0 if record.wait_h is None else record.wait_h.typical
