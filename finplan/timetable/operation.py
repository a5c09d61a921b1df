"""What has to be done, item by item, in order: the operations that the timetable places."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue
from finplan.inputs.shop import Skill, Use
from finplan.quantity import Range
from finplan.sanding import SandingPlan
from finplan.system import Treatment, TreatmentStep

STEP_MIN = 5
"""Attended work is planned in steps of five minutes, rounded up."""


@dataclass(frozen=True, slots=True)
class AbradingAgain:
    """Abrading that is only needed where a recoat window has closed. Times in h."""

    grit: str
    hours: Range


@dataclass(frozen=True, slots=True)
class Operation:
    """One attended operation on an item. Times in h; ``work_min`` is the typical time that is planned."""

    id: str
    item: str
    label: str
    step: TreatmentStep
    hours: Range
    work_min: int
    skill: Skill
    room_use: Use
    makes_dust: bool
    on_bare_wood: bool
    """Whether it comes before the first coat."""
    pausable: bool
    finish: str | None
    """The finish that has to dry after it."""
    wait_h: float
    """Any other time until the next operation may start, whatever the air."""
    after_cure: bool
    """Whether the coat before it has to be cured, not only dry to recoat."""
    again: AbradingAgain | None
    """What a coat needs first if the one below it has become too hard for it."""

    def abrading_again(self) -> Operation:
        """Return the abrading of the coat below, which has become too hard for this one."""
        if self.again is None:
            msg = f"{self.id} is no coat"
            raise ValueError(msg)
        return replace(
            self,
            id=f"{self.id}/abrade",
            label=f"abrade again {self.again.grit} before {self.label}",
            hours=self.again.hours,
            work_min=planned_minutes(self.again.hours.typical),
            skill="sanding",
            room_use="sanding",
            makes_dust=True,
            on_bare_wood=False,
            pausable=True,
            finish=None,
            wait_h=0.0,
            again=None,
        )


def planned_minutes(hours: float) -> int:
    """Return hours as minutes, rounded up to whole steps.

    >>> planned_minutes(0.34)
    25
    """
    return max(STEP_MIN, math.ceil(hours * 60 / STEP_MIN - 1e-9) * STEP_MIN)


def operations(treatments: Iterable[Treatment], sanding: SandingPlan, catalogue: Catalogue) -> tuple[Operation, ...]:
    """Return the operations of all treatments, those of one item in their order."""
    return tuple(
        _operation(treatment, step, sanding, catalogue) for treatment in treatments for step in treatment.steps
    )


def _operation(treatment: Treatment, step: TreatmentStep, sanding: SandingPlan, catalogue: Catalogue) -> Operation:
    coating = step.do in ("coat", "fill")
    skill: Skill = "sanding"
    if coating:
        skill = "spraying" if step.method and catalogue.methods[step.method].sprayed else "coating"
    hours, wait_h = _hours(treatment, step, sanding, catalogue)
    return Operation(
        id=step.id,
        item=treatment.item,
        label=step.label,
        step=step,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill=skill,
        room_use="sanding" if not coating else "spraying" if skill == "spraying" else "coating",
        makes_dust=step.do in ("sand", "abrade", "rub-out"),
        on_bare_wood=treatment.on_bare_wood(step),
        pausable=not coating,
        finish=step.finish,
        wait_h=wait_h,
        after_cure=step.do == "rub-out",
        again=_again(step, sanding) if coating else None,
    )


def _again(step: TreatmentStep, sanding: SandingPlan) -> AbradingAgain:
    steps = sanding.abrading_again[step.id]
    return AbradingAgain(steps[0].grit, Range.total(one.hours for one in steps))


def _hours(
    treatment: Treatment, step: TreatmentStep, sanding: SandingPlan, catalogue: Catalogue
) -> tuple[Range, float]:
    """Return how long a step takes and how long to wait after it, beside drying. [h]"""
    if step.do == "sand":
        return sanding.hours_of(step.groups), 0.0
    if step.do in ("abrade", "rub-out"):
        return Range.total(part.hours for part in sanding.abrading[step.id]), 0.0
    if step.do == "raise-grain":
        job = catalogue.work["raise-grain"]
        wetting = Range.time_for(step.area_m2, job.speed_m2_h)
        return wetting.plus(job.handling_h.scaled(treatment.pieces)), job.wait_h.typical
    return coating_hours(treatment, step, catalogue), 0.0


def coating_hours(treatment: Treatment, step: TreatmentStep, catalogue: Catalogue) -> Range:
    """Return how long one coat of an item takes, with setting up, waiting to wipe off, and cleaning up. [h]"""
    method = catalogue.methods[step.method or ""]
    finish = catalogue.finishes[step.finish or ""]
    total = method.set_up_h.plus(method.clean_up_h)
    if finish.wipe_off_h is not None:
        total = total.plus(finish.wipe_off_h)
    total = total.plus(method.handling_h.scaled(treatment.pieces))
    spreading = (
        Range.time_for(group.area_m2, method.flat_m2_h if group.kind == "flat" else method.profile_m2_h)
        for group in step.groups
    )
    return total.plus(Range.total(spreading))
