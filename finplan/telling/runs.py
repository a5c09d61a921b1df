"""Coats that are put on one right after the other with the same tool, and cleaned up after once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from finplan.planning import Plan
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep, steps_by_row


@dataclass(frozen=True, slots=True)
class Run:
    """The coats between two clean-ups: the first stretch of each, in their order."""

    coats: tuple[TimetableStep, ...]

    @property
    def start(self) -> datetime:
        """When the first is begun, and what is mixed for all of them is mixed."""
        return self.coats[0].start

    def after(self, coat_id: str) -> TimetableStep | None:
        """Return the coat that follows another; None for the last."""
        ids = [coat.id for coat in self.coats]
        at = ids.index(coat_id) + 1
        return self.coats[at] if at < len(ids) else None


def runs_of_coats(plan: Plan) -> dict[str, Run]:
    """Return the run of every coat, by the id of its row."""
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    people: dict[str | None, list[TimetableStep]] = {}
    for row in plan.timetable.steps:
        if row.kind == "attended" and row.deed in ("coat", "fill", "clean-up"):
            people.setdefault(row.person, []).append(row)
    return {coat.id: run for rows in people.values() for run in _runs_of(rows, steps) for coat in run.coats}


def _runs_of(rows: list[TimetableStep], steps: Mapping[str, tuple[Treatment, TreatmentStep]]) -> Iterator[Run]:
    """Give the runs of one person, from coats and clean-ups alone."""
    together: dict[str, TimetableStep] = {}
    tool: tuple[str | None, str | None] | None = None
    for row in rows:
        _, step = steps[row.id]
        if together and (row.deed == "clean-up" or tool != (step.finish, step.method)):
            yield Run(tuple(together.values()))
            together = {}
        if row.deed != "clean-up":
            tool = (step.finish, step.method)
            together.setdefault(row.id, row)
    if together:
        yield Run(tuple(together.values()))
