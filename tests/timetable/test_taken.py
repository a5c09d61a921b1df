"""What is in the way of a start, in many draws at once, against each draw looked at by itself."""

from __future__ import annotations

from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.timetable.taken import Taken

DRAWS = 3
_stretches = st.lists(
    st.tuples(
        st.lists(st.integers(0, 60), min_size=DRAWS, max_size=DRAWS),
        st.lists(st.integers(1, 15), min_size=DRAWS, max_size=DRAWS),
        st.sets(st.integers(0, DRAWS - 1), min_size=1),
    ),
    max_size=40,
)


def _first_free(start: float, took: float, stretches: list[tuple[float, float]]) -> float:
    """Return the first start from one on with nothing in its way, minute by minute."""
    while any(begins < start + took and start < ends for begins, ends in stretches):
        start += 1
    return start


@pytest.mark.parametrize("few", [0, 8_000])
@given(
    _stretches,
    st.lists(st.integers(0, 60), min_size=DRAWS, max_size=DRAWS),
    st.lists(st.integers(1, 9), min_size=DRAWS, max_size=DRAWS),
    st.sets(st.integers(0, DRAWS - 1), min_size=1),
)
def test_a_start_is_moved_behind_all_that_is_in_its_way(
    few: int,
    stretches: list[tuple[list[int], list[int], set[int]]],
    starts: list[int],
    takes: list[int],
    looked_at: set[int],
) -> None:
    taken = Taken(DRAWS)
    by_draw: list[list[tuple[float, float]]] = [[] for _ in range(DRAWS)]
    for begins, lasts, some in stretches:
        draws = np.array(sorted(some))
        begin = np.array(begins, float)[draws]
        end = begin + np.array(lasts, float)[draws]
        with patch("finplan.timetable.taken._FEW", few):
            taken.add(begin, end, draws)
        for draw, one, other in zip(draws.tolist(), begin.tolist(), end.tolist(), strict=True):
            by_draw[draw].append((one, other))
    draws = np.array(sorted(looked_at))
    start, took = np.array(starts, float)[draws], np.array(takes, float)[draws]
    with patch("finplan.timetable.taken._FEW", few):  # looked up by halves, and all at once
        found = taken.clear(start, start + took, took, draws)
    expected = [
        _first_free(one, need, by_draw[draw])
        for draw, one, need in zip(draws.tolist(), start.tolist(), took.tolist(), strict=True)
    ]
    assert found.tolist() == expected


def test_what_never_ends_is_never_passed() -> None:
    taken = Taken(1)
    only = np.array([0])
    taken.add(np.array([5.0]), np.array([np.inf]), only)
    assert taken.clear(np.array([2.0]), np.array([4.0]), np.array([2.0]), only).tolist() == [2.0]
    assert taken.clear(np.array([2.0]), np.array([6.0]), np.array([4.0]), only).tolist() == [np.inf]
