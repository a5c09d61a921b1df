"""A few made-up jobs (``suite`` plans many): each is the same every time, can be read, and is planned by the rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes
from tests.timetable.generated import case, planned_case, treated_case, with_dates_that_can_be_kept
from tests.timetable.shops import SYSTEMS
from tests.timetable.verifier import broken_rules

SMALL = [(3, 1), (4, 1), (1, 1), (2, 2)]
"""Seed and number of pieces."""
AT_THE_EDGE = 8


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


def test_dates_that_can_be_kept_are_kept(tmp_path: Path) -> None:
    """Twelve pieces, the date of each just when it is ready in the plan made at once."""
    made = case(AT_THE_EDGE, 12)
    pieces = treated_case(made, tmp_path)
    dated = with_dates_that_can_be_kept(made, pieces)
    assert (dated.slack, dated.known) == (0.0, True)
    assert [one is None for one in dated.deliveries] == [one is None for one in made.deliveries]
    planned = planned_case(dated, pieces, Wishes(answers=False, asap=True))
    assert planned.timetable.has_plan
    assert broken_rules(planned) == []


def test_a_share_of_the_jobs_keeps_the_dates_that_were_drawn(tmp_path: Path) -> None:
    slacks = set()
    for seed in range(12):
        made = case(seed, 1)
        slacks.add(with_dates_that_can_be_kept(made, treated_case(made, tmp_path)).slack)
    assert slacks == {None, 0.0, 0.1, 0.3, 1.0}


@pytest.mark.parametrize(("seed", "pieces"), SMALL)
def test_no_rule_is_broken(seed: int, pieces: int, tmp_path: Path) -> None:
    made = case(seed, pieces)
    planned = planned_case(made, treated_case(made, tmp_path))
    assert planned.timetable.status in ("optimal", "feasible")
    assert broken_rules(planned) == []
