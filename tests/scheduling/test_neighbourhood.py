"""What is found round a schedule keeps the rules of the whole, and no schedule round it is lost."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.scheduling import EarliestStarts, Problem, Slots, broken_rules, neighbourhood, solve
from tests.scheduling.exhaustive import tiny_batch, tiny_problem


@pytest.mark.parametrize("kind", [tiny_problem, tiny_batch])
@settings(max_examples=80)
@given(seed=st.integers(0, 100_000), data=st.data())
def test_round_a_schedule_there_is_always_one(kind: Callable[[int], Problem], seed: int, data: st.DataObject) -> None:
    problem = kind(seed)
    known = solve(problem, ())
    if not known.schedule:
        return
    tails = {tail for batch in problem.batches for tail in batch.tails}
    names = [one.name for one in problem.activities if one.name not in tails]
    free = data.draw(st.sets(st.sampled_from(names)))
    starts = [one.start for name, one in known.schedule.items() if name in free]
    within = data.draw(st.sampled_from([Slots(0, problem.horizon), Slots(min(starts, default=0), problem.horizon)]))
    small = neighbourhood(problem, known.schedule, free, within)
    found = solve(small, (EarliestStarts(),))
    assert found.schedule or not small.activities
    moved = free | {tail for batch in small.batches for tail in batch.tails}
    whole = {name: one for name, one in known.schedule.items() if name not in moved}
    whole |= {name: one for name, one in found.schedule.items() if name in moved}
    assert broken_rules(problem, whole) == []
    assert all(within.start <= one.start <= within.end for name, one in whole.items() if name in free)
