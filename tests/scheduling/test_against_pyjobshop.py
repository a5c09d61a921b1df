"""The latest end of seeded problems against PyJobShop, a general scheduler; see ``pyjobshop_ends``."""

from __future__ import annotations

import pytest

from finplan.scheduling import solve
from finplan.scheduling.check import broken_rules
from tests.scheduling.pyjobshop_ends import SEEDS, case_of, kept, name_of, ours, theirs

KEPT = kept()
ASKED_ANEW = range(0, len(SEEDS), 10)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_status_and_the_same_latest_end(seed: int) -> None:
    case, reference = case_of(seed), KEPT[seed]
    assert name_of(case) == reference.case, "python -m tests.scheduling.pyjobshop_ends"
    if seed in ASKED_ANEW:
        assert theirs(case) == reference
    problem = ours(case)
    result = solve(problem)
    assert result.status == reference.status
    if reference.latest is not None:
        assert result.makespan == reference.latest
        assert broken_rules(problem, result.schedule) == []
