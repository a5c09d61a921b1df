"""What the solver promises beside the optimum: the same schedule each time, and no more said than proven."""

from __future__ import annotations

import math
import random
import weakref
from dataclasses import replace

import pytest

from finplan.scheduling import Activity, EarliestStarts, Lag, Makespan, Problem, Result, Slots, solve
from finplan.scheduling.check import broken_rules
from finplan.scheduling.solver import SolverModel


def project(count: int, seed: int) -> Problem:
    """Activities on three busy resources, each after one or two of those before it."""
    chance = random.Random(seed)
    activities = tuple(
        Activity.of(str(index), chance.randint(1, 10), {name: chance.randint(1, 9) for name in chance.sample("rst", 2)})
        for index in range(count)
    )
    lags = tuple(
        Lag(str(first), str(second), chance.randint(1, 10))
        for second in range(3, count)
        for first in sorted({chance.randrange(max(0, second - 12), second) for _ in range(2)})
    )
    return Problem(activities, 12 * count, lags, dict.fromkeys("rst", 12))


def test_the_same_problem_gets_the_same_schedule() -> None:
    for seed in range(3):
        first, second = (solve(project(14, seed), (Makespan(), EarliestStarts())) for _ in range(2))
        assert first.status == "optimal"
        assert first == second


def test_another_seed_gets_the_same_optimum() -> None:
    assert {solve(project(14, 1), seed=seed).makespan for seed in range(1, 5)} == {solve(project(14, 1)).makespan}


@pytest.mark.parametrize("limit_s", [0.001, 0.05, 0.5])
def test_what_is_not_found_in_time_is_never_called_impossible(limit_s: float) -> None:
    problem = project(120, 1)
    result = solve(problem, limit_s=limit_s)
    assert result.status in ("unknown", "feasible")
    assert result.cut_short
    if result.status == "feasible":
        assert broken_rules(problem, result.schedule) == []
        (stage,) = result.stages
        assert stage.bound < stage.value == result.makespan
    else:
        assert result == Result("unknown", cut_short=True, effort=result.effort)


def test_a_model_that_is_too_large_is_not_searched_and_never_called_impossible() -> None:
    assert solve(project(14, 1), largest=10) == Result("unknown")
    assert solve(project(14, 1), largest=10_000).status == "optimal"


def test_nothing_to_do_is_done_at_once() -> None:
    result = solve(Problem((), 10))
    assert (result.status, result.schedule) == ("optimal", {})


def test_what_does_not_fit_is_impossible() -> None:
    # By hand: six slots of work for one person who has five.
    work = tuple(Activity.of(name, 2, {"ann": 1}) for name in "abc")
    assert solve(Problem(work, 5, capacities={"ann": 1})).status == "impossible"
    assert solve(Problem(work, 6, capacities={"ann": 1})).makespan == 6
    assert solve(Problem(work, 6, capacities={"ann": 0})).status == "impossible"
    apart = (Lag("a", "b", 3), Lag("b", "a", -2))
    assert solve(Problem(work, 9, apart, capacities={"ann": 2})).status == "impossible"


@pytest.mark.parametrize("effort", [0.002, 0.02, math.inf])
@pytest.mark.parametrize("seed", range(2))
def test_the_makespan_that_is_told_is_that_of_the_schedule(seed: int, effort: float) -> None:
    """Also where the search is cut short: what the model told, and what its schedule comes to, could then differ."""
    problem = project(30, seed)
    result = solve(problem, effort=effort, workers=1, limit_s=2)
    if not result.schedule:
        assert result.status == "unknown"
        return
    assert broken_rules(problem, result.schedule) == []
    last = max(one.end for one in result.schedule.values())
    (stage,) = result.stages
    assert result.makespan == stage.value == last
    assert stage.bound <= last
    closed = replace(
        problem, calendars={"day": tuple(Slots(10 * day, 10 * day + 6) for day in range(200))}, horizon=2000
    )
    activities = tuple(
        replace(activity, modes=tuple(replace(mode, calendar="day", pausable=True) for mode in activity.modes))
        for activity in closed.activities
    )
    closed = replace(closed, activities=activities)
    told = solve(closed, effort=effort, workers=1, limit_s=2)
    if told.schedule:
        assert told.makespan == max(one.end for one in told.schedule.values())


def test_a_model_goes_as_soon_as_nobody_holds_it() -> None:
    """One of some hundred for a plan: none waits until garbage is looked for."""
    model = SolverModel()
    gone = weakref.ref(model)
    del model
    assert gone() is None
