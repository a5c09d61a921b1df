"""The first page: what it is, by when, what it gets, what is critical, and the worst dangers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from itertools import groupby, pairwise

from finplan.plan import Plan
from finplan.safety import CautionLine
from finplan.sheet.picture import Picture, picture
from finplan.sheet.planned import Names, coat_finishes, treatment_name
from finplan.sheet.recoat import following
from finplan.sheet.words import (
    capital,
    counted,
    listed,
    not_after,
    not_before,
    show_clock,
    show_moment,
    show_year_day,
)
from finplan.showing import show_duration, show_temperature
from finplan.system import Treatment, TreatmentStep

WORST_DANGERS = 3
_FEW = 5
_MANY = 24
"""No more names than this are read at a glance; all of them stand on the pages that follow."""
_CLOSE = timedelta(hours=24)
"""A recoat window with more to spare is not worth a line."""


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
    critical: tuple[str, ...]
    mind: tuple[str, ...]
    """What risks to fail on this timber, or under this finish."""
    dangers: tuple[Danger, ...]


def first_page(plan: Plan) -> FirstPage:
    """Return the first page of a plan."""
    return FirstPage(
        customer=plan.source.piece.customer or "",
        facts=_facts(plan),
        systems=_systems(plan),
        picture=picture(plan),
        critical=_critical(plan),
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
        facts.append(Fact("Start no later than", show_year_day(latest.date()), show_clock(latest)))
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


def _critical(plan: Plan) -> tuple[str, ...]:
    """Return what decides whether the piece is ready in time."""
    table, names = plan.timetable, Names(plan)
    lines: list[str] = []
    coats = coat_finishes(plan)
    last = max((s for s in table.steps if s.id in coats and s.kind == "attended"), key=lambda s: s.end, default=None)
    if last is not None:
        lines.append(
            f"{capital(names.of_row(last))} is finished last ({last.step}, {show_moment(last.end)}): "
            "what delays it delays the piece."
        )
    if table.buffer_h is not None:
        short = table.buffer_h < table.buffer_wanted_h
        spare = f"{show_duration(table.buffer_h)} lie between ready and delivery"
        lines.append(
            f"Only {spare}, less than the {show_duration(table.buffer_wanted_h)} wanted: begin on time."
            if short
            else f"{capital(spare)}."
        )
    lines += _closing(plan, names)
    lines += _notes(plan, names)
    return tuple(lines)


def _notes(plan: Plan, names: Names) -> list[str]:
    """Return what stands still in the cold, with the items that it is about."""
    items: dict[float, dict[str, None]] = {}
    for step in plan.timetable.steps:
        if step.still_below_c is not None:
            items.setdefault(step.still_below_c, {})[names.of_row(step)] = None
    return [
        f"Drying stands still below {show_temperature(limit, plan.source.units)}: "
        f"{listed(found) if len(found) <= _FEW else f'{len(found)} items'}, see the days."
        for limit, found in items.items()
    ]


def _mind(plan: Plan) -> tuple[str, ...]:
    """Return each risk once, wherever in the piece it is."""
    risks = dict.fromkeys((one.wrong, one.expected) for one in plan.findings)
    return tuple(f"{capital(wrong)}. {capital(expected)}." for wrong, expected in risks)


def _closing(plan: Plan, names: Names) -> list[str]:
    """Return the recoat window that is most nearly missed, where one is; abrading in between makes it of no account."""
    following_coat = {
        step.id: after.id
        for treatment in plan.treatments
        for step, after in pairwise(one for one in treatment.steps if one.finish is not None)
        if following(treatment, step) == "coat"
    }
    rows = {row.id: row for row in plan.timetable.steps if row.kind == "attended"}
    windows = [
        (row.next_until - rows[following_coat[row.id]].start, row, row.next_until)
        for row in rows.values()
        if row.next_until is not None and following_coat.get(row.id) in rows
    ]
    spare, row, until = min(windows, key=lambda window: window[0], default=(_CLOSE, None, None))
    if row is None or until is None or spare >= _CLOSE:
        return []
    return [
        f"{capital(names.of_row(row))}, {row.step}: the next coat goes on by {show_moment(not_after(until))}, or it "
        "must be abraded first."
    ]


def worst(plan: Plan) -> tuple[CautionLine, ...]:
    """Return the worst dangers, the worst first: the first caution that speaks of each danger and of no other."""
    chosen: dict[str, CautionLine] = {}
    for line in plan.cautions:
        applies = plan.source.catalogue.cautions[line.code].applies
        if line.when != "always" and len(applies) == 1:
            chosen.setdefault(applies[0], line)
    return tuple(list(chosen.values())[:WORST_DANGERS])
