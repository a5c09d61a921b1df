"""The operations of one step of a treatment, and how long they take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.catalogue import Catalogue
from finplan.material import thickness_factor
from finplan.quantity import Range
from finplan.sanding import SandingPlan
from finplan.system import (
    FIRST_SIDE,
    SECOND_SIDE,
    CoatStep,
    FaceGroup,
    Treatment,
    TreatmentStep,
    item_work,
    putting_on_hours,
    side_id,
    side_label,
    two_sides,
    work_id,
)
from finplan.timetable.extra_work import extra_operation
from finplan.timetable.following import Comes, abraded_first, following
from finplan.timetable.operation import Operation, Stage, planned_minutes

_WAITS_FOR: dict[Comes, Stage] = {"rub-out": "cure", "nothing": "handle"}
"""What is waited for by what comes on a coat; before another coat, and before abrading for it, that may be put on."""

_CLEAN_UP, _AGAIN = "clean-up", "abrade"
"""What hangs on a coat, in its ids."""


def step_operations(
    treatment: Treatment, step: TreatmentStep, sanding: SandingPlan, catalogue: Catalogue
) -> list[Operation]:
    """Return the operations of a step: one, or of a coat that is put on one side at a time, two."""
    if not isinstance(step, CoatStep):
        return [_dry_work(treatment, step, sanding, catalogue)]
    sides = two_sides(treatment, step, catalogue)
    if sides is None:
        return [_coat(treatment, step, step.groups, step.label, sanding, catalogue)]
    flip_h = catalogue.work["flip"].handling_h.scaled(treatment.pieces)
    operations = []
    for side, groups in zip((FIRST_SIDE, SECOND_SIDE), sides, strict=True):
        made = _coat(treatment, step, groups, side_label(step, groups), sanding, catalogue)
        hours = made.hours.plus(flip_h) if side == SECOND_SIDE else made.hours
        coat = side_id(step.id, side)
        clean_up = replace(made.clean_up, id=work_id(coat, _CLEAN_UP), side=side) if made.clean_up else None
        again = replace(made.again, id=work_id(coat, _AGAIN), side=side) if made.again else None
        operations.append(
            replace(
                made,
                id=coat,
                side=side,
                hours=hours,
                work_min=planned_minutes(hours.typical),
                clean_up=clean_up,
                again=again,
                next_waits_for="handle" if side == FIRST_SIDE else made.next_waits_for,
            )
        )
    return operations


def _dry_work(treatment: Treatment, step: TreatmentStep, sanding: SandingPlan, catalogue: Catalogue) -> Operation:
    if step.recipe.extra is not None:
        work = item_work(treatment, step, catalogue)
        return extra_operation(work, step, on_bare_wood=treatment.on_bare_wood(step))
    wait_h = 0.0
    if step.do == "sand":
        hours = sanding.hours_of(step.groups)
    elif step.do == "raise-grain":
        job = catalogue.work["raise-grain"]
        hours = job.handling_h.scaled(treatment.pieces)
        if job.speed_m2_h is not None:
            hours = hours.plus(Range.time_for(step.area_m2, job.speed_m2_h))
        wait_h = 0.0 if job.wait_h is None else job.wait_h.typical
    else:
        hours = Range.total(part.hours for part in sanding.abrading[step.id])
    return Operation(
        id=step.id,
        item=treatment.item,
        deed=step.do,
        label=step.label,
        step=step,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill="sanding",
        room_use="sanding",
        wait_h=wait_h,
        on_bare_wood=treatment.on_bare_wood(step),
        on_lathe=step.do == "sand" and sanding.on_lathe(step.groups, catalogue),
    )


def _coat(
    treatment: Treatment,
    step: CoatStep,
    groups: Sequence[FaceGroup],
    label: str,
    sanding: SandingPlan,
    catalogue: Catalogue,
) -> Operation:
    """Return the coat on some faces, with what it is called."""
    method = catalogue.methods[step.method]
    soaks_h = catalogue.finishes[step.finish].wiped_after_h(method)
    hours = coating_hours(treatment, step, catalogue, groups)
    coat = Operation(
        id=step.id,
        item=treatment.item,
        deed="fill" if step.do == "fill" else "coat",
        label=label,
        step=step,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill=method.use,
        room_use=method.use,
        finish=step.finish,
        method=step.method,
        soaks_h=0.0 if soaks_h is None else soaks_h.typical,
        thickness=thickness_factor(step, catalogue),
        times_as_thick=1.0 if step.left is None else step.left.times_as_thick,
        next_waits_for=_waits_for(treatment, step),
        abraded_first=abraded_first(treatment, step),
        on_bare_wood=treatment.on_bare_wood(step),
    )
    clean_up = replace(
        coat,
        id=work_id(step.id, _CLEAN_UP),
        deed="clean-up",
        label=f"clean up after {label}",
        hours=method.clean_up_h,
        work_min=planned_minutes(method.clean_up_h.typical),
        soaks_h=0.0,
        finish=None,
        on_bare_wood=False,
    )
    return replace(coat, clean_up=clean_up, again=_again(coat, treatment, step, sanding))


def _waits_for(treatment: Treatment, step: CoatStep) -> Stage:
    """Return the stage that a coat has to reach before anything is done on it; of one that went wrong, till then."""
    return _WAITS_FOR.get(following(treatment, step), "recoat") if step.left is None else step.left.until


def _again(coat: Operation, treatment: Treatment, step: CoatStep, sanding: SandingPlan) -> Operation:
    """Return the abrading of the coat below, which has become too hard for this one."""
    steps = sanding.abrading_again[step.id]
    hours = Range.total(grit_step.hours for grit_step in steps)
    before = treatment.steps[: treatment.steps.index(step)]
    again = "abrade again" if before and before[-1].do == "abrade" else "abrade"
    return replace(
        coat,
        id=work_id(step.id, _AGAIN),
        deed="abrade-again",
        label=f"{again} {steps[0].grit} before {coat.label}",
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill="sanding",
        room_use="sanding",
        finish=None,
        method=None,
        on_bare_wood=False,
    )


def coating_hours(
    treatment: Treatment, step: CoatStep, catalogue: Catalogue, groups: Sequence[FaceGroup] | None = None
) -> Range:
    """Return how long one coat of an item takes, with setting up and waiting to wipe off, but no cleaning up. [h]

    Parameters
    ----------
    treatment, step
        The coat
    catalogue
        Where the finish and the method are
    groups
        The faces that are coated; None for all of the step's
    """
    method = catalogue.methods[step.method]
    wiped_after_h = catalogue.finishes[step.finish].wiped_after_h(method)
    total = method.set_up_h
    if wiped_after_h is not None:
        total = total.plus(wiped_after_h)
    return total.plus(putting_on_hours(treatment, step, method, groups))
