"""How a job stands at a moment: its newest plan, what of it is done, what is late, and what is wet."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from finplan.bench.drying import coats_on
from finplan.bench.stands import standing_words
from finplan.ledger import HeldPlan, Ledger, Tick, TickKind, numbers_of, ticks_of
from finplan.planning import Plan, PlannedPiece
from finplan.problems import NotPossibleError
from finplan.record import done_now, lacking_of, plan_maker, read_plan, steps_done, steps_of_job
from finplan.timetable import DryFrom


@dataclass(frozen=True, slots=True)
class JobNow:
    """How a job stands."""

    plan: Plan
    """The newest one, as it is held, of the files as they are."""
    held: HeldPlan
    numbers: dict[str, int]
    """What steps are called, by id."""
    ticks: tuple[Tick, ...]
    """The entries that stand, in the order in which they were written down."""
    done: frozenset[str]
    """The ids of the steps that are done: ticked, or before one that is."""
    left: int
    """How many steps are still to be done."""
    late: frozenset[str]
    """The ids of those that should have been done by now."""
    lacking: tuple[str, ...]
    """The ids of steps that the plan leaves out as done, and that are to be done again: their ticks were taken back."""
    coats_on: frozenset[str]
    """The ids of those that put on what nothing has been done to yet."""
    wet: tuple[DryFrom, ...]
    """What of that is not dry yet."""
    stands: tuple[str, ...]
    """What stands of it and is told before all else, each a sentence without its stop."""

    @property
    def as_planned(self) -> bool:
        """Whether the files are as they were when the plan was made."""
        return self.plan.digest == self.held.made.digest

    def entry_of(self, steps: Collection[str], kind: TickKind = "done") -> Tick | None:
        """Return the last entry that tells of any of some steps; None where there is none."""
        entries = (tick for tick in reversed(self.ticks) if tick.kind == kind and not set(steps).isdisjoint(tick.steps))
        return next(entries, None)


def job_now(ledger: Ledger, held: HeldPlan, pieces: tuple[PlannedPiece, ...], moment: datetime) -> JobNow:
    """Return how the job of a plan stands.

    Raises
    ------
    NotPossibleError
        Another version of finplan held the plan, and it cannot be read.
    """
    plan = read_plan(ledger, held, plan_maker(pieces, moment))
    if plan is None:
        msg = f"plan {held.number} was held by another version of finplan and cannot be read: plan it again"
        raise NotPossibleError(msg)
    done = steps_done(plan, done_now(ledger, held))
    ends: dict[str, datetime] = {}
    for row in plan.timetable.steps:
        if row.kind == "attended":
            ends[row.id] = row.end
    on = coats_on(ledger, held, plan, moment)
    return JobNow(
        plan=plan,
        held=held,
        numbers=numbers_of(ledger, held.job),
        ticks=ticks_of(ledger, held.job),
        done=frozenset(done),
        left=len(steps_of_job(plan) - done),
        late=frozenset(step for step, end in ends.items() if end < moment and step not in done),
        lacking=lacking_of(ledger, held, plan),
        coats_on=on.on,
        wet=on.wet,
        stands=standing_words(ledger, held, plan, pieces, moment),
    )
