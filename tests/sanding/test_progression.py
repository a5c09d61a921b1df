"""The way from one grit to another."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue, grade_sizes
from finplan.sanding import progression

SIZES = grade_sizes(bundled_catalogue())
P_GRADES = {grit: size_um for grit, size_um in SIZES.items() if grit.startswith("P")}
LADDER = [f"P{n}" for n in (40, 60, 80, 100, 120, 150, 180, 220, 240, 320, 400, 600, 800, 1000, 1200, 1500, 2000)]
CAPS = [1.3, 1.5, 1.67, 2.05]


@pytest.mark.parametrize(
    ("start", "stop", "cap", "expected"),
    [
        # Worked with the mean grain sizes of ISO 6344 and the cap on their ratio, by hand.
        ("P80", "P220", 1.67, "P80 P120 P180 P220"),
        ("P80", "P220", 1.50, "P80 P100 P120 P150 P220"),
        ("P60", "P180", 1.67, "P60 P100 P150 P180"),
        ("P120", "P320", 1.67, "P120 P180 P240 P320"),
        ("P40", "P120", 1.67, "P40 P60 P100 P120"),
        ("P80", "P150", 2.05, "P80 P150"),
        ("P150", "P150", 1.67, "P150"),
    ],
)
def test_worked_examples(start: str, stop: str, cap: float, expected: str) -> None:
    stock = {grit: SIZES[grit] for grit in LADDER}
    assert progression(start, stop, stock, cap).grits == tuple(expected.split())


def shortest(start: str, stop: str, stock: dict[str, float], cap: float) -> int | None:
    """Try every set of grades between, the small ones first."""
    between = [grit for grit in stock if stock[stop] < stock[grit] < stock[start]]
    for number in range(len(between) + 1):
        for chosen in combinations(between, number):
            way = sorted([start, *chosen, stop], key=lambda grit: -stock[grit])
            if all(stock[a] / stock[b] <= cap * (1 + 1e-9) for a, b in pairwise(way)):
                return len(way)
    return None


def tried(start: str, stop: str, stock: dict[str, float], cap: float) -> None:
    found = progression(start, stop, stock, cap)
    best = shortest(start, stop, stock, cap) if start != stop else 1
    assert (found.grits[0], found.grits[-1]) == (start, stop)
    assert found.within_cap == (best is not None)
    if best is not None:
        assert len(found.grits) == best


@pytest.mark.parametrize("cap", CAPS)
def test_no_way_is_shorter_from_any_start_to_any_stop(cap: float) -> None:
    stock = {grit: SIZES[grit] for grit in LADDER}
    for start, stop in combinations(LADDER, 2):
        tried(start, stop, stock, cap)


@given(
    stock=st.sets(st.sampled_from(sorted(SIZES)), min_size=2, max_size=11),
    cap=st.one_of(st.sampled_from(CAPS), st.floats(1.05, 4.0)),
    data=st.data(),
)
def test_no_way_is_shorter_in_any_stock(stock: set[str], cap: float, data: st.DataObject) -> None:
    sizes = {grit: SIZES[grit] for grit in stock}
    ends = data.draw(st.lists(st.sampled_from(sorted(stock)), min_size=2, max_size=2, unique=True))
    coarse, fine = sorted(ends, key=lambda grit: -sizes[grit])
    tried(coarse, fine, sizes, cap)


@given(stock=st.sets(st.sampled_from(sorted(SIZES)), min_size=2, max_size=9), cap=st.sampled_from(CAPS))
def test_where_the_cap_cannot_be_kept_it_is_passed_least(stock: set[str], cap: float) -> None:
    """By trying every way: none has a smaller worst fall; none that passes it only where it must is shorter."""
    sizes = {grit: SIZES[grit] for grit in stock}
    ordered = sorted(sizes, key=lambda grit: -sizes[grit])
    neighbours = set(pairwise(ordered))
    found = progression(ordered[0], ordered[-1], sizes, cap)
    ways = [
        [ordered[0], *chosen, ordered[-1]]
        for number in range(len(ordered) - 1)
        for chosen in combinations(ordered[1:-1], number)
    ]
    worst = [max(sizes[a] / sizes[b] for a, b in pairwise(way)) for way in ways]
    needful = [
        len(way)
        for way in ways
        if all((a, b) in neighbours or sizes[a] / sizes[b] <= cap * (1 + 1e-9) for a, b in pairwise(way))
    ]
    assert len(found.grits) == min(needful)
    assert all((fall.coarse, fall.fine) in neighbours for fall in found.beyond_cap)
    if found.beyond_cap:
        assert max(fall.ratio for fall in found.beyond_cap) == pytest.approx(min(worst))


@given(
    stock=st.sets(st.sampled_from(sorted(SIZES)), min_size=2),
    extra=st.sets(st.sampled_from(sorted(SIZES))),
    caps=st.tuples(st.floats(1.05, 4.0), st.floats(1.05, 4.0)).map(sorted),
)
def test_a_richer_stock_or_a_looser_cap_is_never_longer(stock: set[str], extra: set[str], caps: list[float]) -> None:
    sizes = {grit: SIZES[grit] for grit in stock}
    coarse, fine = max(stock, key=lambda grit: sizes[grit]), min(stock, key=lambda grit: sizes[grit])
    usual = progression(coarse, fine, sizes, caps[0])
    richer = progression(coarse, fine, {**sizes, **{grit: SIZES[grit] for grit in extra}}, caps[0])
    looser = progression(coarse, fine, sizes, caps[1])
    if usual.within_cap:
        assert len(richer.grits) <= len(usual.grits)
        assert len(looser.grits) <= len(usual.grits)
    if richer.beyond_cap:
        assert max(fall.ratio for fall in richer.beyond_cap) <= max(fall.ratio for fall in usual.beyond_cap)
    assert len(looser.beyond_cap) <= len(usual.beyond_cap)


def test_a_gap_that_is_too_wide_is_crossed_from_edge_to_edge() -> None:
    """201/100 = 2.01 and 100/58.5 = 1.71, by hand; P120 is left out since P150 has to be stepped on anyway."""
    stock = {grit: SIZES[grit] for grit in ("P60", "P80", "P150", "P240")}
    found = progression("P60", "P240", stock, 1.67)
    assert found.grits == ("P60", "P80", "P150", "P240")
    falls = [(fall.coarse, fall.fine, round(fall.ratio, 2)) for fall in found.beyond_cap]
    assert falls == [("P80", "P150", 2.01), ("P150", "P240", 1.71)]


@pytest.mark.parametrize(
    ("start", "stop", "cap", "told"),
    [
        ("P180", "P150", 1.67, r"the stop grit P150 \(100 µm\) is coarser than the start grit P180 \(82 µm\)"),
        ("P75", "P150", 1.67, "P75 is not among the grades at hand: P40, P60"),
        ("P80", "P175", 1.67, "P175 is not among the grades at hand"),
        ("P80", "P150", 1.0, "a cap of 1 allows no step"),
        ("P80", "P150", float("nan"), "a cap of nan allows no step"),
    ],
)
def test_what_is_refused(start: str, stop: str, cap: float, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        progression(start, stop, {grit: SIZES[grit] for grit in LADDER}, cap)


def test_no_grades() -> None:
    with pytest.raises(ValueError, match="there are none"):
        progression("P80", "P220", {}, 1.67)
