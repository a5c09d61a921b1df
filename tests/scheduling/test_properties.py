"""What can only help never hurts: more capacity, one rule less, a longer day."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.scheduling import Problem, Slots, solve
from tests.scheduling.tiny import tiny_problem

problems = st.integers(1000, 100_000).map(tiny_problem)


def best(problem: Problem) -> float:
    """The latest end of the best schedule; past all reckoning where there is none."""
    result = solve(problem)
    assert result.status in ("optimal", "impossible")
    return float("inf") if result.makespan is None and result.status == "impossible" else result.makespan or 0


@settings(max_examples=60)
@given(problem=problems, more=st.integers(1, 2))
def test_more_capacity_never_delays(problem: Problem, more: int) -> None:
    raised = {name: capacity + more for name, capacity in problem.capacities.items()}
    assert best(replace(problem, capacities=raised)) <= best(problem)


@settings(max_examples=60)
@given(problem=problems.filter(lambda problem: problem.relations), data=st.data())
def test_one_relation_less_never_delays(problem: Problem, data: st.DataObject) -> None:
    dropped = data.draw(st.integers(0, len(problem.relations) - 1))
    relations = problem.relations[:dropped] + problem.relations[dropped + 1 :]
    assert best(replace(problem, relations=relations)) <= best(problem)


@settings(max_examples=60)
@given(problem=problems, later=st.integers(1, 5))
def test_a_later_horizon_never_delays(problem: Problem, later: int) -> None:
    # What is held to the horizon is held longer then.
    loose = replace(problem, holds=())
    assert best(replace(loose, horizon=problem.horizon + later)) <= best(loose)


@settings(max_examples=60)
@given(problem=problems.filter(lambda problem: "day" in problem.calendars), data=st.data())
def test_a_longer_day_never_delays(problem: Problem, data: st.DataObject) -> None:
    spans = problem.calendars["day"]
    widened = data.draw(st.integers(0, len(spans) - 1))
    opens = spans[widened - 1].end if widened else 0
    wider = Slots(data.draw(st.integers(opens, spans[widened].start)), spans[widened].end)
    calendars = {**problem.calendars, "day": (*spans[:widened], wider, *spans[widened + 1 :])}
    assert best(replace(problem, calendars=calendars)) <= best(problem)
