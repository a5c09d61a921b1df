"""What may not lie on an item for long is put on in portions, each taken off again and washed up after by itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from finplan.catalogue import Catalogue
from finplan.system import Treatment, TreatmentStep, numbered_id, portions_of
from finplan.timetable.operation import Operation, planned_minutes

StepOf = tuple[Treatment, TreatmentStep]


def in_portions(
    steps: Sequence[StepOf], make: Callable[[Treatment, TreatmentStep], list[Operation]], catalogue: Catalogue
) -> Iterator[tuple[StepOf, list[Operation]]]:
    """Give steps of an item with their operations; one done in portions with those that may not wait, in turns.

    Parameters
    ----------
    steps
        In their order, each with its treatment
    make
        Gives the operations of a step
    catalogue
        Which steps beside the coats are done in portions, and how large one is at most
    """
    left = iter(steps)
    for treatment, step in left:
        operations = make(treatment, step)
        count = portions_of(step, catalogue)
        if count > 1:
            while operations[-1].next_by_h is not None:
                operations += make(*next(left))
            operations = [
                operation for number in range(1, count + 1) for operation in portion(operations, number, count)
            ]
        yield (treatment, step), operations


def portion(row: Sequence[Operation], number: int, count: int) -> Iterator[Operation]:
    """Give a row of operations as done to one portion; only after the last of all it has to dry."""
    for whole in row:
        hours = whole.hours.scaled(1 / count)
        yield replace(
            whole,
            id=numbered_id(whole.id, number),
            label=f"{whole.label}, {number} of {count}",
            hours=hours,
            work_min=planned_minutes(hours.typical),
            wait_h=0.0 if whole is row[-1] and number < count else whole.wait_h,
        )
