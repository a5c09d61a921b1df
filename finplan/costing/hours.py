"""Hours of work by kind, as they are charged: from the minutes of the plan, with their spread."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Literal

from finplan.catalogue import Catalogue, ChargedAs
from finplan.costing.cost import Cost
from finplan.costing.waits import soaking_h
from finplan.inputs import Shop
from finplan.material import Term, cause, total
from finplan.quantity import Range
from finplan.sanding import SandingPlan
from finplan.timetable import Operation, Timetable, all_operations, clean_ups, hours_between

RatedWork = Literal["sanding", "coating", "spraying", "cleaning", "assembly"]
"""Kinds of work that may have a rate each."""
ChargedWork = RatedWork | ChargedAs | Literal["testing"]
"""Kinds of work that a quote tells apart, each at the rate of who does it."""
CHARGED_WORK: tuple[ChargedWork, ...] = (
    "testing",
    "stripping",
    "repairing",
    "sanding",
    "coating",
    "spraying",
    "cleaning",
    "assembly",
    "packing",
)
_CLEANING = ("clean-up", "wipe-down")
_MINUTES = 60.0


@dataclass(frozen=True, slots=True)
class PieceHours:
    """The work of one piece."""

    key: str
    operations: Sequence[Operation]


@dataclass(frozen=True, slots=True)
class KindHours:
    """The hours of one kind of work, and what an hour of it is reckoned at; None where no rate is given."""

    kind: ChargedWork
    terms: tuple[Term, ...]
    """Hours, each with what makes it uncertain."""
    rate: Decimal | None

    @property
    def hours(self) -> Range:
        """All of them: 5th percentile, as planned, 95th."""
        return total(self.terms).range

    @property
    def cost_terms(self) -> tuple[Term, ...]:
        """What they come to, each with what makes it uncertain; nothing where no rate is given."""
        return () if self.rate is None else tuple(term.scaled(float(self.rate)) for term in self.terms)

    @property
    def cost(self) -> Cost | None:
        """What they come to; None where no rate is given."""
        return None if self.rate is None else Cost.together(self.cost_terms)


def hours_of(
    pieces: Sequence[PieceHours],
    timetable: Timetable | None,
    done: Mapping[str, datetime],
    shop: Shop,
    catalogue: Catalogue,
) -> tuple[KindHours, ...]:
    """Return the hours of work of pieces by kind and rate, those of which there are none left out.

    Parameters
    ----------
    pieces
        With their operations
    timetable
        Who does what when; without a plan every coat is reckoned with a clean-up of its own
    done
        What is done already, which no timetable plans any more
    shop
        What an hour is reckoned at
    catalogue
        As what steps beside the coats are charged, and what work takes of the time planned for it, as a share

    Notes
    -----
    The minutes that are planned, without the waits of ``soaking_h``. All work of one sort on one piece takes the same
    share of them, sorts and pieces independently: as dates are held to be sure.
    """
    terms: dict[tuple[ChargedWork, Decimal | None], list[Term]] = {}
    takes = catalogue.labour["handwork"].takes
    operations = [operation for piece in pieces for operation in piece.operations]
    planned = _planned_min(operations, timetable, done)
    soaking = soaking_h(operations, timetable)
    for piece in pieces:
        for operation in all_operations(piece.operations):
            if operation.id in planned:
                differs = cause("hand", (piece.key, operation.deed), takes)
                line = (charged_work_of(operation, catalogue), _rate(rated_as(operation), shop))
                worked_h = max(0.0, planned[operation.id] / _MINUTES - soaking.get(operation.id, 0.0))
                terms.setdefault(line, []).append(Term(worked_h, differs))
    ordered = sorted(terms, key=lambda line: CHARGED_WORK.index(line[0]))
    return tuple(KindHours(kind, tuple(terms[kind, rate]), rate) for kind, rate in ordered)


def charged_work_of(operation: Operation, catalogue: Catalogue) -> ChargedWork:
    """Return as what the hours of an operation are told in a quote."""
    if operation.deed == "test":
        return "testing"
    record = None if operation.extra is None else catalogue.extra_steps[operation.extra]
    return rated_as(operation) if record is None or record.charged_as is None else record.charged_as


def rated_as(operation: Operation) -> RatedWork:
    """Return at whose rate an operation is charged: of what its hands can do, and what cleans of cleaning."""
    return "cleaning" if operation.deed in _CLEANING else operation.skill


def machine_hours(operations: Sequence[Operation], sanding: Iterable[SandingPlan], catalogue: Catalogue) -> Range:
    """Return how long machines sand bare wood, and guns spray. [h]"""
    methods = catalogue.sanding_methods
    sanded = [
        step.hours
        for plan in sanding
        for group in plan.groups
        for step in group.steps
        if step.method in methods and methods[step.method].by != "hand"
    ]
    return Range.total([*sanded, *(operation.hours for operation in operations if operation.sprays)])


def _planned_min(
    operations: Sequence[Operation], timetable: Timetable | None, done: Mapping[str, datetime]
) -> dict[str, float]:
    """Return how long is planned for each operation that is done, or has been, by its id. [min]"""
    if timetable is None or not timetable.has_plan:
        return {operation.id: float(operation.work_min) for operation in (*operations, *clean_ups(operations))}
    planned_min = {
        operation.id: float(operation.work_min) for operation in all_operations(operations) if operation.id in done
    }
    for row in timetable.steps:
        if row.kind == "attended":
            planned_min[row.id] = planned_min.get(row.id, 0.0) + hours_between(row.start, row.end) * _MINUTES
    return planned_min


def _rate(kind: RatedWork, shop: Shop) -> Decimal | None:
    own = getattr(shop.rates, kind) if shop.rates is not None else None
    return shop.hour if own is None else own.amount
