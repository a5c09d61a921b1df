"""How long a coat dries until it has reached a stage, and a whole treatment until it is fit for use."""

from __future__ import annotations

from finplan.catalogue import Catalogue, Finish
from finplan.quantity import Range
from finplan.system import Treatment
from finplan.timetable.job import ReadyFor
from finplan.timetable.operation import Stage


def stage_hours(finish: Finish, stage: Stage | ReadyFor) -> Range:
    """Return how long a coat dries, in standard air, until it has reached a stage. [h]"""
    match stage:
        case "handle":
            return finish.handle_h
        case "light-use":
            return finish.light_use_h or finish.handle_h
        case "cure":
            return finish.cure_h or finish.light_use_h or finish.recoat_h
        case _:
            return finish.recoat_h


def nominal_hours(treatment: Treatment, catalogue: Catalogue) -> float:
    """Return the typical drying of all coats until the last is fit for light use, at 23 °C and 50 %. [h]"""
    coats = [catalogue.finishes[step.finish] for step in treatment.steps if step.finish is not None]
    if not coats:
        return 0.0
    return sum(coat.recoat_h.typical for coat in coats[:-1]) + (coats[-1].light_use_h or coats[-1].handle_h).typical
