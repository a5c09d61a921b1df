"""The latest end of seeded problems against PyJobShop, a general scheduler; see ``pyjobshop_ends``."""

from __future__ import annotations

import pytest

from finplan.scheduling import solve
from finplan.scheduling.check import broken_rules
from tests.scheduling.pyjobshop_ends import SEEDS, case_of, kept, name_of, ours, theirs

KEPT = kept()
BLOCKS = [SEEDS[first : first + 10] for first in range(0, len(SEEDS), 10)]
"""The first of each is asked for anew."""


@pytest.mark.parametrize("seeds", BLOCKS, ids=str)
def test_the_same_status_and_the_same_latest_end(seeds: range) -> None:
    for seed in seeds:
        is_as_another_says(seed, anew=seed == seeds[0])


def is_as_another_says(seed: int, *, anew: bool) -> None:
    case, reference = case_of(seed), KEPT[seed]
    assert name_of(case) == reference.case, "python -m tests.scheduling.pyjobshop_ends"
    if anew:
        assert theirs(case) == reference
    problem = ours(case)
    result = solve(problem)
    assert result.status == reference.status
    if reference.latest is not None:
        assert result.makespan == reference.latest
        assert broken_rules(problem, result.schedule) == []
