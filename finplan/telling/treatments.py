"""What items get, how far they are sanded, what risks to fail on them and what was done, in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from finplan.catalogue import Catalogue
from finplan.listing import listed
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import Treatment, TreatmentStep, as_coat
from finplan.telling.names import Names

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
_COUNTED = re.compile(rf", (?:{'|'.join(_NUMBERS)}) coats?\b")
"""How the title of a system tells its coats."""


def coats_words(most: int, least: int | None = None) -> str:
    """Return a number of coats in words, of *least* to *most* where not all faces get as many.

    >>> coats_words(1), coats_words(3), coats_words(12), coats_words(3, 1)
    ('one coat', 'three coats', '12 coats', 'one to three coats')
    """
    fewest = "" if least is None or least == most else f"{_number(least)} to "
    return f"{fewest}{_number(most)} coat{'' if most == 1 else 's'}"


def _number(number: int) -> str:
    return _NUMBERS[number] if number < len(_NUMBERS) else str(number)


def coats_between(steps: Sequence[TreatmentStep]) -> tuple[int, int]:
    """Return how many of some coats faces get that get any: the most, and the least."""
    groups = dict.fromkeys(group for step in steps for group in step.groups)
    numbers = [sum(group in step.groups for step in steps) for group in groups]
    return max(numbers), min(numbers)


def treatment_words(treatment: Treatment, stops: str, plan: Plan) -> str:
    """Return a treatment in one sentence; *stops* is how far it is sanded, where that is said in it."""
    phrases: list[str] = []
    for kind, together in groupby(
        _without_abrading(treatment), key=lambda step: (step.do, step.finish, step.recipe.extra)
    ):
        steps = list(together)
        if kind[0] == "sand":
            phrases.append(f"sand to {stops}" if stops else "sand")
        elif kind[0] == "coat":
            title = plan.catalogue.finishes[as_coat(steps[0]).finish].title.lower().partition(",")[0]
            most, least = coats_between(steps)
            number = "one coat" if most == 1 else f"{f'{least} to ' if least < most else ''}{most} coats"
            phrases.append(f"{number} of {title}")
        else:
            phrases.append(steps[0].label)
    abrading = [step for step in treatment.steps if step.do == "abrade" and not treatment.on_bare_wood(step)]
    between = sorted({step.recipe.grit for step in abrading if step.recipe.grit})
    sentence = ", then ".join(phrases)
    if between:
        sentence += f", abraded with {listed(between)} between coats"
    return f"{capital(sentence)}."


def system_title(treatments: Sequence[Treatment], catalogue: Catalogue) -> str:
    """Return what a system is called on what gets it: with the number of coats that is put on there.

    Parameters
    ----------
    treatments
        Of one system
    catalogue
        Where that is
    """
    system = catalogue.systems[treatments[0].system]
    own = sum(step.do == "coat" for step in system.steps)
    numbers = [
        sum(step.do == "coat" and group in step.groups for step in treatment.steps)
        for treatment in treatments
        for group in treatment.groups
    ]
    kept = _goes_on_kept(treatments)
    most, least = max(numbers, default=own), min(filter(None, numbers), default=own)
    title = system.title
    if kept and _is_part_alone(treatments, catalogue):
        finish = catalogue.finishes[treatments[0].put_on[-1].finish]
        title = f"{finish.title.partition(',')[0]}, {coats_words(most, least)}"
    elif (least, most) != (own, own):
        counted = coats_words(most, least)
        title = _COUNTED.sub(f", {counted}", title) if _COUNTED.search(title) else f"{title}, {counted}"
    return f"{title}, over the old coating" if kept else title


def system_about(treatments: Sequence[Treatment], catalogue: Catalogue) -> str:
    """Return what a system is, for the customer; nothing where only part of it goes on, over an old coating.

    Parameters
    ----------
    treatments
        Of one system
    catalogue
        Where that is
    """
    part = _goes_on_kept(treatments) and _is_part_alone(treatments, catalogue)
    return "" if part else catalogue.systems[treatments[0].system].about or ""


def _goes_on_kept(treatments: Iterable[Treatment]) -> bool:
    return any(all(step.do != "sand" for step in treatment.steps) for treatment in treatments)


def _is_part_alone(treatments: Iterable[Treatment], catalogue: Catalogue) -> bool:
    """Return whether not all finishes of a system go on: of shellac that is waxed the wax, of enamel no primer."""
    treatments = list(treatments)
    there = {coat.finish for treatment in treatments for coat in treatment.put_on}
    return any(step.do == "coat" and step.finish not in there for step in catalogue.systems[treatments[0].system].steps)


def _without_abrading(treatment: Treatment) -> Iterable[TreatmentStep]:
    """Give the steps that make a treatment; those beside the coats are told with their days."""
    return (step for step in treatment.steps if step.do not in ("abrade", "extra"))


def stops_words(treatment: Treatment, plan: Plan) -> str:
    """Return with which grades the sanding of its bare wood ends."""
    groups = set(treatment.groups)
    sanded = plan.piece_of(treatment).sanding.groups
    last = [of_group.steps[-1] for of_group in sanded if of_group.group in groups and of_group.steps]
    by_size = {step.grit: step.size_um for step in last}
    return listed(sorted(by_size, key=lambda grit: -by_size[grit]))


def risk_words(plan: Plan) -> tuple[str, ...]:
    """Return each risk once, wherever in the piece it is."""
    risks = dict.fromkeys((finding.wrong, finding.expected) for finding in plan.findings)
    return tuple(f"{capital(wrong)}. {capital(expected)}." for wrong, expected in risks)


def done_words(plan: Plan) -> tuple[str, ...]:
    """Return what was done before a plan, an item a line."""
    names = Names(plan)
    lines = []
    for treatment in plan.treatments:
        ended = [step for step in treatment.steps if step.id in plan.done]
        if ended:
            last = show_moment(plan.done[ended[-1].id].astimezone(plan.shop.time_zone))
            lines.append(f"{names.of_treatment(treatment)}: {listed(step.label for step in ended)}, until {last}")
    return tuple(lines)
