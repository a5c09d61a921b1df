"""What has been done of a job by now, whether or not a plan that is held knew it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from finplan.ledger import HeldPlan, Ledger, ended_by_tick, ticks_of
from finplan.planning import Plan, steps_before
from finplan.record.asked import Asked
from finplan.record.film_tested import results_of
from finplan.timetable import all_operations


def done_now(ledger: Ledger, held: HeldPlan) -> dict[str, datetime]:
    """Return what is ticked of a job now, and what was said to be done when a plan of it was asked for, by id.

    What a plan took for done counts no more where its tick was taken back.
    """
    named = {text.partition("=")[0] for text in Asked.of(held.made.wishes).done}
    said = {step: at for step, at in held.made.done.items() if step in named}
    return {**said, **ended_by_tick(ticks_of(ledger, held.job))}


def lacking_of(ledger: Ledger, held: HeldPlan, plan: Plan) -> tuple[str, ...]:
    """Return the ids of steps that a plan leaves out as done and that are not: their ticks were taken back since.

    A test of an old coating too that came to something else when the plan was made.
    """
    done = completed(plan, done_now(ledger, held))
    every = all_operations(operation for piece in plan.pieces for operation in piece.operations)
    now = results_of(ticks_of(ledger, held.job))
    knew = results_of(ticks_of(ledger, held.job, up_to=held.made.last_tick))
    lacking = (step for step in (operation.id for operation in every) if step in held.made.done and step not in done)
    return (*(step for step, result in knew.items() if now.get(step) != result), *lacking)


def completed(plan: Plan, done: Mapping[str, datetime]) -> dict[str, datetime]:
    """Return what has been done with all that comes before it, which must have been done too: at its time, then.

    Whoever ticks at the bench is believed; ids that this plan does not have are left out. A clean-up, or abrading
    again, counts only where it is ticked itself: no other step waits for it.
    """
    before = steps_before(plan.pieces)
    whole = {step: at for step, at in done.items() if step in before}
    for step, at in sorted(whole.items(), key=lambda ended: ended[1]):
        for earlier in before[step]:
            whole.setdefault(earlier, at)
    every = all_operations(operation for piece in plan.pieces for operation in piece.operations)
    return whole | {operation.id: done[operation.id] for operation in every if operation.id in done}
