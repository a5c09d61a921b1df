"""Plans in shops with nights of all sorts, around the temperatures at which something is or is not allowed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.timetable.night_sweep import faults, nights

AROUND_LIMITS_C = (9.9, 10.0, 12.9, 13.0, 14.9, 15.0)


@pytest.mark.parametrize("system", ["tung-oil", "oil-polyurethane", "waterborne-polyurethane", "polyurethane-2k"])
def test_a_tenth_of_a_degree_moves_no_plan_by_more_than_working_hours_do(system: str, tmp_path: Path) -> None:
    found = list(nights(system, AROUND_LIMITS_C, tmp_path))
    for cold, warm in zip(found[::2], found[1::2], strict=True):
        assert faults(system, [cold, warm]) == []
    assert found[0].ready >= found[-1].ready
