"""A job looked back on."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.data.row import CountFromOne, NotNegative, WholeNumber, row, row_of
from finplan.quantity import Range
from finplan.record import FinishCost, JobSpan, Review, UsedCoats
from finplan.timetable import Deed


@row
class JobSpanRow:
    """JobSpan of a job.

    From its first work to its last.
    """

    begins: datetime
    """When work began."""
    ends: datetime
    """When the last of it was done."""
    days: CountFromOne
    """On how many days somebody worked at it."""
    ready: datetime | None
    """From when the customer may use it as was asked for; null where that is not known yet."""


@row
class ReviewedCoatsRow:
    """Coats looked back on.

    A coat, or several whose amounts were told together. The liquid as it goes on, thinner included.
    """

    steps: tuple[str, ...]
    """The ids of their steps."""
    items: tuple[str, ...]
    """What each of them is on."""
    finish: str
    """Its name in the catalogue."""
    planned_ml: Range
    """What all of them together were planned to take. [ml]"""
    used_ml: NotNegative | None
    """What they took; null where nothing is told of it, or only of a part. [ml]"""
    in_part: bool
    """Whether something is told, though not of all of it."""


@row
class ReviewedWorkRow:
    """Work looked back on.

    One kind of work by one person.
    """

    work: Deed
    """The kind of work: a deed of the timetable."""
    person: str | None
    """Who did it; of what is not done yet, who was planned to; null where that is not known."""
    steps: CountFromOne
    """How many steps of it there are."""
    planned_min: NotNegative
    """What all of them were planned to take. [min]"""
    timed: WholeNumber
    """Of how many it is told how long they took."""
    timed_planned_min: NotNegative
    """What those were planned to take. [min]"""
    took_min: NotNegative
    """And what they took. [min]"""


@row
class ReviewedCostRow:
    """Finish looked back on.

    Without thinner.
    """

    finish: str
    """Its name in the catalogue."""
    coats: WholeNumber
    """How many coats of it there are."""
    planned_ml: NotNegative
    """What all of them were planned to take. [ml]"""
    told: WholeNumber
    """Of how many it is told what was used."""
    told_planned_ml: NotNegative
    """What those were planned to take. [ml]"""
    used_ml: NotNegative
    """And what they took. [ml]"""
    per_litre: NotNegative | None
    """Its price: of the cans that were drawn on, else of those to buy; null where none is given."""
    planned_cost: NotNegative | None
    """What the planned is worth; null where no price is given."""
    used_cost: NotNegative | None
    """What was used is worth; null where no price is given."""


@row
class ReviewRow:
    """Review.

    What was planned of a job, beside what was ticked.
    """

    format: Literal["finplan-review/1"]
    """Says what this is."""
    pieces: tuple[str, ...]
    """What they are called."""
    plan: CountFromOne | None
    """The number of the plan by which the work was begun."""
    made: datetime
    """When that was made."""
    changed: bool
    """Whether the files have changed since: then what is planned is of the files as they are now."""
    steps: WholeNumber
    """How many steps the job has."""
    done: WholeNumber
    """How many of them are done."""
    deliver: datetime | None
    """When it is to be delivered; null where nothing is said of that."""
    planned: JobSpanRow | None
    """By the plan; null where there is nothing to do in it."""
    really: JobSpanRow | None
    """By the ticks; null where there is none."""
    coats: tuple[ReviewedCoatsRow, ...]
    """What each coat took."""
    work: tuple[ReviewedWorkRow, ...]
    """How long it took, by kind and person."""
    costs: tuple[ReviewedCostRow, ...]
    """What each finish is worth."""


def review_data(review: Review) -> ReviewRow:
    """Return a job looked back on."""
    zone = review.plan.shop.time_zone
    return row_of(
        ReviewRow,
        review,
        format="finplan-review/1",
        pieces=tuple(piece.source.piece.name for piece in review.plan.pieces),
        plan=review.plan.number,
        made=review.made.astimezone(zone),
        planned=_span(review.planned),
        really=_span(review.really),
        coats=tuple(map(_coats, review.coats)),
        work=tuple(row_of(ReviewedWorkRow, kind, work=kind.deed) for kind in review.work),
        costs=tuple(map(_cost, review.costs)),
    )


def _span(span: JobSpan | None) -> JobSpanRow | None:
    return None if span is None else row_of(JobSpanRow, span)


def _coats(used: UsedCoats) -> ReviewedCoatsRow:
    return row_of(
        ReviewedCoatsRow,
        used,
        steps=tuple(coat.step.id for coat in used.coats),
        items=tuple(coat.item for coat in used.coats),
    )


def _cost(cost: FinishCost) -> ReviewedCostRow:
    return row_of(ReviewedCostRow, cost, planned_cost=cost.worth(cost.planned_ml), used_cost=cost.worth(cost.used_ml))
