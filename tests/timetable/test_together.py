"""The bound on the sum of the starts of several pieces: no plan that was made or proven comes to more."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.scheduling import LatestStarts, solve
from finplan.timetable import Planner
from finplan.timetable.construct.together import Lying, least_left
from finplan.timetable.problem import Window
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf
from tests.timetable.test_construct import made_up_job

DAY = 24 * 60 // 5
"""Slots."""


@pytest.mark.parametrize(("seed", "pieces"), [(4, 3), (1, 6), (2, 6)])
def test_no_plan_made_at_once_comes_to_more(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    made = planner.made_late(NO_BUFFER)
    if made is None:
        pytest.skip("no plan keeps the dates")
    begun = planner.maker.begun(made.schedule)
    due = {piece.key: at for piece in planner.job.pieces if (at := planner.due(piece)) is not None and piece.open}
    value = planner.working.up_to
    bound = planner.maker.latest_sum(due, value)
    assert sum(value(begun[key]) for key in due) <= bound
    assert bound <= sum(value(planner.maker.latest(key, at) or 0) for key, at in due.items())


@pytest.mark.parametrize("dates", [("2027-03-24", "2027-03-26"), ("2027-03-26", "2027-03-26")])
def test_no_plan_of_the_general_solver_comes_to_more(dates: tuple[str, str], tmp_path: Path) -> None:
    """Two shelves that want the one place of a rack: the search knows nothing of the bound."""
    shop = ONE_PERSON + "rack: {places: 1, hooks: 1}\n"
    found = read(tmp_path, [shelf("hardwax-oil", count=2), shelf("wax", count=1)], shop)
    planner = Planner(job_of(found, [GivenDate.parse(f"{date} 17:00") for date in dates], NOW, Wishes()))
    due = {piece.key: at for piece in planner.job.pieces if (at := planner.due(piece)) is not None}
    placement = planner.placement({key: Window(at - 14 * DAY, at, at) for key, at in due.items()})
    result = solve(placement.problem, [LatestStarts(placement.chains)], limit_s=60, effort=0.5, workers=1)
    assert result.schedule
    value = planner.working.up_to
    begun = planner.maker.begun(result.schedule)
    assert sum(value(begun[key]) for key in due) <= planner.maker.latest_sum(due, value)


@given(st.lists(st.tuples(st.integers(1, 4), st.integers(2, 9)), min_size=1, max_size=4))
def test_what_has_least_left_goes_first_in_the_best_of_all_orders(pieces: list[tuple[int, int]]) -> None:
    """Against every order of pieces, each taking what is free by the moment at which it comes."""
    moments = [8 - at for at in range(9)]
    coats = [
        Lying(str(key), lambda start: start, until, 1)
        for key, (count, until) in enumerate(pieces)
        for _ in range(count)
    ]
    found = least_left(coats, moments, 1)
    best = None
    for order in permutations(range(len(pieces))):
        free, begun = list(moments), []
        for key in order:
            count, until = pieces[key]
            mine = [moment for moment in free if moment < until][:count]
            if len(mine) < count:
                break
            free = [moment for moment in free if moment not in mine]
            begun.append(mine[-1])
        else:
            best = max(sum(begun), best or 0)
    if best is not None:
        assert found is not None
        assert sum(found) == best
