"""The short cautions and ticks of one row of work, where they fall due; why stands with the cautions in full."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.plan import Plan
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep

_ISOCYANATE = "Breathing protection as the safety data sheet demands; nobody else in the room."
_FLAMMABLE = "No flame, no spark; air moving."
_OILY_DUST = "Dust of fresh finish: empty the bag outdoors, at once."


def coating_cautions(step: TreatmentStep, catalogue: Catalogue) -> tuple[str, ...]:
    """Return what to mind while a finish is put on."""
    if step.finish is None:
        return ()
    hazards = catalogue.finishes[step.finish].hazards
    lines = [(_ISOCYANATE, hazards.isocyanate), (_FLAMMABLE, hazards.flammable)]
    return tuple(line for line, there in lines if there)


def abrading_cautions(treatment: Treatment, step: TreatmentStep, catalogue: Catalogue) -> tuple[str, ...]:
    """Return what to mind while the coats below *step* are abraded."""
    below = [one.finish for one in treatment.steps[: treatment.steps.index(step)] if one.finish is not None]
    return (_OILY_DUST,) if any(catalogue.finishes[name].hazards.self_heating for name in below) else ()


def ticks_after(row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return what is ticked at the end of a stretch of work, not only at the end of the day."""
    return tuple(tick.text for tick in plan.safety.ticks if tick.row == row.id and tick.due == row.end)
