"""The first page: what it is, by when, what it gets, what is critical, and the worst dangers."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from finplan.listing import counted, some
from finplan.moments import show_clock, show_moment, show_year_day
from finplan.planning import Plan
from finplan.sheet.picture import Picture, picture
from finplan.system import Treatment
from finplan.telling import (
    NO_DELIVERY,
    READY,
    Moved,
    Names,
    critical_chain,
    critical_lines,
    done_words,
    latest_start,
    mark_of,
    moved_words,
    ready_at,
    risk_words,
    sprayed_without_booth,
    stops_words,
    treatment_words,
)


@dataclass(frozen=True, slots=True)
class Fact:
    """Something to know at a glance."""

    name: str
    value: str
    small: str = ""


@dataclass(frozen=True, slots=True)
class PieceRow:
    """One of several pieces: the letter that stands for it, and its dates."""

    mark: str
    name: str
    customer: str
    start: str
    ready: str
    deliver: str


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

    across: str
    """What stands across the head: that it is sprayed without a booth; empty where it is not."""
    customer: str
    """Of the one piece; of several each has its own in its row."""
    ready_for: str
    """What a piece is when it is ready."""
    pieces: tuple[PieceRow, ...]
    """Where there are several."""
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
    rules_first: str
    """What comes before all that is said of dangers."""
    done: tuple[str, ...]
    """What was done before this plan, an item a line."""
    moved: Moved | None
    """What is otherwise than on the sheet before; None where there is none."""
    notes: tuple[str, ...]
    """The shop's own."""


def first_page(plan: Plan) -> FirstPage:
    """Return the first page of a plan."""
    return FirstPage(
        across=sprayed_without_booth(plan.safety, plan.shop.spray_without_booth),
        customer=(plan.pieces[0].source.piece.customer or "") if len(plan.pieces) == 1 else "",
        ready_for=READY[plan.ready_for],
        pieces=_pieces(plan) if len(plan.pieces) > 1 else (),
        facts=_facts(plan),
        systems=_systems(plan),
        picture=picture(plan),
        chain=critical_chain(plan),
        critical=critical_lines(plan),
        mind=risk_words(plan),
        dangers=tuple(Danger(line.title, line.text) for line in plan.precautions.worst),
        rules_first=plan.precautions.rules_first,
        done=done_words(plan),
        moved=moved_words(plan),
        notes=plan.shop.notes.first_page,
    )


def _pieces(plan: Plan) -> tuple[PieceRow, ...]:
    return tuple(
        PieceRow(
            mark=mark_of(piece, plan),
            name=piece.name,
            customer=piece.source.piece.customer or "",
            start=show_moment(times.start),
            ready=show_moment(ready_at(times)),
            deliver=NO_DELIVERY if times.deliver is None else show_moment(times.deliver),
        )
        for times in plan.timetable.pieces
        for piece in (plan.piece_of(times),)
    )


def _facts(plan: Plan) -> tuple[Fact, ...]:
    table, latest = plan.timetable, latest_start(plan.timetable)
    facts = [_fact("Start", table.start)] if table.start else []
    facts += [_fact("Latest safe start", latest)] if latest else []
    if len(plan.pieces) > 1:
        return tuple(facts)  # when each is ready and delivered stands in its own row
    for times in table.pieces:
        facts.append(_fact(READY[plan.ready_for], ready_at(times)))
        facts.append(Fact("Deliver", NO_DELIVERY) if times.deliver is None else _fact("Deliver", times.deliver))
    return tuple(facts)


def _fact(name: str, moment: datetime) -> Fact:
    return Fact(name, show_year_day(moment.date()), show_clock(moment))


def _systems(plan: Plan) -> tuple[SystemLine, ...]:
    """Return what every item gets; items that get the same share a sentence, however each is sanded."""
    alike: dict[tuple[str, str], list[Treatment]] = {}
    for treatment in plan.treatments:
        title = plan.catalogue.systems[treatment.system].title
        alike.setdefault((title, treatment_words(treatment, "", plan)), []).append(treatment)
    return tuple(_system(title, found, plan) for (title, _), found in alike.items())


def _system(title: str, found: list[Treatment], plan: Plan) -> SystemLine:
    stops = [stops_words(treatment, plan) for treatment in found]
    names = [_named(treatment, plan) for treatment in found]
    if len(set(stops)) == 1:
        return SystemLine(some(names), title, treatment_words(found[0], stops[0], plan))
    by_stop: dict[str, list[str]] = {}
    for name, stop in zip(names, stops, strict=True):
        by_stop.setdefault(stop, []).append(name)
    sanded = [f"{some(of_stop)}, sanded to {stop}" for stop, of_stop in by_stop.items()]
    return SystemLine("; ".join(sanded), title, treatment_words(found[0], "", plan))


def _named(treatment: Treatment, plan: Plan) -> str:
    """Return an item with how many of it there are, an assembly with its parts."""
    counts = {part.part: part.count for part in plan.piece_of(treatment).surface.parts}
    name = Names(plan).of_treatment(treatment, counts)
    if not treatment.loose and name.endswith(treatment.item):
        name += f" ({some([counted(part, counts[part]) for part in treatment.parts])})"
    return name
