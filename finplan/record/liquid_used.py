"""What was used of a liquid in steps beside the coats: stripper, what washes it off, what wipes a film."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from finplan.planning import Plan
from finplan.record.typed import TypedError
from finplan.system import item_work, steps_by_id
from finplan.timetable import Operation


@dataclass(frozen=True, slots=True)
class LiquidOfSteps:
    """A liquid that steps use up."""

    name: str
    """Of its record among the solvents."""
    reckoned_ml: float
    """What they should have taken."""
    density_g_ml: float


def liquid_of(plan: Plan, steps: Sequence[str], operations: Mapping[str, Operation]) -> LiquidOfSteps | None:
    """Return what steps beside the coats use up, and how much of it by the plan; None where none uses any.

    Of a step that is done in portions its part.

    Raises
    ------
    TypedError
        It is more than one liquid: what was used of which is not told.
    """
    catalogue, treated = plan.catalogue, steps_by_id(plan.treatments)
    used_ml: dict[str, float] = {}
    for work in _beside(steps, operations):
        record = catalogue.extra_steps[work.extra or ""]
        if work.of_step not in treated:
            continue
        treatment, step = treated[work.of_step]
        whole_h = item_work(treatment, step, catalogue).hours.typical
        share = min(1.0, work.hours.typical / whole_h) if whole_h else 1.0
        for name, rate_m2_l in record.liquids.items():
            used_ml[name] = used_ml.get(name, 0.0) + share * step.area_m2 / rate_m2_l.typical * 1000
    if len(used_ml) > 1:
        raise TypedError("these steps use up different liquids; tick each with what was used of it")
    return next(
        (LiquidOfSteps(name, ml, catalogue.solvents[name].density_g_l.typical / 1000) for name, ml in used_ml.items()),
        None,
    )


def _beside(steps: Iterable[str], operations: Mapping[str, Operation]) -> list[Operation]:
    return [operations[step] for step in steps if step in operations and operations[step].extra is not None]
