"""A few made-up jobs (``suite`` plans many): each is the same every time, can be read, and is planned by the rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.timetable.generated import case, planned_case, treated_case
from tests.timetable.shops import SYSTEMS
from tests.timetable.verifier import broken_rules

SMALL = [(3, 1), (4, 1), (1, 1), (2, 2)]
"""Seed and number of pieces."""


def test_the_same_seed_makes_the_same_job() -> None:
    assert case(7, 3) == case(7, 3)
    assert case(7, 3).pieces != case(8, 3).pieces


def test_together_they_know_every_system_and_all_sorts_of_shop() -> None:
    made = [case(seed, 4) for seed in range(40)]
    text = "".join(line for one in made for line in (one.shop, *one.pieces))
    assert [system for system in SYSTEMS if f"system: {system}\n" not in text] == []
    for sort in ("log: ", "months: ", "closed: ", "22:00-6:00", "places: 1,", "Corin", "assemblies:"):
        assert sort in text


@pytest.mark.parametrize("seed", range(4))
def test_they_can_be_read(seed: int, tmp_path: Path) -> None:
    assert len(treated_case(case(seed, 3), tmp_path)) == 3


@pytest.mark.parametrize(("seed", "pieces"), SMALL)
def test_no_rule_is_broken(seed: int, pieces: int, tmp_path: Path) -> None:
    made = case(seed, pieces)
    planned = planned_case(made, treated_case(made, tmp_path))
    assert planned.timetable.status in ("optimal", "feasible")
    assert broken_rules(planned) == []
