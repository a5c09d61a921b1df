"""Every system tried on the same piece: what it takes, what it gives, and whether it is ready in time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from finplan.catalogue import Ratings
from finplan.costing import Quote
from finplan.inputs import ShelfItem
from finplan.material import NO_LESSONS, Lessons, MaterialPlan
from finplan.planning.costs import quote_for
from finplan.planning.fit_air import Looked, in_fit_air
from finplan.planning.order import order_of
from finplan.planning.piece import PlannedPiece
from finplan.planning.source import Source, missing_for_plan
from finplan.planning.timing import timetable_of
from finplan.planning.wishes import Wishes
from finplan.problems import Problem, RefusedError
from finplan.quantity import Range
from finplan.reading import GivenDate
from finplan.safety import CautionLine, Trigger, cautions, dangers
from finplan.system import Treatment
from finplan.timetable import Clash, Kept, Timetable, clean_ups, delivery_time

WATER = "water"
"""The one solvent whose vapour harms nobody."""
Verdict = Literal["in time", "late", "no date", "not here", "not on this"]
"""Ready before the delivery; after it; no delivery is named; the shop cannot do it; it does not go on this piece."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One system on this piece.

    Times in h, days by the calendar, volumes in ml, vapour in g, cost in the shop's money.
    """

    system: str
    title: str
    sheen: str
    use: str
    ratings: Ratings
    verdict: Verdict
    refused: tuple[Problem, ...] = ()
    """Where it is refused: the reasons, and what would help."""
    coats: int | None = None
    ready: datetime | None = None
    """When it would be ready for light use if work began at once."""
    days: float | None = None
    """From the first stroke of work to that."""
    work_h: Range | None = None
    volume_ml: Range | None = None
    voc_g: float | None = None
    """Typical mass of organic vapour that leaves the finishes and their thinner; cleaning not counted."""
    cost: float | None = None
    """Of the packs to buy; None where a price is not given."""
    labour: float | None = None
    """Of the typical work that is charged, what soaks in beside the next coat once; None without a price of an hour."""
    quote: Quote | None = None
    """What it costs, what is bought for safety left out; None where it is refused."""
    cautions: tuple[CautionLine, ...] = ()
    dangers: tuple[Trigger, ...] = ()
    """What brings the cautions: that it heats itself, burns, sensitises, …"""
    risks: tuple[Problem, ...] = ()
    """What may go wrong with it on these timbers, and what helps."""
    clashes: tuple[Clash, ...] = ()
    """Where the shop never finds time for it: what cannot be kept."""


def compare_systems(
    piece: PlannedPiece,
    *,
    now: datetime,
    deliver: GivenDate | None = None,
    lessons: Lessons = NO_LESSONS,
    shelf: tuple[ShelfItem, ...] | None = None,
) -> Iterator[Candidate]:
    """Give every system of the catalogue, one by one as it has been tried, in the catalogue's order.

    The system is put in the place of the piece's own; parts, assemblies and faces that name another keep it.

    Parameters
    ----------
    piece
        The piece, alone
    now
        The earliest moment at which work may start; knows its time zone
    deliver
        The delivery, where it is not the piece file's
    lessons
        What the shop has learnt of its amounts
    shelf
        What stands on the shelf, where it is not the shop file that says so
    """
    for name in piece.source.catalogue.systems:
        yield _tried(name, piece, now, deliver or piece.source.piece.deliver, lessons, shelf)


def _tried(
    name: str,
    piece: PlannedPiece,
    now: datetime,
    deliver: GivenDate | None,
    lessons: Lessons,
    shelf: tuple[ShelfItem, ...] | None,
) -> Candidate:
    source, system = piece.source, piece.source.catalogue.systems[name]
    tried = piece.under(source.with_piece(replace(source.piece, system=name)))
    blank = Candidate(name, system.title, system.sheen, system.use, system.ratings, "not on this")
    try:
        treatments = tried.treatments
    except RefusedError as error:
        return replace(blank, verdict=_refusal(tried), refused=error.problems)
    materials = order_of([tried], now=now, lessons=lessons, shelf=shelf)
    timetable = _timetable(tried, materials, now)
    work_h = Range.total(operation.hours for operation in (*tried.operations, *clean_ups(tried.operations)))
    per_h, quote = source.shop.hour, quote_for([tried], materials, timetable, {})
    charged = None if quote.work is None or quote.without_work else float(quote.work.typical)
    candidate = replace(
        blank,
        coats=_coats(treatments),
        work_h=work_h,
        volume_ml=Range.total(need.needed_ml for need in materials.materials),
        voc_g=_voc_g(materials, source),
        cost=_cost(materials),
        labour=None if per_h is None else work_h.typical * float(per_h) if charged is None else charged,
        quote=quote,
        cautions=cautions(treatments, source.catalogue),
        dangers=tuple(dangers(treatments, source.catalogue)),
        risks=tried.risks,
    )
    if timetable.ready is None or timetable.start is None:
        return replace(candidate, verdict="not here", clashes=timetable.clashes)
    due = delivery_time(deliver, source.shop)
    verdict: Verdict = "no date" if due is None else "in time" if timetable.ready <= due else "late"
    return replace(
        candidate,
        verdict=verdict,
        ready=timetable.ready,
        days=(timetable.ready - timetable.start).total_seconds() / 86400,
    )


def _timetable(tried: PlannedPiece, materials: MaterialPlan, now: datetime) -> Timetable:
    def planned(air_waits_h: Mapping[str, float]) -> Looked:
        wishes = Wishes(answers=False)
        kept = Kept(timetable_of([tried], [None], now=now, wishes=wishes, air_waits_h=air_waits_h), now)
        return Looked(kept, lambda: kept)

    return in_fit_air(planned, [tried], lambda: materials.coats, now=now, done={}).timetable


def _refusal(tried: PlannedPiece) -> Verdict:
    """Return whether it is the piece that refuses a system, whatever the shop could do, or only this shop."""
    lacking = missing_for_plan(tried.source.piece)
    clashing = any(problem.severity == "error" for problem in tried.clashes_anywhere)
    return "not on this" if lacking or clashing else "not here"


def _coats(treatments: tuple[Treatment, ...]) -> int:
    return max((sum(step.finish is not None for step in treatment.steps) for treatment in treatments), default=0)


def _voc_g(materials: MaterialPlan, source: Source) -> float:
    finishes, solvents = source.catalogue.finishes, source.catalogue.solvents
    total_g = 0.0
    for need in materials.materials:
        finish = finishes[need.material]
        total_g += need.needed_ml.typical / 1000 * finish.voc_g_l.typical
        thinner_ml = sum(coat.thinner_ml.typical for coat in need.coats)
        if finish.thinner_solvent is not None and finish.thinner_solvent != WATER:
            total_g += thinner_ml / 1000 * solvents[finish.thinner_solvent].density_g_l.typical
    return total_g


def _cost(materials: MaterialPlan) -> float | None:
    costs = [need.cost for need in materials.materials]
    return None if not costs or None in costs else sum(cost or 0.0 for cost in costs)
