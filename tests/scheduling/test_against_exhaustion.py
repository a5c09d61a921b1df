"""The solver and the checker on three hundred tiny problems against every schedule there is.

Expected values: `exhaustive`, which tries every start in every mode and reads each rule slot by slot.
"""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest

from finplan.scheduling import Makespan, Problem, solve
from finplan.scheduling.check import broken_rules
from tests.scheduling.exhaustive import all_schedules, is_allowed, places, values
from tests.scheduling.tiny import some_objective, tiny_batch, tiny_problem

BLOCKS = [range(first, first + 10) for first in range(0, 300, 10)]


def problem_of(seed: int) -> Problem:
    return tiny_batch(seed) if seed % 6 == 5 else tiny_problem(seed)


@pytest.mark.parametrize("seeds", BLOCKS, ids=str)
def test_the_optimum_is_that_of_all_schedules(seeds: range) -> None:
    for seed in seeds:
        is_that_of_all_schedules(seed)


def is_that_of_all_schedules(seed: int) -> None:
    problem = problem_of(seed)
    other = some_objective(problem, seed)
    schedules = list(all_schedules(problem))
    for objectives in ((Makespan(),), (other,), (other, Makespan())):
        result = solve(problem, objectives)
        if not schedules:
            assert result.status == "impossible"
            continue
        assert result.status == "optimal"
        assert broken_rules(problem, result.schedule) == []
        assert is_allowed(problem, result.schedule)
        best = min(values(problem, objectives, schedule) for schedule in schedules)
        assert values(problem, objectives, result.schedule) == best
        assert [abs(stage.value) for stage in result.stages] == [abs(one) for one in best]


def test_some_of_the_problems_are_impossible_and_most_are_not() -> None:
    impossible = [seed for seed in range(60) if next(all_schedules(problem_of(seed)), None) is None]
    assert 3 <= len(impossible) <= 30


@pytest.mark.parametrize("kind", [tiny_problem, tiny_batch])
def test_the_checker_agrees_with_the_rules_read_slot_by_slot(kind: Callable[[int], Problem]) -> None:
    verdicts = []
    for seed in range(150):
        problem = kind(seed)
        chance = random.Random(seed)
        choices = {activity.name: places(problem, activity) for activity in problem.activities}
        if not all(choices.values()):
            continue
        for _ in range(60):
            chosen = {name: chance.choice(found) for name, found in choices.items()}
            for batch in problem.batches:  # a tail placed anywhere is hardly ever right
                for one, tail in zip(batch.members, batch.tails, strict=True):
                    member = chosen[one]
                    after = [place for place in choices[tail] if place and member and place.start == member.end]
                    chosen[tail] = chance.choice([None, *after])
            schedule = {name: place for name, place in chosen.items() if place is not None}
            verdicts.append(is_allowed(problem, schedule))
            assert (broken_rules(problem, schedule) == []) == verdicts[-1], (seed, schedule)
    assert 200 < sum(verdicts) < len(verdicts) - 200
