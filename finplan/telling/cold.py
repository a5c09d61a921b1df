"""What the cold does to the coats of a plan."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.listing import listed
from finplan.planning import Plan
from finplan.showing import show_temperature
from finplan.telling.coat_air import cold_words, of_finishes
from finplan.telling.names import Names
from finplan.timetable import TimetableStep, steps_by_row

_FEW = 5


def cold_lines(plan: Plan) -> list[str]:
    """Return what the cold does to coats, with the items that it is about."""
    names = Names(plan)
    told = [
        (f"{words} {show_temperature(limit_c, plan.units)}", step)
        for step in plan.timetable.steps
        for limit_c, words in (
            (step.film_fails_below_c, "A film may not form in the cold, below"),
            (step.slow_below_c, "Drying is slow in the cold, below"),
        )
        if limit_c is not None
    ]
    items = {words: dict.fromkeys(names.of_row(row) for row in rows) for words, rows in _by_words(told, plan).items()}
    return [
        f"{words}: {listed(together) if len(together) <= _FEW else f'{len(together)} items'}, see the days."
        for words, together in items.items()
    ]


def cold_by_words(plan: Plan) -> dict[str, list[TimetableStep]]:
    """Return the sentences on what the cold does to coats, each with the rows of drying that it is about."""
    return _by_words([(words, row) for row in plan.timetable.steps for words in cold_words(row, plan.units)], plan)


def _by_words(told: Iterable[tuple[str, TimetableStep]], plan: Plan) -> dict[str, list[TimetableStep]]:
    """Return words with their rows; where what is slow below one warmth is not below another, with their finishes."""
    rows: dict[str, list[TimetableStep]] = {}
    for words, row in told:
        rows.setdefault(words, []).append(row)
    if len(rows) < 2:
        return rows
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    titles = {
        words: dict.fromkeys(
            plan.catalogue.finishes[finish].title for row in of_words if (finish := steps[row.id][1].finish)
        )
        for words, of_words in rows.items()
    }
    return {of_finishes(titles[words], words): of_words for words, of_words in rows.items()}
