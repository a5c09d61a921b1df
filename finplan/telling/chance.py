"""How sure a plan is, in words: on the terminal, on paper and in the data alike."""

from __future__ import annotations

import math

from finplan.material import sure_percent
from finplan.moments import not_after, not_before, show_moment
from finplan.timetable import Timetable


def chance_words(timetable: Timetable) -> tuple[str, ...]:
    """Return how surely dates are kept, whether that is as surely as is wanted, and when all is ready as surely."""
    if timetable.in_time_probability is None:
        return () if timetable.surely_ready is None else (_ready(timetable),)
    every = "every date is" if sum(piece.deliver is not None for piece in timetable.pieces) > 1 else "the date is"
    share = share_words(timetable.in_time_probability)
    told = [f"With work and drying as quick and as slow as they may be, {every} kept in {share} of all cases."]
    if timetable.unsure:
        dates = "the date" if len(timetable.pieces) == 1 else _dates(timetable)
        told.append(f"No plan was found that keeps {dates} {_cases(timetable)}, as is wanted.")
    return (*told, *([] if timetable.surely_ready is None else [_ready(timetable)]))


def latest_start_words(timetable: Timetable) -> str:
    """Return the latest start that is safe, or that none is; empty where it was not asked."""
    latest = timetable.latest_safe_start
    if latest is None:
        return ""
    dates = "each date" if len(timetable.pieces) > 1 else "the date"
    return f"The latest start that keeps {dates} {_cases(timetable)}: {show_moment(not_after(latest))}."


def _ready(timetable: Timetable) -> str:
    moment = timetable.surely_ready
    return "" if moment is None else f"Ready {_cases(timetable)} by {show_moment(not_before(moment))}."


def _dates(timetable: Timetable) -> str:
    return ", ".join(
        f"that of {piece_times.piece} ({share_words(piece_times.in_time or 0.0)})" for piece_times in timetable.unsure
    )


def _cases(timetable: Timetable) -> str:
    wanted = round(timetable.in_time_wanted * 100, 6)
    return "in nine of ten cases" if wanted == 90 else f"in {wanted:g} of 100 cases"


def share_words(chance: float) -> str:
    """Return a share in whole per cent; nothing that was drawn is surer than 99, nor quite out of the question."""
    return "fewer than 1 %" if chance < 0.01 else f"{sure_percent(chance)} %"


def of_twenty(chance: float) -> str:
    """Return a share as so many cases of twenty, cut down: nothing is told surer than it is, nor as certain.

    >>> of_twenty(0.86), of_twenty(1.0), of_twenty(0.03)
    ('17 of 20', '19 of 20', 'fewer than 1 of 20')
    """
    cases = math.floor(min(chance, 0.99) * 20 + 1e-9)
    return f"{cases} of 20" if cases else "fewer than 1 of 20"
