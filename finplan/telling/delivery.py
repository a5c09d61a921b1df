"""What is done at a delivery for which somebody else has to be there, who may come before it, or not until then."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.telling.step_number import step_numbers
from finplan.timetable import PieceTimes, TimetableStep


def put_off_words(row: TimetableStep, plan: Plan) -> str:
    """Return who is asked to come for the last step of a piece, and when else it is done; empty of any other step."""
    deliver = _put_off_to(row, plan)
    if row.extra is None or deliver is None:
        return ""
    present = plan.catalogue.extra_steps[row.extra].present
    return f"Ask {present} to come then; else do it at the delivery, {show_moment(deliver)}."


def put_off_lines(plan: Plan) -> tuple[str, ...]:
    """Return the same of every step of a plan of which it is said, each with its number."""
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    told = ((row, put_off_words(row, plan)) for row in rows)
    return tuple(f"Step {step_numbers((row,))} ({row.step}): {words}" for row, words in told if words)


def at_delivery_words(delivered: Iterable[PieceTimes], plan: Plan) -> str:
    """Return what is done when pieces are delivered, where it was not done before; empty where nothing is."""
    pieces = {times.piece for times in delivered}
    rows = [row for row in plan.timetable.steps if row.piece in pieces and _put_off_to(row, plan) is not None]
    if not rows:
        return ""
    return f"step{'s' if len({row.number for row in rows}) > 1 else ''} {step_numbers(rows)} then, if not before"


def _put_off_to(row: TimetableStep, plan: Plan) -> datetime | None:
    """Return the delivery at which a step is done where who has to be there does not come before; None of all else."""
    record = None if row.extra is None else plan.catalogue.extra_steps[row.extra]
    times = plan.times_of(row.piece)
    if record is None or record.present is None or not record.comes_last or times is None:
        return None
    return times.deliver if times.deliver is not None and times.deliver > row.end else None
