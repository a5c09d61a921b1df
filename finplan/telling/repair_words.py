"""What a repair that was planned is, and what it costs, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.listing import number_of
from finplan.planning import Plan
from finplan.quantity import Range
from finplan.showing import plain, show_area, show_share
from finplan.spans import show_work
from finplan.system import TreatmentStep
from finplan.telling.chance import share_words
from finplan.timetable import Operation


def repair_head(steps: Sequence[TreatmentStep], share: float, plan: Plan) -> str:
    """Return how much is mended, in how many steps."""
    area_m2 = max((step.area_m2 for step in steps), default=0.0)
    spot_m2 = min((step.area_m2 for step in steps), default=0.0)
    spot = show_area(spot_m2, plan.units)
    where = f"{spot} ({show_share(share)})" if spot_m2 < area_m2 else spot
    return f"The repair is in the plan: {number_of(len(steps), 'step')}, on {where} and what belongs to it."


def cost_words(operations: Sequence[Operation], before: Plan, after: Plan) -> Iterator[str]:
    """Give what a repair costs: work, what has to be bought more, and how likely the dates are kept."""
    hours = Range.total(operation.hours for operation in operations)
    clean_ups = Range.total(operation.clean_up.hours for operation in operations if operation.clean_up is not None)
    yield f"Work: {show_work(hours.plus(clean_ups))}, cleaning up included."
    dearer = after.materials.known_cost - before.materials.known_cost
    if abs(dearer) >= _A_CENT:
        yield f"To be bought for {plain(abs(dearer), 4)} {'more' if dearer > 0 else 'less'} than before."
    was, now = before.timetable.in_time_probability, after.timetable.in_time_probability
    if was is not None and now is not None:
        yield f"The date is kept in {share_words(now)} of all cases; before it was in {share_words(was)}."


_A_CENT = 0.005
