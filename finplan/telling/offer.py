"""What is done to a piece, as its customer is told: what comes of it, and no minutes."""

from __future__ import annotations

from itertools import groupby

from finplan.catalogue import StepDeed
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import Treatment, as_coat

_DONE: dict[StepDeed, str] = {
    "sand": "sanded until it is smooth",
    "raise-grain": "wetted and smoothed once more, so that it stays smooth",
    "fill": "grain filled",
    "rub-out": "rubbed to an even sheen",
}
"""By the deed of a step; of what only serves the next coat nothing is said."""
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


def offer_words(treatment: Treatment, plan: Plan) -> str:
    """Return in a sentence what an item gets, as its customer is told."""
    phrases: list[str] = []
    told = [step for step in treatment.steps if step.finish is not None or step.do in _DONE]
    for (deed, finish), together in groupby(told, key=lambda step: (step.do, step.finish)):
        steps = list(together)
        if finish is None:
            phrases.append(_DONE[deed])
            continue
        title = plan.catalogue.finishes[as_coat(steps[0]).finish].title.partition(",")[0]
        number = _NUMBERS[len(steps)] if len(steps) < len(_NUMBERS) else str(len(steps))
        phrases.append(f"{number} coat{'' if len(steps) == 1 else 's'} of {title[:1].lower()}{title[1:]}")
    return f"{capital(', then '.join(dict.fromkeys(phrases)))}." if phrases else ""
