"""What mends a coat that went wrong, as steps of the treatment in which it is: woven in after what was done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue, FaultAnswer, RepairStep, Step
from finplan.system.ids import step_id
from finplan.system.treatment import (
    CoatStep,
    FaceGroup,
    LeftToDry,
    Mended,
    Treatment,
    TreatmentStep,
    coat_step,
)

SCRAPE = "scrape-coat"
"""The step beside the coats that scrapes a fault off."""
WIPE = "wipe-coat"
"""What those begin with that wipe a coat, with the solvent behind it."""
_TAP = "water"
"""What wipes where a product's own thinner is no solvent of the catalogue; its label says what does."""


@dataclass(frozen=True, slots=True)
class CoatRepair:
    """A coat that went wrong, and what is mended of it."""

    number: int
    """In the record."""
    fault: str
    """A name in the catalogue's faults."""
    coat: str
    """The id of the step that put it on."""
    after: str
    """The id of the step after which it is mended: the last that was done to the item."""
    share: float
    """How much of the faces is affected, 0 to 1."""
    parts: tuple[str, ...] = ()
    """The parts that are affected; empty for all of the item."""


def mended(
    treatments: Sequence[Treatment], repairs: Sequence[CoatRepair], catalogue: Catalogue
) -> tuple[Treatment, ...]:
    """Return treatments with what mends their coats, in the order in which it came into the record.

    A repair of a coat that no treatment has is left out: the files may have changed since.
    """
    woven = list(treatments)
    for repair in repairs:
        for index, treatment in enumerate(woven):
            coat = next((step for step in treatment.steps if step.id == repair.coat), None)
            if isinstance(coat, CoatStep) and any(step.id == repair.after for step in treatment.steps):
                woven[index] = _woven(treatment, coat, repair, catalogue)
    return tuple(woven)


def mending_steps(
    treatment: Treatment, coat: CoatStep, repair: CoatRepair, catalogue: Catalogue
) -> tuple[TreatmentStep, ...]:
    """Return the steps that mend a coat, in their order; none where the catalogue has no answer for its finish."""
    answer = _answer(coat, repair, catalogue)
    if answer is None:
        return ()
    later = treatment.steps[_place(treatment, repair) + 1 :]
    last = not any(after.do == "coat" and after.finish == coat.finish for after in later)
    asked = [mends for mends in answer.steps if mends.only == "always" or (mends.only == "last") is last]
    steps: list[TreatmentStep] = []
    for step in asked:
        groups = _groups(coat, repair, step)
        if groups:
            steps += _expanded(treatment, coat, repair, step, groups, catalogue)
    named = (replace(step, name=f"repair-{repair.number}-{place}") for place, step in enumerate(steps, 1))
    return tuple(replace(step, id=step_id(treatment.stem, treatment.system, step.name)) for step in named)


def _woven(treatment: Treatment, coat: CoatStep, repair: CoatRepair, catalogue: Catalogue) -> Treatment:
    answer, new = _answer(coat, repair, catalogue), mending_steps(treatment, coat, repair, catalogue)
    if answer is None or not new:
        return treatment
    at = _place(treatment, repair)
    steps = list(treatment.steps)
    if steps[at] == coat:  # nothing was done on it since: it dries until it can be worked
        steps[at] = replace(coat, left=LeftToDry(answer.until, answer.times_as_thick))
    steps[at + 1 : at + 1] = new
    return replace(treatment, steps=tuple(steps))


def _answer(coat: CoatStep, repair: CoatRepair, catalogue: Catalogue) -> FaultAnswer | None:
    fault = catalogue.faults.get(repair.fault)
    return None if fault is None else fault.answer(coat.finish, catalogue.finishes[coat.finish])


def _place(treatment: Treatment, repair: CoatRepair) -> int:
    return next(index for index, step in enumerate(treatment.steps) if step.id == repair.after)


def _groups(coat: CoatStep, repair: CoatRepair, step: RepairStep) -> tuple[FaceGroup, ...]:
    """Return the faces of a step: those of the parts that are affected, the spot on each being its share."""
    affected = [group for group in coat.groups if not repair.parts or group.part in repair.parts]
    if step.on == "item":
        return tuple(affected)
    share = repair.share
    return tuple(
        replace(group, area_m2=group.area_m2 * share, end_grain_m2=group.end_grain_m2 * share) for group in affected
    )


def _expanded(
    treatment: Treatment,
    coat: CoatStep,
    repair: CoatRepair,
    step: RepairStep,
    groups: tuple[FaceGroup, ...],
    catalogue: Catalogue,
) -> Iterator[TreatmentStep]:
    wait_h = None if step.wait_h is None else step.wait_h.typical
    mends = Mended(repair.number, repair.fault, repair.coat, wait_h)
    if step.do in ("coat", "coats"):
        for coated in (coat,) if step.do == "coat" else _coats_up_to(treatment, coat):
            yield _again(coated, groups, mends, step)
        return
    recipe = _recipe(coat, step, catalogue)
    called = recipe.called or f"abrade {recipe.grit}"
    yield TreatmentStep(
        id="",
        do=recipe.do,
        label=f"{called} ({repair.fault})",
        recipe=recipe,
        coat=None,
        finish=None,
        method=None,
        bare=False,
        groups=groups,
        mends=mends,
    )


def _coats_up_to(treatment: Treatment, coat: CoatStep) -> Iterator[TreatmentStep]:
    """Give all coats of a treatment from the first up to one, and what its recipe abrades between them."""
    steps = [step for step in treatment.steps[: treatment.steps.index(coat) + 1] if step.mends is None]
    first = next(index for index, step in enumerate(steps) if step.finish is not None)
    yield from (step for step in steps[first:] if step.do in ("coat", "fill", "abrade"))


def _again(before: TreatmentStep, groups: tuple[FaceGroup, ...], mends: Mended, step: RepairStep) -> TreatmentStep:
    """Return a step of the recipe, done again on some faces."""
    label = f"{before.label} again ({mends.fault})" if before.finish is not None else f"{before.label} ({mends.fault})"
    recipe = before.recipe.model_copy(update={"note": step.note or before.recipe.note})
    kept = replace(before, id="", label=label, recipe=recipe, groups=groups, sealed=(), mends=mends, left=None)
    return kept if before.finish is None or before.method is None else coat_step(kept, before.finish, before.method)


def _recipe(coat: CoatStep, step: RepairStep, catalogue: Catalogue) -> Step:
    if step.do == "abrade":
        return Step(do="abrade", grit=step.grit, note=step.note)
    extra = SCRAPE if step.do == "scrape" else f"{WIPE}-{_solvent(coat, step, catalogue)}"
    return Step(do="extra", extra=extra, called=catalogue.extra_steps[extra].label, note=step.note)


def _solvent(coat: CoatStep, step: RepairStep, catalogue: Catalogue) -> str:
    finish = catalogue.finishes[coat.finish]
    return step.solvent or finish.thinner_solvent or finish.clean_up_solvent or _TAP
