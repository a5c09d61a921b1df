"""Which rows of the timetable belong to which coat."""

from __future__ import annotations

from finplan.plan import Plan
from finplan.timetable import TimetableStep

_DRYING = "/dry"
"""At the end of the id of a row that is the drying of the step before it."""


def coat_finishes(plan: Plan) -> dict[str, str]:
    """Return the finish of every step that puts one on, by the step's id."""
    return {
        step.id: step.finish for treatment in plan.treatments for step in treatment.steps if step.finish is not None
    }


def drying_by_coat(plan: Plan) -> dict[str, TimetableStep]:
    """Return the row in which a coat dries, by the id of the step that put it on."""
    return {row.id.removesuffix(_DRYING): row for row in plan.timetable.steps if row.kind == "drying"}
