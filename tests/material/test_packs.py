"""Which packs to buy, against trying every set."""

from __future__ import annotations

import random
import time
from collections.abc import Sequence
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.material import Offer, Purchase, cheapest_packs
from finplan.material.packs import total_cost

CATALOGUE = bundled_catalogue()
LAW = CATALOGUE.pack_choice["common"]
LITRES = [pack.holds.value for pack in CATALOGUE.packs["metric"].sizes]
QUART_ML = 946.352946  # NIST Handbook 44


def offers(*sizes: float, prices: list[float] | None = None) -> list[Offer]:
    listed: list[float | None] = list(prices) if prices else [None] * len(sizes)
    return [Offer(size, price) for size, price in zip(sizes, listed, strict=True)]


def bought(needed: float, sold: Sequence[Offer]) -> list[tuple[float, int]]:
    return [(one.size, one.count) for one in cheapest_packs(needed, sold, LAW)]


@pytest.mark.parametrize(
    ("needed", "sold", "expected", "source"),
    [
        (773.0, offers(750, 1000), [(1000, 1)], "0.75 L is short of 0.773 L: a litre; by hand"),
        (
            541.0,
            offers(*LITRES),
            [(750, 1)],
            "750^0.75 is 143.3; 500 and 125 ml are 143.1, no twentieth less",
        ),
        (1100.0, offers(*LITRES), [(125, 1), (1000, 1)], "37.4 + 177.8 = 215.2 rather than 2 × 143.3"),
        (2125.0, offers(*LITRES), [(2500, 1)], "353.6; what 375 + 750 + 1000 ml hold exactly, but 406.3"),
        (7200.0, offers(*LITRES), [(2500, 1), (5000, 1)], "948.2; 10 l cost 1000, which is a twentieth more"),
        (900.0, offers(250, 1000, prices=[9.0, 40.0]), [(250, 4)], "36 is less than 40"),
        (900.0, offers(250, 1000, prices=[9.0, 36.0]), [(1000, 1)], "36 either way: one can rather than four"),
        (1100.0, offers(250, 1000, prices=[9.0, 30.0]), [(250, 1), (1000, 1)], "39 rather than 45 or 60"),
        (1250.0, offers(250, 1000, prices=[9.0, 37.0]), [(250, 5)], "45; 46 with two sizes"),
        (1250.0, offers(250, 1000, prices=[9.0, 34.5]), [(250, 5)], "45; 43.50 is less, but no twentieth"),
        (1700.0, offers(100, 600, 1000, prices=[1.0, 100.0, 100.0]), [(100, 17)], "17 of the only cheap one"),
        (
            1700.0,
            offers(100, 600, 1000, prices=[90.0, 50.0, 60.0]),
            [(1000, 2)],
            "120; 600 and 1000 ml are short",
        ),
        (730.0, offers(QUART_ML / 4, QUART_ML / 2, QUART_ML), [(QUART_ML, 1)], "a quart rather than its quarters"),
        (2 * QUART_ML, offers(QUART_ML), [(QUART_ML, 2)], "exactly two quarts are two quarts, not three"),
        (600.0, offers(500, 750, prices=[10.0, 10.0]), [(750, 1)], "one for 10 rather than two for 20"),
        (400.0, offers(500, 750, prices=[10.0, 10.0]), [(500, 1)], "of two at one price that which leaves less"),
        (1e9, offers(1000, 20_000), [(20_000, 50_000)], "by hand: 1e9 / 20 000"),
        (0.3, offers(10), [(10, 1)], "any need is a pack"),
        (
            1760.0,
            offers(QUART_ML / 3.2, QUART_ML / 1.6, QUART_ML / 0.8),
            [(QUART_ML / 1.6, 1), (QUART_ML / 0.8, 1)],
            "sets of 4 to 1: six times 296 ml make 1774 in two packs; two of the largest cost 1.19 times as much",
        ),
    ],
)
def test_by_hand(needed: float, sold: list[Offer], expected: list[tuple[float, int]], source: str) -> None:
    assert bought(needed, sold) == expected, source


def test_nothing_needed_and_nothing_sold() -> None:
    assert bought(0, offers(250)) == []
    assert bought(-50, offers(250)) == []
    assert bought(100, []) == []


def test_a_price_that_lacks_is_not_zero() -> None:
    # Where one pack has no price nothing can be said of the cheapest: all go by their size.
    assert bought(800, [Offer(250, 9.0), Offer(850, None)]) == [(850, 1)]


