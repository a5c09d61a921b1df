"""The care card: what the customer gets with the piece."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from finplan.plan import Plan, PlannedPiece
from finplan.sheet.planned import treatment_name
from finplan.sheet.words import capital, listed, show_long_day
from finplan.system import Treatment

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class CareRow:
    """What some items are finished with, and how that is kept."""

    items: str
    title: str
    sheen: str
    cured: str
    care: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CareCard:
    """The whole card of one piece."""

    piece: str
    usable: str
    rows: tuple[CareRow, ...]
    delivery: tuple[str, ...]
    """What to keep to until the finish has cured."""


def care_cards(plan: Plan) -> tuple[CareCard, ...]:
    """Return a card for the customer of each piece."""
    return tuple(_card(piece, plan) for piece in plan.pieces)


def _card(piece: PlannedPiece, plan: Plan) -> CareCard:
    systems: dict[str, list[Treatment]] = {}
    for treatment in piece.treatments:
        systems.setdefault(treatment.system, []).append(treatment)
    return CareCard(
        piece=piece.source.piece.name,
        usable=next((show_long_day(one.ready.date()) for one in plan.timetable.pieces if one.piece == piece.name), ""),
        rows=tuple(_row(plan, system, treatments) for system, treatments in systems.items()),
        delivery=tuple(line.text for line in plan.cautions if line.when == "delivery"),
    )


def _row(plan: Plan, name: str, treatments: list[Treatment]) -> CareRow:
    system = plan.catalogue.systems[name]
    by_item = dict(plan.timetable.cured)
    cured = [by_item.get(f"{treatment.key}{treatment.item}") for treatment in treatments]
    known = [moment for moment in cured if moment is not None]
    return CareRow(
        items=capital(listed(treatment_name(treatment, plan) for treatment in treatments)),
        title=system.title,
        sheen=system.sheen,
        # The customer is told a day; one that the finish reaches in its course is not yet over.
        cured=show_long_day((max(known) + _ONE_DAY).date()) if len(known) == len(cured) else "",
        care=system.care,
    )
