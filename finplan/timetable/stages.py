"""How long a coat dries until it has reached a stage, and a whole treatment until it is fit for use."""

from __future__ import annotations

from typing import NamedTuple

from finplan.catalogue import Catalogue, DryingPhase, Finish
from finplan.quantity import Range
from finplan.system import Treatment
from finplan.timetable.job import ReadyFor
from finplan.timetable.operation import Stage


class StageTime(NamedTuple):
    """How long a coat dries in standard air until it has reached a stage, and which of its laws that time goes by."""

    phase: DryingPhase
    hours: Range


def stage_time(finish: Finish, stage: Stage | ReadyFor) -> StageTime:
    """Return how long a coat dries until it has reached a stage; of one that is not known, of the last before it."""
    match stage:
        case "cure" if finish.cure_h is not None:
            return StageTime("hardening", finish.cure_h)
        case "cure" | "light-use" if finish.light_use_h is not None:
            return StageTime("hardening", finish.light_use_h)
        case "handle" | "light-use" | "cure":
            return StageTime("through", finish.handle_h)
        case _:
            return StageTime("through", finish.recoat_h)


def surface_time(finish: Finish) -> StageTime:
    """Return how long a coat dries until dust no longer sticks."""
    return StageTime("surface", finish.dust_free_h or finish.touch_dry_h)


def nominal_hours(treatment: Treatment, catalogue: Catalogue) -> float:
    """Return the typical drying of all coats until the last is fit for light use, at 23 °C and 50 %. [h]"""
    coats = [catalogue.finishes[step.finish] for step in treatment.steps if step.finish is not None]
    if not coats:
        return 0.0
    return sum(coat.recoat_h.typical for coat in coats[:-1]) + (coats[-1].light_use_h or coats[-1].handle_h).typical
