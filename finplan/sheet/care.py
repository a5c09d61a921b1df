"""The care card: what the customer gets with the piece."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from finplan.plan import Plan
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
    """The whole card."""

    usable: str
    rows: tuple[CareRow, ...]
    delivery: tuple[str, ...]
    """What to keep to until the finish has cured."""


def care_card(plan: Plan) -> CareCard:
    """Return the card for the customer."""
    systems: dict[str, list[Treatment]] = {}
    for treatment in plan.treatments:
        systems.setdefault(treatment.system, []).append(treatment)
    return CareCard(
        usable=show_long_day(plan.timetable.ready.date()) if plan.timetable.ready else "",
        rows=tuple(_row(plan, system, treatments) for system, treatments in systems.items()),
        delivery=tuple(line.text for line in plan.cautions if line.when == "delivery"),
    )


def _row(plan: Plan, name: str, treatments: list[Treatment]) -> CareRow:
    system = plan.source.catalogue.systems[name]
    by_item = dict(plan.timetable.cured)
    cured = [by_item.get(treatment.item) for treatment in treatments]
    known = [moment for moment in cured if moment is not None]
    return CareRow(
        items=capital(listed(treatment_name(treatment, plan) for treatment in treatments)),
        title=system.title,
        sheen=system.sheen,
        # The customer is told a day; one that the finish reaches in its course is not yet over.
        cured=show_long_day((max(known) + _ONE_DAY).date()) if len(known) == len(cured) else "",
        care=system.care,
    )
