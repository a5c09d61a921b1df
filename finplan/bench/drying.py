"""What was put on and is still to dry, by the record as it is now."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.ledger import HeldPlan, Ledger
from finplan.planning import Plan, job_of
from finplan.record import completed, done_now, in_air_until
from finplan.timetable import DryFrom, Job, dry_from, first_stretches, wet_coats


def dried_from(
    ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime, coats: Collection[str]
) -> tuple[DryFrom, ...]:
    """Return from when coats are dry, in the air as the record knows it; *coats* are ids of steps, others left out."""
    stood = {step: row.start for step, row in first_stretches(plan.timetable.steps).items()}
    return dry_from(_as_it_stands(ledger, held, plan, moment), coats, stood=stood)


@dataclass(frozen=True, slots=True)
class CoatsOn:
    """Coats on which nothing has been done yet."""

    on: frozenset[str]
    """The ids of the steps that put them on."""
    wet: tuple[DryFrom, ...]
    """Of those that are not dry yet, from when they are."""


def coats_on(ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime) -> CoatsOn:
    """Return what was put on and on which nothing has been done yet, as it is at a moment."""
    job = _as_it_stands(ledger, held, plan, moment)
    coats = wet_coats(job)
    wet = {coat.coat.id for coat in coats if coat.dry_from is None or coat.dry_from > moment}
    return CoatsOn(frozenset(coat.coat.id for coat in coats), dry_from(job, wet) if wet else ())


def _as_it_stands(ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime) -> Job:
    wishes = in_air_until(plan, ledger, held, moment).wishes
    done = completed(plan, done_now(ledger, held))
    return job_of(plan.pieces, plan.deliveries, moment, replace(wishes, done=done))
