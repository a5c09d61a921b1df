"""The first page: what it is, by when, what it gets, what is critical, and the worst dangers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from finplan.plan import Plan
from finplan.safety import CautionLine, Trigger
from finplan.sheet.critical import critical_chain, critical_lines
from finplan.sheet.picture import Picture, picture
from finplan.sheet.planned import treatment_name
from finplan.sheet.words import (
    capital,
    counted,
    listed,
    not_after,
    not_before,
    show_clock,
    show_year_day,
)
from finplan.system import Treatment, TreatmentStep

WORST_DANGERS = 3
_PART_OF: dict[Trigger, Trigger] = {"fresh-oil-dust": "self-heating"}
"""Dangers that are another one again."""
_MANY = 24
"""No more names than this are read at a glance; all of them stand on the pages that follow."""


@dataclass(frozen=True, slots=True)
class Fact:
    """Something to know at a glance."""

    name: str
    value: str
    small: str = ""


@dataclass(frozen=True, slots=True)
class SystemLine:
    """What some items get, in one sentence."""

    items: str
    title: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Danger:
    """One of the worst dangers of this piece."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class FirstPage:
    """All of the first page."""

    customer: str
    facts: tuple[Fact, ...]
    systems: tuple[SystemLine, ...]
    picture: Picture | None
    chain: str
    """What is critical; the days mark it."""
    critical: tuple[str, ...]
    """What else decides."""
    mind: tuple[str, ...]
    """What risks to fail on this timber, under this finish, or in this air."""
    dangers: tuple[Danger, ...]


def first_page(plan: Plan) -> FirstPage:
    """Return the first page of a plan."""
    return FirstPage(
        customer=plan.source.piece.customer or "",
        facts=_facts(plan),
        systems=_systems(plan),
        picture=picture(plan),
        chain=critical_chain(plan),
        critical=critical_lines(plan),
        mind=_mind(plan),
        dangers=tuple(Danger(line.title, line.text) for line in worst(plan)),
    )


def _facts(plan: Plan) -> tuple[Fact, ...]:
    table = plan.timetable
    facts: list[Fact] = []
    if table.start:
        facts.append(Fact("Start", show_year_day(table.start.date()), show_clock(table.start)))
    if table.latest_safe_start:
        latest = not_after(table.latest_safe_start)
        facts.append(Fact("Latest safe start", show_year_day(latest.date()), show_clock(latest)))
    if table.ready:
        ready = not_before(table.ready)
        facts.append(Fact("Ready for light use", show_year_day(ready.date()), show_clock(ready)))
    if table.deliver:
        facts.append(Fact("Deliver", show_year_day(table.deliver.date()), show_clock(table.deliver)))
    else:
        facts.append(Fact("Deliver", "no date given"))
    return tuple(facts)


def _systems(plan: Plan) -> tuple[SystemLine, ...]:
    """Return what every item gets; items that get the same share a sentence."""
    counts = {part.part: part.count for part in plan.surface.parts}
    items: dict[tuple[str, str], list[str]] = {}
    for treatment in plan.treatments:
        name = treatment_name(treatment, plan, counts)
        if name == treatment.item and treatment.parts != (name,):
            name += f" ({_some([counted(part, counts[part]) for part in treatment.parts])})"
        key = (plan.source.catalogue.systems[treatment.system].title, _sentence(treatment, plan))
        items.setdefault(key, []).append(name)
    return tuple(SystemLine(_some(names), title, sentence) for (title, sentence), names in items.items())


def _some(names: list[str]) -> str:
    """Return names as a list, of very many only the first."""
    return listed(names if len(names) <= _MANY else [*names[:_MANY], f"{len(names) - _MANY} more"])


def _sentence(treatment: Treatment, plan: Plan) -> str:
    phrases: list[str] = []
    for kind, together in groupby(_without_abrading(treatment), key=lambda step: (step.do, step.finish)):
        steps = list(together)
        if kind[0] == "sand":
            phrases.append(f"sand to {_stops(treatment, plan)}")
        elif kind[0] == "coat":
            title = plan.source.catalogue.finishes[steps[0].finish or ""].title.lower().partition(",")[0]
            phrases.append(f"{len(steps)} coats of {title}" if len(steps) > 1 else f"one coat of {title}")
        else:
            phrases.append(steps[0].label)
    abrading = [step for step in treatment.steps if step.do == "abrade" and not treatment.on_bare_wood(step)]
    between = sorted({step.recipe.grit for step in abrading if step.recipe.grit})
    sentence = ", then ".join(phrases)
    if between:
        sentence += f", abraded with {listed(between)} between coats"
    return f"{capital(sentence)}."


def _without_abrading(treatment: Treatment) -> Iterable[TreatmentStep]:
    return (step for step in treatment.steps if step.do != "abrade")


def _stops(treatment: Treatment, plan: Plan) -> str:
    groups = set(treatment.groups)
    last = [found.steps[-1] for found in plan.sanding.groups if found.group in groups and found.steps]
    by_size = {step.grit: step.size_um for step in last}
    return listed(sorted(by_size, key=lambda grit: -by_size[grit]))


def _mind(plan: Plan) -> tuple[str, ...]:
    """Return each risk once, wherever in the piece it is."""
    risks = dict.fromkeys((one.wrong, one.expected) for one in plan.findings)
    return tuple(f"{capital(wrong)}. {capital(expected)}." for wrong, expected in risks)


def worst(plan: Plan) -> tuple[CautionLine, ...]:
    """Return the worst dangers, the worst first: the first caution that speaks of each danger and of no other."""
    chosen: dict[Trigger, CautionLine] = {}
    for line in plan.cautions:
        applies = plan.source.catalogue.cautions[line.code].applies
        if line.when != "always" and len(applies) == 1:
            chosen.setdefault(_PART_OF.get(applies[0], applies[0]), line)
    return tuple(list(chosen.values())[:WORST_DANGERS])
