"""A job looked back on: what was planned, beside what was ticked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from finplan.ledger import Standing, Tick, ended_by_tick
from finplan.planning import Plan
from finplan.record.finished import completed
from finplan.record.progress import steps_done, steps_of_job
from finplan.record.review_cost import FinishCost, finish_costs
from finplan.record.review_used import UsedCoats, used_coats
from finplan.record.review_work import KindOfWork, work_by_kind


@dataclass(frozen=True, slots=True)
class JobSpan:
    """From the first work to the last, and when all was ready."""

    begins: datetime
    ends: datetime
    days: int
    """On how many days somebody worked at it."""
    ready: datetime | None
    """From when the customer may use it as was asked for; None where that is not known yet."""


@dataclass(frozen=True, slots=True)
class Review:
    """What was planned, and what came of it."""

    plan: Plan
    """By which the work was begun."""
    made: datetime
    """When that was made."""
    changed: bool
    """Whether the files are no longer those that it was made from: then amounts are of the files as they are."""
    steps: int
    """How many steps the job has by its newest plan."""
    done: int
    """How many of them are ticked, or come before one that is."""
    planned: JobSpan | None
    really: JobSpan | None
    """None where nothing is ticked."""
    deliver: datetime | None
    coats: tuple[UsedCoats, ...]
    work: tuple[KindOfWork, ...]
    costs: tuple[FinishCost, ...]

    @property
    def finished(self) -> bool:
        """Whether nothing is left to do."""
        return self.done >= self.steps


def review_of(
    plan: Plan, latest: Plan, made: datetime, ticks: Sequence[Tick], lots: Sequence[Standing], *, changed: bool
) -> Review:
    """Return what was planned of a job, beside what was ticked.

    Parameters
    ----------
    plan
        By which the work was begun, as it was held
    latest
        The newest, with what is known by now of the air and of how the shop's coats dry
    made
        When it was made
    ticks
        The entries of the job that stand, in the order in which they were written down
    lots
        How the shelf stands, with what each coat drew
    changed
        Whether the files are others since
    """
    ticked = ended_by_tick(ticks)
    of_job, done = steps_of_job(latest), steps_done(latest, ticked)  # with what has come to it since, such as repairs
    coats = used_coats(plan, ticks)
    return Review(
        plan=plan,
        made=made,
        changed=changed,
        steps=len(of_job),
        done=len(of_job & done),
        planned=_planned(plan),
        really=_really(latest, ticks, completed(plan, ticked), whole=of_job <= done),
        deliver=plan.timetable.deliver,
        coats=coats,
        work=work_by_kind(plan, ticks),
        costs=finish_costs(plan, coats, ticks, lots),
    )


def _planned(plan: Plan) -> JobSpan | None:
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    if not rows:
        return None
    days = {row.start.date() for row in rows}
    begins, ends = min(row.start for row in rows), max(row.end for row in rows)
    return JobSpan(begins, ends, len(days), plan.timetable.ready)


def _really(plan: Plan, ticks: Sequence[Tick], done: Mapping[str, datetime], *, whole: bool) -> JobSpan | None:
    zone = plan.shop.time_zone
    ended = ended_by_tick(ticks)
    if not ended:
        return None
    ends = [at.astimezone(zone) for at in ended.values()]
    took_min = {step: tick.took_min for tick in ticks if tick.kind == "done" and tick.took_min for step in tick.steps}
    begins = min(at - timedelta(minutes=took_min.get(step, 0.0)) for step, at in ended.items()).astimezone(zone)
    return JobSpan(begins, max(ends), len({end.date() for end in ends}), _ready(plan, done) if whole else None)


def _ready(plan: Plan, done: Mapping[str, datetime]) -> datetime | None:
    """Return when all is ready that is done: how its last coats dry in the air of the shop."""
    now = max([plan.now, *done.values()])
    over = replace(plan, now=now, wishes=replace(plan.wishes, done=done, answers=False), replaced=None)
    return over.timetable.ready
