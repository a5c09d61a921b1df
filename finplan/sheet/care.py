"""The care card: what the customer gets with the piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from finplan.listing import some
from finplan.planning import Plan, PlannedPiece
from finplan.sheet.care_text import CareText, Days, care_text, days_of, shared_and_own
from finplan.showing import capital
from finplan.system import Treatment
from finplan.telling import (
    because_words,
    card_contact,
    system_about,
    system_title,
    treatment_name,
)
from finplan.timetable import PieceTimes

_LETTERS = 400
"""How much of the names of items is printed; of more only the first, and how many there are."""
_LONG = 60
"""Characters of a name from which it is set smaller."""
_CLOTHS = "When you renew it at home:"
_AIR = "The days hold for a room as warm as the workshop; in a colder one it takes longer."


@dataclass(frozen=True, slots=True)
class CareRow:
    """What some items are finished with, and how that is kept."""

    items: str
    title: str
    about: str
    """What it is; empty where the shop's own system does not say."""
    text: CareText
    """What is said of it alone."""


@dataclass(frozen=True, slots=True)
class Mind:
    """What to mind, by a title."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class CareCard:
    """The whole card of one piece."""

    piece: str
    long_name: bool
    """Whether it is set smaller."""
    customer: str
    """For whom it is; empty where nobody is named."""
    shared: CareText
    """What holds for the whole piece; says nothing where it has one finish, whose row says all."""
    rows: tuple[CareRow, ...]
    cloths: tuple[Mind, ...]
    """What to do with cloths where it is renewed at home with what heats itself."""
    minds: tuple[Mind, ...]
    """What to keep to until the finish has cured, and what is published of food and children."""
    notes: tuple[str, ...]
    """The shop's own."""


def care_cards(plan: Plan) -> tuple[CareCard, ...]:
    """Return a card for the customer of each piece; a sample board goes to nobody, and has none."""
    return tuple(_card(piece, plan) for piece in plan.pieces if not piece.sample)


def _card(piece: PlannedPiece, plan: Plan) -> CareCard:
    systems: dict[str, list[Treatment]] = {}
    for treatment in piece.treatments:
        systems.setdefault(treatment.system, []).append(treatment)
    times = plan.times_of(piece.name)
    days = [_days(treatments, times, plan) for treatments in systems.values()]
    texts = [
        care_text(plan.catalogue.systems[system], day, plan.catalogue)
        for system, day in zip(systems, days, strict=True)
    ]
    shared, own = shared_and_own(texts)
    return CareCard(
        piece=piece.source.piece.name,
        long_name=len(piece.source.piece.name) > _LONG,
        customer=piece.source.piece.customer or "",
        shared=shared,
        rows=tuple(
            CareRow(
                items=capital(some([treatment_name(treated, plan) for treated in treatments], letters=_LETTERS)),
                title=system_title(treatments, plan.catalogue),
                about=system_about(treatments, plan.catalogue),
                text=text,
            )
            for treatments, text in zip(systems.values(), own, strict=True)
        ),
        cloths=tuple(_cloths(plan, systems)),
        minds=tuple(_minds(piece, plan, days)),
        notes=plan.shop.notes.care_card,
    )


def _days(treatments: Sequence[Treatment], times: PieceTimes | None, plan: Plan) -> Days:
    by_item = dict(plan.timetable.cured)
    cured = [by_item.get(treatment.in_plan) for treatment in treatments]
    ready, deliver = (None, None) if times is None else (times.ready, times.deliver)
    return days_of(ready, deliver, cured, plan.ready_for)


def _cloths(plan: Plan, systems: Iterable[str]) -> Iterator[Mind]:
    """Give the caution about oily cloths where an owner renews the piece with what heats itself."""
    renewed = [plan.catalogue.systems[name].renewed_with for name in systems]
    if any(plan.catalogue.finishes[name].hazards.self_heating for name in renewed if name is not None):
        for record in plan.catalogue.cautions.values():
            if record.applies == ("self-heating",) and record.when == "end of each step":
                yield Mind(record.title, f"{_CLOTHS} {record.text[:1].lower()}{record.text[1:]} {record.reason}")


def _minds(piece: PlannedPiece, plan: Plan, days: Sequence[Days]) -> Iterator[Mind]:
    steps = [step for treatment in piece.treatments for step in treatment.steps]
    here = {plan.catalogue.finishes[step.finish].title for step in steps if step.finish is not None}
    for line in plan.cautions:
        if line.when == "delivery" and not here.isdisjoint(because_words(line)):
            yield Mind(line.title, line.text)
    yield from (Mind(title, text) for title, text in card_contact(piece, plan))
    if any(day.ready is not None and day.hard is not None for day in days):
        yield Mind("In the cold", _AIR)
