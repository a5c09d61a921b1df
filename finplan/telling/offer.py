"""What is done to a piece, as its customer is told: what comes of it, and no minutes."""

from __future__ import annotations

from itertools import groupby

from finplan.catalogue import BEFORE, ExtraStep, StepDeed
from finplan.moments import show_long_day
from finplan.planning import Plan, PlannedPiece
from finplan.showing import capital
from finplan.system import Treatment, TreatmentStep, as_coat, sample_called
from finplan.telling.treatments import coats_between, coats_words
from finplan.timetable import Deed

_DONE: dict[StepDeed, str] = {
    "sand": "sanded until it is smooth",
    "raise-grain": "wetted and smoothed once more, so that it stays smooth",
    "fill": "grain filled",
    "rub-out": "rubbed to an even sheen",
}
"""By the deed of a step; of what only serves the next coat nothing is said."""
WORK_DONE: dict[Deed, str] = {
    "test": "the old coating tested for lead",
    "wipe-down": "the dust of it taken up",
    "glue-up": "glued up",
    "mask": "what gets no finish masked",
    "put-together": "put together",
}
"""By the deed of work that is no step of a system."""


def offer_words(treatment: Treatment, plan: Plan) -> str:
    """Return in sentences what an item gets, as its customer is told: before sanding, coats, what follows."""
    before: list[str] = []
    phrases: list[str] = []
    after: list[str] = []
    told = [step for step in treatment.steps if step.finish is not None or step.do in _DONE or _beside(step, plan)]
    for (record, deed, finish), together in groupby(told, key=lambda step: (_beside(step, plan), step.do, step.finish)):
        steps = list(together)
        if record is not None:
            where = before if record.when == "as-found" else phrases if record.when in BEFORE else after
            where.append(record.for_customer)
            continue
        if finish is None:
            phrases.append(_DONE[deed])
            continue
        title = plan.catalogue.finishes[as_coat(steps[0]).finish].title.partition(",")[0]
        phrases.append(f"{coats_words(*coats_between(steps))} of {title[:1].lower()}{title[1:]}")
    told_of = ((before, "; "), (phrases, ", then "), (after, "; "))
    return " ".join(f"{capital(joint.join(dict.fromkeys(of)))}." for of, joint in told_of if of)


def whole_words(piece: PlannedPiece, plan: Plan) -> str:
    """Return in a sentence what is done to a piece beside its coats, as its customer is told; empty for nothing."""
    items = {treatment.item for treatment in piece.treatments}
    told: dict[str, None] = {}
    for operation in piece.operations:
        words = WORK_DONE.get(operation.deed)
        if operation.extra is not None and operation.item not in items:
            words = plan.catalogue.extra_steps[operation.extra].for_customer
        if words:
            told[words] = None
    return f"{capital('; '.join(told))}." if told else ""


def sample_words(piece: PlannedPiece, plan: Plan) -> str:
    """Return that a sample of a piece is made and waits for approval; empty where none does."""
    board = next((other for other in plan.pieces if other.sample and other.called == sample_called(piece.called)), None)
    if board is None:
        return ""
    words, times = whole_words(board, plan), plan.times_of(board.name)
    if times is None or times.deliver is None:
        return words
    return f"{words[:-1]}, by {show_long_day(times.deliver.date())}."


def _beside(step: TreatmentStep, plan: Plan) -> ExtraStep | None:
    """Return the step beside the coats with which one begins; None where it is none."""
    return plan.catalogue.extra_steps.get(step.recipe.extra or step.name)
