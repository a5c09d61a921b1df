"""A job looked back on, in words: the same on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.listing import number_of
from finplan.moments import show_day, show_moment
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.record import FinishCost, JobSpan, KindOfWork, Review, UsedCoats
from finplan.showing import capital, plain, show_volume
from finplan.spans import show_range
from finplan.telling.names import Names, marked_name
from finplan.telling.tables import ToldTable
from finplan.telling.work_names import work_name

NOT_NOTED = "not noted"
_HOUR_MIN = 60
_COATS = 12
"""Of more coats those of which nothing is noted are one line for a finish: it is one page."""


@dataclass(frozen=True, slots=True)
class ReviewTold:
    """A job looked back on."""

    name: str
    lines: tuple[str, ...]
    """How far it is, and when it was done: sentences."""
    tables: tuple[ToldTable, ...]
    notes: tuple[str, ...]
    """What there is to know of all that, each a sentence."""


def review_told(review: Review) -> ReviewTold:
    """Return a review in words."""
    plan = review.plan
    tables = [_coats(review.coats, plan), _work(review.work), _costs(review.costs, plan)]
    return ReviewTold(
        name=", ".join(marked_name(piece.source.piece.name, piece, plan) for piece in plan.pieces),
        lines=tuple(_lines(review)),
        tables=tuple(table for table in tables if table.rows),
        notes=tuple(_notes(review)),
    )


def more_or_less(planned: float, really: float) -> str:
    """Return how far what came is from what was planned.

    >>> more_or_less(100, 112), more_or_less(100, 88.4), more_or_less(100, 100.2), more_or_less(0, 5)
    ('12 % more', '12 % less', 'as planned', 'not planned')
    """
    if planned <= 0:
        return "as planned" if really <= 0 else "not planned"
    percent = round((really / planned - 1) * 100)
    return "as planned" if percent == 0 else f"{abs(percent)} % {'more' if percent > 0 else 'less'}"


def _lines(review: Review) -> Iterator[str]:
    plan, left = review.plan, review.steps - review.done
    number = f"plan {plan.number}" if plan.number else "the plan"
    begun = "it was begun by" if review.really else "it is to be begun by"
    done = f"{number_of(review.done, 'step')} of {review.steps} {'is' if review.done == 1 else 'are'} done"
    state = "All is done" if review.finished else done
    left_words = "" if review.finished else f", {left} {'is' if left == 1 else 'are'} left"
    yield f"{state}{left_words}; {begun} {number} of {show_moment(review.made.astimezone(plan.shop.time_zone))}."
    planned, really = review.planned, review.really
    if planned is not None:
        yield f"Planned: {_span(planned)}."
    if really is None:
        yield "Nothing is ticked yet, so there is nothing to set beside it."
        return
    yield f"Really: {_span(really)}{'' if review.finished else ', so far'}."
    if planned is not None and review.finished:
        yield f"The last step was done {_apart(planned.ends, really.ends)} planned."
    due, ready = review.deliver, really.ready
    if due is not None and ready is not None:
        late = ready > due
        yield f"Delivery {show_moment(due)}: ready {_apart(due, ready) if late else _days(due - ready) + ' before'} it."


def _span(span: JobSpan) -> str:
    ready = "" if span.ready is None else f", ready {show_moment(span.ready)}"
    days = number_of(span.days, "day")
    return f"{show_moment(span.begins)} to {show_moment(span.ends)}, work on {days}{ready}"


def _apart(planned: datetime, really: datetime) -> str:
    if abs((really - planned).total_seconds()) < _HOUR_MIN * 60:
        return "within an hour of when it was"
    return f"{_days(abs(really - planned))} {'later than' if really > planned else 'sooner than'}"


def _days(span: object) -> str:
    hours = span.total_seconds() / 3600  # type: ignore[attr-defined]
    return f"{plain(hours / 24, 2)} days" if hours >= 48 else number_of(round(hours), "hour")


def _coats(coats: Sequence[UsedCoats], plan: Plan) -> ToldTable:
    names, units = Names(plan), plan.units
    blank = [coat for coat in coats if coat.used_ml is None and not coat.in_part]
    put_together = blank if len(coats) > _COATS else []
    rows = [
        (
            "; ".join(f"{names.of_step(coat.step)}, {coat.step.label}" for coat in used.coats),
            plan.catalogue.finishes[used.finish].title,
            show_range(used.planned_ml, lambda ml: show_volume(ml, units)),
            *_used(used, units),
        )
        for used in coats
        if used not in put_together
    ]
    for finish in dict.fromkeys(used.finish for used in put_together):
        own = [used for used in put_together if used.finish == finish]
        planned = show_volume(sum(used.planned_ml.typical for used in own), units)
        rows.append((number_of(len(own), "coat"), plan.catalogue.finishes[finish].title, planned, "", NOT_NOTED))
    heading = ("coat", "finish", "planned", "used", "that is")
    return ToldTable("What each coat took, thinner included", heading, tuple(rows), "llrrl")


def _used(used: UsedCoats, units: Units) -> tuple[str, str]:
    if used.used_ml is None:
        return ("", "noted in part" if used.in_part else NOT_NOTED)
    return show_volume(used.used_ml, units), more_or_less(used.planned_ml.typical, used.used_ml)


def _work(work: Sequence[KindOfWork]) -> ToldTable:
    rows = tuple(
        (
            capital(work_name(kind.deed)),
            kind.person or "",
            _hours(kind.planned_min),
            f"{kind.timed} of {kind.steps}",
            _hours(kind.timed_planned_min) if kind.timed else "",
            _hours(kind.took_min) if kind.timed else "",
            more_or_less(kind.timed_planned_min, kind.took_min) if kind.timed else NOT_NOTED,
        )
        for kind in work
    )
    planned, took = sum(kind.timed_planned_min for kind in work), sum(kind.took_min for kind in work)
    all_min, timed = sum(kind.planned_min for kind in work), sum(kind.timed for kind in work)
    foot = f"Together {_hours(all_min)} were planned."
    if timed:
        foot += f" What was timed was planned with {_hours(planned)} and took {_hours(took)}: "
        foot += f"{more_or_less(planned, took)}."
    heading = ("work", "who", "planned", "timed", "of it planned", "took", "that is")
    return ToldTable("How long it took", heading, rows, "llrrrrl", foot)


def _hours(minutes: float) -> str:
    """Return working time as it is added up.

    >>> _hours(25.0), _hours(95.0), _hours(600.0)
    ('25 min', '1.6 h', '10 h')
    """
    return f"{round(minutes)} min" if minutes < _HOUR_MIN else f"{plain(minutes / 60, 2)} h"


def _costs(costs: Sequence[FinishCost], plan: Plan) -> ToldTable:
    rows = tuple(
        (
            plan.catalogue.finishes[cost.finish].title,
            show_volume(cost.planned_ml, plan.units),
            _money(cost.worth(cost.planned_ml)),
            f"{cost.told} of {cost.coats}",
            show_volume(cost.used_ml, plan.units) if cost.told else "",
            _money(cost.worth(cost.used_ml)) if cost.told else "",
            more_or_less(cost.told_planned_ml, cost.used_ml) if cost.told else NOT_NOTED,
        )
        for cost in costs
    )
    heading = ("finish", "planned", "worth", "coats noted", "used", "worth", "that is")
    return ToldTable("What the finish cost, without thinner", heading, rows, "lrrrrrl")


def _money(cost: float | None) -> str:
    return "no price" if cost is None else f"{cost:.2f}"


def _notes(review: Review) -> Iterator[str]:
    if review.changed:
        yield "The files have changed since: amounts and times planned are of the files as they are now."
    if review.really is not None and any(coat.used_ml is None for coat in review.coats):
        yield "Where nothing is noted, tick the coat with --used or --can next time, and the shop learns from it."
    if review.costs and any(cost.per_litre is None for cost in review.costs):
        yield "A price comes with the can (finplan stock receive … --price), or with its packs in the shop file."
    if review.really is not None and not review.finished:
        day = show_day(review.really.ends.date())
        yield f"The job is not finished: what is set beside the plan is what was ticked up to {day}."
