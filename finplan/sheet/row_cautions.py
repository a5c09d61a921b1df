"""The short cautions and ticks of one row of work, where they fall due; why stands with the cautions in full."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.system import Treatment, TreatmentStep

_ISOCYANATE = "Breathing protection as the safety data sheet demands; nobody else in the room."
_FLAMMABLE = "No flame, no spark; air moving."
_OILY_DUST = "Dust of fresh finish: empty the bag outdoors, at once."
_OILY_CLOTHS = "Cloths, pads and gloves: flat outdoors, or under water in the closed metal can."


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


def ticks_after(step: TreatmentStep, catalogue: Catalogue) -> tuple[str, ...]:
    """Return what is ticked at the end of a step, not only at the end of the day."""
    oily = step.finish is not None and catalogue.finishes[step.finish].hazards.self_heating
    return (_OILY_CLOTHS,) if oily else ()
