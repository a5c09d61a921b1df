"""What comes on a coat, by the steps of its treatment alone."""

from __future__ import annotations

from itertools import takewhile
from typing import Literal

from finplan.system import Treatment, TreatmentStep

Comes = Literal["other-side", "rub-out", "nothing", "abrading", "coat"]
"""What comes on a coat; before a coat it is abraded, or it is not."""


def following(treatment: Treatment, step: TreatmentStep) -> Comes:
    """Return what comes on a coat once it is on all its faces."""
    later = later_steps(treatment, step)
    if later and later[0].do == "rub-out":
        return "rub-out"
    if all(known.finish is None for known in later):
        return "nothing"
    return "abrading" if abraded_first(treatment, step) else "coat"


def abraded_first(treatment: Treatment, step: TreatmentStep) -> bool | None:
    """Return whether the steps have a coat abraded before the next one; None where no other goes on it."""
    later = later_steps(treatment, step)
    if all(known.finish is None for known in later):
        return None
    before_next = takewhile(lambda known: known.finish is None, later)
    return any(known.do in ("sand", "abrade", "rub-out") for known in before_next)


def later_steps(treatment: Treatment, step: TreatmentStep) -> tuple[TreatmentStep, ...]:
    """Return the steps of a treatment that come after one of them."""
    return treatment.steps[treatment.steps.index(step) + 1 :]
