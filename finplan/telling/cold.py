"""What the cold does to the coats of a plan."""

from __future__ import annotations

from finplan.listing import listed
from finplan.planning import Plan
from finplan.showing import show_temperature
from finplan.telling.names import Names

_FEW = 5


def cold_lines(plan: Plan) -> list[str]:
    """Return what the cold does to coats, with the items that it is about."""
    names = Names(plan)
    items: dict[str, dict[str, None]] = {}
    for step in plan.timetable.steps:
        for limit_c, words in (
            (step.film_fails_below_c, "A film may not form in the cold, below"),
            (step.slow_below_c, "Drying is slow in the cold, below"),
        ):
            if limit_c is not None:
                told = f"{words} {show_temperature(limit_c, plan.units)}"
                items.setdefault(told, {})[names.of_row(step)] = None
    return [
        f"{told}: {listed(together) if len(together) <= _FEW else f'{len(together)} items'}, see the days."
        for told, together in items.items()
    ]
