"""The care card: what the customer gets with the piece."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from finplan.plan import Plan
from finplan.sheet.words import capital, listed, show_long_day

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
    systems: dict[str, list[str]] = {}
    for treatment in plan.treatments:
        systems.setdefault(treatment.system, []).append(treatment.item)
    return CareCard(
        usable=show_long_day(plan.timetable.ready.date()) if plan.timetable.ready else "",
        rows=tuple(_row(plan, system, items) for system, items in systems.items()),
        delivery=tuple(line.text for line in plan.cautions if line.when == "delivery"),
    )


def _row(plan: Plan, name: str, items: list[str]) -> CareRow:
    system = plan.source.catalogue.systems[name]
    by_item = dict(plan.timetable.cured)
    cured = [by_item[item] for item in items] if all(item in by_item for item in items) else []
    return CareRow(
        items=capital(listed(items)),
        title=system.title,
        sheen=system.sheen,
        # The customer is told a day; one that the finish reaches in its course is not yet over.
        cured=show_long_day((max(cured) + _ONE_DAY).date()) if cured else "",
        care=system.care,
    )
