"""Which packs to buy, against trying every set."""

from __future__ import annotations

import random
import time
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.material import Offer, Purchase, cheapest_packs
from finplan.material.packs import total_cost

QUART_ML = 946.352946  # NIST Handbook 44


def offers(*sizes: float, prices: list[float] | None = None) -> list[Offer]:
    listed: list[float | None] = list(prices) if prices else [None] * len(sizes)
    return [Offer(size, price) for size, price in zip(sizes, listed, strict=True)]


@pytest.mark.parametrize(
    ("needed", "sold", "expected", "source"),
    [
        (773.0, offers(750, 1000), [(1000, 1)], "0.75 L is short of 0.773 L: a litre; by hand"),
        (541.0, offers(125, 250, 500, 1000), [(125, 1), (500, 1)], "625 ml leaves least over; by hand"),
        (900.0, offers(250, 1000, prices=[9.0, 40.0]), [(250, 4)], "36 is less than 40"),
        (900.0, offers(250, 1000, prices=[9.0, 36.0]), [(1000, 1)], "36 either way: one can rather than four"),
        (730.0, offers(QUART_ML / 4, QUART_ML / 2, QUART_ML), [(QUART_ML, 1)], "a quart rather than its quarters"),
        (2 * QUART_ML, offers(QUART_ML), [(QUART_ML, 2)], "exactly two quarts are two quarts, not three"),
        (600.0, offers(500, 750, prices=[10.0, 10.0]), [(750, 1)], "one for 10 rather than two for 20"),
        (400.0, offers(500, 750, prices=[10.0, 10.0]), [(500, 1)], "of two at one price that which leaves less"),
        (1e9, offers(1000, 20_000), [(20_000, 50_000)], "by hand: 1e9 / 20 000"),
        (0.3, offers(10), [(10, 1)], "any need is a pack"),
        (
            1770.0,
            offers(QUART_ML / 3.2, QUART_ML / 1.6, QUART_ML / 0.8),
            [(QUART_ML / 1.6, 1), (QUART_ML / 0.8, 1)],
            "sets of 4 to 1: six times 296 ml, in two packs rather than three; by hand",
        ),
        (
            2100.0,
            offers(*(mass_g / 0.92 for mass_g in (100, 250, 500, 1000))),
            [(100 / 0.92, 2), (250 / 0.92, 1), (500 / 0.92, 1), (1000 / 0.92, 1)],
            "1932 g, so 1950 g, in the five fewest: a kilogram is two half ones, whatever its millilitres; by hand",
        ),
    ],
)
def test_by_hand(needed: float, sold: list[Offer], expected: list[tuple[float, int]], source: str) -> None:
    assert [(one.size, one.count) for one in cheapest_packs(needed, sold)] == expected, source


def test_nothing_needed_and_nothing_sold() -> None:
    assert cheapest_packs(0, offers(250)) == ()
    assert cheapest_packs(-50, offers(250)) == ()
    assert cheapest_packs(100, []) == ()


def test_a_price_that_lacks_is_not_zero() -> None:
    # Where one pack has no price nothing can be said of the cheapest: the least left over decides.
    assert [(one.size, one.count) for one in cheapest_packs(800, [Offer(250, 9.0), Offer(850, None)])] == [(850, 1)]


def test_prices_add_up_to_cents() -> None:
    # 15.46 + 77.50, which as binary numbers make 92.96000000000001
    bought = (Purchase(50, 1, 15.46), Purchase(500, 1, 77.5))
    assert total_cost(bought) == 92.96
    assert total_cost((*bought, Purchase(1000, 1, None))) is None


def brute_force(needed: int, sizes: list[int], prices: list[int] | None) -> tuple[int, int]:
    """The least cost (or volume) and the fewest packs of it, by trying every set."""
    costs = prices or sizes
    return min(
        (sum(n * c for n, c in zip(counts, costs, strict=True)), sum(counts))
        for counts in product(*(range(needed // size + 2) for size in sizes))
        if sum(n * s for n, s in zip(counts, sizes, strict=True)) >= needed
    )


def test_against_trying_every_set() -> None:
    dice = random.Random(20270312)
    for case in range(500):
        sizes = dice.sample(range(40, 1500), dice.randint(1, 4))
        prices = [dice.randint(1, 60) for _ in sizes] if case % 2 else None
        needed = dice.randint(1, 2500)
        sold = offers(*sizes, prices=[float(price) for price in prices] if prices else None)
        found = cheapest_packs(needed, sold)
        assert sum(one.size * one.count for one in found) >= needed
        cost = sum(one.count * (one.price if one.price is not None else one.size) for one in found)
        assert (cost, sum(one.count for one in found)) == brute_force(needed, sizes, prices), (needed, sold)


@pytest.mark.parametrize("priced", [False, True])
@pytest.mark.parametrize(
    "sizes",
    [
        [125, 250, 375, 500, 750, 1000, 2500, 3000, 5000, 10_000, 20_000, 25_000],
        [127, 251, 373, 509, 757, 1009, 2503, 3001, 5003, 10_007, 20_011, 24_989],
        [
            118.29411825,
            236.5882365,
            473.176473,
            750,
            946.352946,
            1000.5,
            2500.3,
            3785.411784,
            5000.1,
            10_000,
            18_927,
            20_000,
        ],
    ],
    ids=["common", "primes", "metric and US"],
)
def test_twelve_sizes_and_a_hundred_litres_take_no_second(sizes: list[float], priced: bool) -> None:
    sold = offers(*sizes, prices=[round(size**0.8 * 0.31, 2) for size in sizes] if priced else None)
    before = time.perf_counter()
    found = cheapest_packs(99_999.3, sold)
    assert time.perf_counter() - before < 1.0
    assert sum(one.size * one.count for one in found) >= 99_999.3


@given(st.floats(0.1, 5000), st.lists(st.floats(1, 3000), min_size=1, max_size=4))
def test_it_is_always_enough_and_no_pack_is_for_nothing(needed: float, sizes: list[float]) -> None:
    found = cheapest_packs(needed, offers(*sizes))
    held = sum(one.size * one.count for one in found)
    assert held >= needed - 1e-6
    assert held - min(one.size for one in found) < needed
