"""How long work really took, beside what it was planned to take, by kind and person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finplan.ledger import Tick
from finplan.planning import Plan
from finplan.timetable import Deed, all_operations


@dataclass(frozen=True, slots=True)
class KindOfWork:
    """One kind of work by one person. Times in min."""

    deed: Deed
    person: str | None
    """Who did it; of what nobody has done yet, who was planned to."""
    steps: int
    """How many steps of it there are."""
    planned_min: float
    """What all of them were planned to take."""
    timed: int
    """Of how many it is told how long they took."""
    timed_planned_min: float
    """What those were planned to take."""
    took_min: float
    """And what they took."""


@dataclass(frozen=True, slots=True)
class _Step:
    deed: Deed
    person: str | None
    planned_min: float
    took_min: float | None = None


def work_by_kind(plan: Plan, ticks: Sequence[Tick]) -> tuple[KindOfWork, ...]:
    """Return all work of a plan by kind and person, with what was told of it, kind by kind in the order of the plan.

    What one entry tells of several steps is shared out as they were planned. A later entry adds to an earlier one: what
    it leaves out stays as it was.
    """
    steps = _planned(plan)
    for tick in ticks:
        own = [step for step in tick.steps if step in steps]
        if tick.kind != "done" or not own:
            continue
        whole = sum(steps[step].planned_min for step in own)
        for step in own:
            was = steps[step]
            share = was.planned_min / whole if whole else 1 / len(own)
            took = was.took_min if tick.took_min is None else tick.took_min * share
            steps[step] = _Step(was.deed, tick.person or was.person, was.planned_min, took)
    kinds: dict[tuple[Deed, str | None], list[_Step]] = {}
    for step_ in steps.values():
        kinds.setdefault((step_.deed, step_.person), []).append(step_)
    order = list(dict.fromkeys(deed for deed, _ in kinds))
    in_order = sorted(kinds.items(), key=lambda kind: order.index(kind[0][0]))
    return tuple(_kind(deed, person, of_kind) for (deed, person), of_kind in in_order)


def _kind(deed: Deed, person: str | None, steps: Sequence[_Step]) -> KindOfWork:
    timed = [step for step in steps if step.took_min is not None]
    return KindOfWork(
        deed=deed,
        person=person,
        steps=len(steps),
        planned_min=sum(step.planned_min for step in steps),
        timed=len(timed),
        timed_planned_min=sum(step.planned_min for step in timed),
        took_min=sum(step.took_min or 0.0 for step in timed),
    )


def _planned(plan: Plan) -> dict[str, _Step]:
    """Return every step that somebody was planned to do, and what was planned for it before that was done already."""
    steps: dict[str, _Step] = {}
    for row in plan.timetable.steps:
        if row.kind == "attended":
            before = steps[row.id].planned_min if row.id in steps else 0.0
            minutes = (row.end - row.start).total_seconds() / 60
            steps[row.id] = _Step(row.deed, row.person, before + minutes)
    done: Mapping[str, object] = plan.done
    operations = [operation for piece in plan.pieces for operation in all_operations(piece.operations)]
    earlier = {
        operation.id: _Step(operation.deed, None, float(operation.work_min))
        for operation in operations
        if operation.id in done
    }
    return {**earlier, **steps}
