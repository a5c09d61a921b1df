"""Whole packs."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.sanding import whole_packs


@given(pieces=st.integers(1, 60), counts=st.lists(st.integers(1, 25), min_size=1, max_size=3, unique=True))
def test_no_packs_leave_less_over_and_none_are_fewer(pieces: int, counts: list[int]) -> None:
    """Against every number of packs of each count."""
    found = whole_packs(pieces, counts)
    tried = [
        (sum(number * count for number, count in zip(numbers, counts, strict=True)), sum(numbers))
        for numbers in product(*(range(pieces // count + 2) for count in counts))
    ]
    best = min(one for one in tried if one[0] >= pieces)
    assert (sum(number * count for number, count in found), sum(number for number, _ in found)) == best


@pytest.mark.parametrize(
    ("pieces", "counts", "packs"),
    [
        # 2.0 m² with 125 mm discs at P80, P120 and P180: 1.0, 0.5 and 0.4 per m², each rounded up: 2, 1 and 1. By hand.
        (2, (1,), ((2, 1),)),
        (0, (5,), ()),
        (3, (), ()),
        (8, (5, 10), ((1, 10),)),
        (100_000, (10, 50), ((2000, 50),)),
    ],
)
def test_examples(pieces: int, counts: tuple[int, ...], packs: tuple[tuple[int, int], ...]) -> None:
    assert whole_packs(pieces, counts) == packs