def test_prices_add_up_to_cents() -> None:
    # 15.46 + 77.50, which as binary numbers make 92.96000000000001
    found = (Purchase(50, 1, 15.46), Purchase(500, 1, 77.5))
    assert total_cost(found) == 92.96
    assert total_cost((*found, Purchase(1000, 1, None))) is None


def brute_force(needed: int, sizes: list[int], costs: list[int]) -> tuple[float, int]:
    """The cost and the number of the packs that the law asks for, by trying every set of every number of sizes.

    Of the last size only the fewest that are enough, and one where none is needed: more cost more.
    """
    least: dict[int, tuple[float, int]] = {}
    *others, last = sizes
    for of_others in product(*(range(needed // size + 2) for size in others)):
        short = max(0, needed - sum(n * s for n, s in zip(of_others, others, strict=True)))
        for of_last in {-(-short // last), max(1, -(-short // last))}:
            counts = (*of_others, of_last)
            found = (float(sum(n * c for n, c in zip(counts, costs, strict=True))), sum(counts))
            used = sum(n > 0 for n in counts)
            if used:
                least[used] = min(found, least.get(used, found))
    best = least[1]
    for used, at_most in ((2, 1 - LAW.second_size_pct / 100), (3, 0.75)):  # a third has to save a quarter
        if used in least and least[used][0] <= best[0] * at_most:
            best = least[used]
    return best


def test_against_trying_every_set() -> None:
    dice = random.Random(20270312)
    used: list[int] = []
    for case in range(600):
        sizes = dice.sample(range(40, 1500), dice.randint(1, 4))
        if case % 2:
            prices: list[float] | None = [float(dice.choice((1, 4, 60)) * dice.randint(1, 60)) for _ in sizes]
            costs = [round(price * 10_000) for price in prices or ()]
        else:
            prices, costs = None, [round(size**0.75 * 10**6) for size in sizes]
        needed = dice.randint(1, 2500)
        sold = offers(*sizes, prices=prices)
        found = cheapest_packs(needed, sold, LAW)
        assert sum(one.size * one.count for one in found) >= needed
        cost = sum(one.count * costs[sizes.index(int(one.size))] for one in found)
        assert (cost, sum(one.count for one in found)) == brute_force(needed, sizes, costs), (needed, sold)
        used.append(len(found))
    assert set(used) == {1, 2}


def test_a_third_size_where_prices_make_it_save_a_quarter() -> None:
    # By hand: 68 + 31 + 1 = 100 hold 1101 ml exactly. Two litres cost 136, a litre and two of 100 ml 130, which saves
    # no twentieth of that; 100 is less than three quarters of 136. With the litre at 63 it is two litres for 126.
    sizes, least = (1000, 100, 1), [(1, 1), (100, 1), (1000, 1)]
    assert bought(1101, offers(*sizes, prices=[68, 31, 1])) == least
    assert bought(1101, offers(*sizes, prices=[63, 31, 1])) == [(1000, 2)]


def test_a_third_size_against_trying_every_set() -> None:
    # Prices about those by hand, in which a third saves more or less than a quarter.
    dice = random.Random(20261129)
    used: list[int] = []
    for _ in range(200):
        sizes = [dice.randint(400, 1000), dice.randint(30, 90), dice.randint(1, 4)]
        prices = [float(dice.randint(600, 720)), float(dice.randint(270, 330)), float(dice.randint(2, 20))]
        needed = sizes[0] + sizes[1] + dice.randint(1, sizes[2])
        found = cheapest_packs(needed, offers(*sizes, prices=prices), LAW)
        cost = sum(one.count * prices[sizes.index(int(one.size))] for one in found)
        expected = brute_force(needed, sizes, [round(price) for price in prices])
        assert (cost, sum(one.count for one in found)) == expected, (needed, sizes, prices)
        used.append(len(found))
    assert set(used) == {1, 2, 3}


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
    before = time.process_time()
    found = cheapest_packs(99_999.3, sold, LAW)
    assert time.process_time() - before < 1.0
    assert sum(one.size * one.count for one in found) >= 99_999.3


@given(st.floats(0.1, 5000), st.lists(st.floats(1, 3000), min_size=1, max_size=4))
def test_it_is_always_enough_and_no_pack_is_for_nothing(needed: float, sizes: list[float]) -> None:
    found = cheapest_packs(needed, offers(*sizes), LAW)
    held = sum(one.size * one.count for one in found)
    assert held >= needed - 1e-5
    assert held - min(one.size for one in found) < needed
    assert len(found) <= 2  # with no prices: by the curve a third never saves a quarter
