"""Some of the grid of systems, pieces and rooms: verdicts that are neither a wolf cried nor a danger hidden.

The whole grid is counted by ``python tests/benchmarks/bench_air.py``.
"""

from __future__ import annotations

from collections import Counter
from itertools import islice
from pathlib import Path

import pytest

from finplan.safety.session import Session
from tests.benchmarks.bench_air import grid, planned
from tests.safety.sessions import CATALOGUE


@pytest.fixture(scope="module")
def sessions(tmp_path_factory: pytest.TempPathFactory) -> list[Session]:
    """All sessions of some of the grid: systems, pieces and rooms each several times."""
    folder: Path = tmp_path_factory.mktemp("grid")
    plans = [planned(*cell, folder) for cell in islice(grid(), 5, None, 37)]
    return [report.session for plan in plans if plan is not None for report in plan.safety.sessions]


def test_a_verdict_is_what_its_figures_say(sessions: list[Session]) -> None:
    margin = CATALOGUE.air_targets["breathing"].margin
    for one in sessions:
        assert one.fan_on is not None
        breathing = one.fan_on.typical.breathing
        assert breathing is not None
        if one.verdict == "enough":
            assert breathing * margin <= 1
            assert one.fan_on.high.fire <= 0.25
            assert one.mask is None
        if one.verdict == "too little to breathe":
            assert breathing * margin > 1
            assert one.mask is not None


def test_what_could_never_reach_its_limit_asks_for_nothing(sessions: list[Session]) -> None:
    """All vapour at once in the room and in the reach of the work, with no fresh air at all."""
    for one in sessions:
        assert one.air.volume_m3 is not None
        assert one.fan_on is not None
        at_once = (one.loads.day or 0.0) / one.air.volume_m3
        assert (one.fan_on.high.day_far or 0.0) <= at_once * 1.2, "what other sessions left comes on top"


def test_how_many_of_each(sessions: list[Session]) -> None:
    found = Counter(one.verdict for one in sessions)
    assert found["enough"] >= found.total() / 2
    assert set(found) > {"enough", "too little to breathe"}
