"""Which packs to buy, against trying every set."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.catalogue import Pack
from finplan.material import cheapest_packs


def packs(*sizes_ml: float, prices: list[float] | None = None) -> list[Pack]:
    listed = prices or [None] * len(sizes_ml)  # type: ignore[list-item]
    return [Pack.model_construct(size_ml=size, price=price) for size, price in zip(sizes_ml, listed, strict=True)]


def test_by_the_least_left_over() -> None:
    # 773 ml from 0.75 and 1 L tins: the smaller is short, so 1 L; by hand.
    assert [(p.size_ml, p.count) for p in cheapest_packs(773, packs(750, 1000))] == [(1000, 1)]
    assert [(p.size_ml, p.count) for p in cheapest_packs(541, packs(125, 250, 500, 1000))] == [(125, 1), (500, 1)]


def test_a_whole_rather_than_its_quarters() -> None:
    quart = 946.352946  # NIST Handbook 44
    assert [(p.count) for p in cheapest_packs(730, packs(quart / 4, quart / 2, quart))] == [1]


def test_by_price() -> None:
    found = cheapest_packs(900, packs(250, 1000, prices=[9.0, 40.0]))
    assert [(p.size_ml, p.count) for p in found] == [(250, 4)]


def test_nothing_needed() -> None:
    assert cheapest_packs(0, packs(250)) == ()


@settings(max_examples=150)
@given(
    needed=st.integers(1, 3000),
    sizes=st.lists(st.integers(100, 1200), min_size=1, max_size=3, unique=True),
    data=st.data(),
)
def test_no_set_is_cheaper(needed: int, sizes: list[int], data: st.DataObject) -> None:
    priced = data.draw(st.booleans())
    prices = data.draw(st.lists(st.integers(1, 90), min_size=len(sizes), max_size=len(sizes))) if priced else None
    found = cheapest_packs(needed, packs(*sizes, prices=[float(p) for p in prices] if prices else None))
    costs = prices or sizes
    assert sum(p.size_ml * p.count for p in found) >= needed
    best = min(
        (sum(n * c for n, c in zip(counts, costs, strict=True)), sum(counts))
        for counts in product(*(range(needed // size + 2) for size in sizes))
        if sum(n * s for n, s in zip(counts, sizes, strict=True)) >= needed
    )
    cost = sum(p.count * (p.price if priced and p.price is not None else p.size_ml) for p in found)
    assert (cost, sum(p.count for p in found)) == pytest.approx(best)
