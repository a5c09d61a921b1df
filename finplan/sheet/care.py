"""The care card: what the customer gets with the piece."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from finplan.catalogue.system import Ratings
from finplan.plan import Plan, PlannedPiece
from finplan.safety import CautionLine
from finplan.sheet.planned import treatment_name
from finplan.sheet.words import capital, show_long_day, show_year_day, some
from finplan.system import Treatment
from finplan.timetable import ReadyFor

_ONE_DAY = timedelta(days=1)
_READY: dict[ReadyFor, str] = {
    "handle": "it may be carried and set down with care, and not used yet",
    "light-use": "light use, with care; dust it with a dry cloth",
    "cure": "light use, with care; dust it with a dry cloth",
}
_NOT_YET = "nothing hot, wet or heavy is left on it"
_HARD, _DAMP = "fully hard", "fully hard: it may be wiped with a damp cloth"
_DAMP_FROM = 3
"""The rating of its resistance to water from which a finish may be wiped with a damp cloth."""
_HEAT = {
    1: "No heat, ever: a warm cup marks it. Always a mat.",
    2: "Hot cups and dishes always on a mat, also when it is hard.",
    3: "A warm cup does no harm when it is hard; hot dishes on a mat.",
    4: "A hot cup does no harm when it is hard; pans on a mat.",
    5: "A hot dish does no harm when it is hard; pans from the stove on a mat.",
}
_WATER = {
    1: "Water marks it: wipe it up at once.",
    2: "Water marks it: wipe it up at once.",
    3: "Wipe up water soon.",
    4: "Water may stand for a while when it is hard; wipe it up the same day.",
    5: "Water does it no harm when it is hard.",
}
"""What the ratings of a system say to its owner; the ratings are the catalogue's."""


@dataclass(frozen=True, slots=True)
class When:
    """From a day on, or until it, what may be done."""

    day: str
    what: str


@dataclass(frozen=True, slots=True)
class CareRow:
    """What some items are finished with, and how that is kept."""

    items: str
    title: str
    about: str
    sheen: str
    cured: str
    """The day from which it is fully hard; empty where no plan says it."""
    times: tuple[When, ...]
    stands: tuple[str, ...]
    """What it withstands, of heat and of water."""
    care: tuple[str, ...]
    repair: tuple[str, ...]
    cloths: str
    """What to do with cloths where it is oiled again; empty where nothing in it heats itself."""


@dataclass(frozen=True, slots=True)
class CareCard:
    """The whole card of one piece."""

    piece: str
    usable: str
    rows: tuple[CareRow, ...]
    delivery: tuple[str, ...]
    """What to keep to until the finish has cured."""
    contact: tuple[str, ...]
    """What is published of food and children."""
    notes: tuple[str, ...]
    """The shop's own."""


def care_cards(plan: Plan) -> tuple[CareCard, ...]:
    """Return a card for the customer of each piece."""
    return tuple(_card(piece, plan) for piece in plan.pieces)


def _card(piece: PlannedPiece, plan: Plan) -> CareCard:
    systems: dict[str, list[Treatment]] = {}
    for treatment in piece.treatments:
        systems.setdefault(treatment.system, []).append(treatment)
    ready = next((one.ready for one in plan.timetable.pieces if one.piece == piece.name), None)
    items = {f"{treatment.key}{treatment.item}" for treatment in piece.treatments}
    return CareCard(
        piece=piece.source.piece.name,
        usable="" if ready is None else show_long_day(ready.date()),
        rows=tuple(_row(plan, system, treatments, ready) for system, treatments in systems.items()),
        delivery=tuple(line.text for line in plan.cautions if line.when == "delivery"),
        contact=tuple(dict.fromkeys(line.text for line in plan.safety.contact if line.item in items)),
        notes=plan.shop.notes.care_card,
    )


def _row(plan: Plan, name: str, treatments: list[Treatment], ready: datetime | None) -> CareRow:
    system = plan.catalogue.systems[name]
    hard = _hard(plan, treatments)
    return CareRow(
        items=capital(some([treatment_name(treatment, plan) for treatment in treatments], letters=160)),
        title=system.title,
        about=system.about or "",
        sheen=system.sheen,
        cured="" if hard is None else show_long_day(hard.date()),
        times=_times(ready, hard, _READY[plan.ready_for], _DAMP if system.ratings.water >= _DAMP_FROM else _HARD),
        stands=_stands(system.ratings),
        care=system.care,
        repair=system.repair,
        cloths=_cloths(plan, treatments),
    )


def _hard(plan: Plan, treatments: list[Treatment]) -> datetime | None:
    """Return the day from which all of them are hard: one that the finish reaches in its course is not yet over."""
    by_item = dict(plan.timetable.cured)
    cured = [by_item.get(f"{treatment.key}{treatment.item}") for treatment in treatments]
    known = [moment for moment in cured if moment is not None]
    return max(known) + _ONE_DAY if known and len(known) == len(cured) else None


def _times(ready: datetime | None, hard: datetime | None, first: str, then: str) -> tuple[When, ...]:
    if ready is not None and hard is not None and hard.date() <= ready.date():
        return (When(f"From {show_year_day(ready.date())}", then),)
    times = [] if ready is None else [When(f"From {show_year_day(ready.date())}", first)]
    if hard is not None:
        day = show_year_day(hard.date())
        times += [When(f"Until {day}", _NOT_YET), When(f"From {day}", then)]
    return tuple(times)


def _stands(ratings: Ratings) -> tuple[str, ...]:
    return (_HEAT[ratings.heat], _WATER[ratings.water])


def _cloths(plan: Plan, treatments: list[Treatment]) -> str:
    """Return the caution about oily cloths, for who oils again at home what heats itself."""
    finishes = {step.finish for treatment in treatments for step in treatment.steps if step.finish is not None}
    if not any(plan.catalogue.finishes[name].hazards.self_heating for name in finishes):
        return ""
    lines = (line for line in plan.cautions if _is_of_cloths(plan, line))
    return next((f"Whoever oils it again: {line.text[:1].lower()}{line.text[1:]}" for line in lines), "")


def _is_of_cloths(plan: Plan, line: CautionLine) -> bool:
    return plan.catalogue.cautions[line.code].applies == ("self-heating",) and line.when == "end of each step"
