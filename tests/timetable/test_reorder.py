"""In which order pieces are placed: against every order there is, for jobs on one machine."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from finplan.timetable.construct.reorder import by_share, reordered

Jobs = dict[str, int]
Ends = dict[str, int]


def placed(keys: Sequence[str], jobs: Jobs) -> Ends:
    """Return when each job ends where they are done one after another."""
    ends: Ends = {}
    for key in keys:
        ends[key] = max(ends.values(), default=0) + jobs[key]
    return ends


def total(ends: Ends) -> tuple[float, ...]:
    return (sum(ends.values()),)


@given(st.lists(st.integers(1, 9), min_size=1, max_size=5))
def test_short_jobs_come_before_long_ones(lengths: list[int]) -> None:
    """The sum of ends is smallest with the shortest first (Smith 1956, from memory), which trying every order shows."""
    jobs = {f"job {number}": length for number, length in enumerate(lengths)}
    order, ends, left = reordered(
        list(jobs),
        placed(list(jobs), jobs),
        lambda keys: placed(keys, jobs),
        lambda found: {key: found[key] - jobs[key] for key in jobs},
        total,
        tries=200,
    )
    assert sorted(order) == sorted(jobs)
    assert placed(order, jobs) == ends
    assert left > 0
    assert total(ends) == min(total(placed(keys, jobs)) for keys in permutations(jobs))


def test_no_more_orders_are_tried_than_may_be_and_none_without_room() -> None:
    jobs = {"long": 9, "middle": 5, "short": 1}
    asked: list[tuple[str, ...]] = []

    def place(keys: Sequence[str]) -> Ends | None:
        asked.append(tuple(keys))
        return None if keys[0] == "short" else placed(keys, jobs)

    first = placed(list(jobs), jobs)
    order, ends, left = reordered(list(jobs), first, place, lambda found: found, total, tries=2)
    assert len(asked) == 2
    assert left == 0
    assert total(ends) <= total(first)
    assert order[0] != "short"


@given(st.lists(st.integers(1, 9), min_size=1, max_size=5))
def test_with_one_date_small_shares_first_is_one_of_the_orders_to_begin_with(lengths: list[int]) -> None:
    """Placed backwards from one date, which trying every order shows to be the latest there is."""
    jobs = {f"job {number}": length for number, length in enumerate(lengths)}
    due = dict.fromkeys(jobs, 100)
    latest = {key: 100 - length for key, length in jobs.items()}
    orders = list(by_share(latest, due, {key: float(length) for key, length in jobs.items()}))
    assert all(sorted(order) == sorted(jobs) for order in orders)
    best = min(total(placed(keys, jobs)) for keys in permutations(jobs))
    assert min(total(placed(order, jobs)) for order in orders) == best


def test_a_large_share_comes_later_though_its_date_is_the_last() -> None:
    due = {"small": 80, "large": 100}
    orders = list(by_share({"small": 78, "large": 90}, due, {"small": 2.0, "large": 60.0}))
    assert orders[0] == ["large", "small"]
    assert ["small", "large"] in orders
