"""The way from one grit to another."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.sanding import progression, stand_in

SIZES = dict(bundled_catalogue().grades["p-grade"].sizes_um)
LADDER = [f"P{n}" for n in (40, 60, 80, 100, 120, 150, 180, 220, 240, 320, 400, 600, 800, 1000, 1200, 1500, 2000)]


@pytest.mark.parametrize(
    ("start", "stop", "cap", "expected"),
    [
        # Worked with the mean grain sizes of ISO 6344 and the cap on their ratio, by hand.
        ("P80", "P220", 1.67, "P80 P120 P180 P220"),
        ("P80", "P220", 1.50, "P80 P100 P120 P150 P220"),
        ("P60", "P180", 1.67, "P60 P100 P150 P180"),
        ("P120", "P320", 1.67, "P120 P180 P240 P320"),
        ("P40", "P120", 1.67, "P40 P60 P100 P120"),
        ("P150", "P150", 1.67, "P150"),
        ("P180", "P150", 1.67, "P150"),
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


@given(
    stock=st.sets(st.sampled_from(sorted(SIZES)), min_size=2, max_size=11),
    cap=st.sampled_from([1.3, 1.5, 1.67, 2.05]),
    data=st.data(),
)
def test_no_way_is_shorter(stock: set[str], cap: float, data: st.DataObject) -> None:
    sizes = {grit: SIZES[grit] for grit in stock}
    ends = data.draw(st.lists(st.sampled_from(sorted(stock)), min_size=2, max_size=2, unique=True))
    coarse, fine = sorted(ends, key=lambda grit: -sizes[grit])
    found = progression(coarse, fine, sizes, cap)
    best = shortest(coarse, fine, sizes, cap)
    assert found.within_cap == (best is not None)
    if best is not None:
        assert len(found.grits) == best
    assert found.grits[0] == coarse
    assert found.grits[-1] == fine


@given(stock=st.sets(st.sampled_from(sorted(SIZES)), min_size=2), extra=st.sampled_from(sorted(SIZES)))
def test_a_richer_stock_or_looser_cap_is_never_longer(stock: set[str], extra: str) -> None:
    sizes = {grit: SIZES[grit] for grit in stock}
    coarse, fine = max(stock, key=lambda grit: sizes[grit]), min(stock, key=lambda grit: sizes[grit])
    usual = progression(coarse, fine, sizes, 1.67)
    if usual.within_cap:
        assert len(progression(coarse, fine, {**sizes, extra: SIZES[extra]}, 1.67).grits) <= len(usual.grits)
        assert len(progression(coarse, fine, sizes, 2.05).grits) <= len(usual.grits)


def test_a_grade_that_is_not_at_hand() -> None:
    stock = {grit: SIZES[grit] for grit in ("P80", "P150", "P240")}
    assert stand_in("P120", stock, finer=False) == "P80"
    assert stand_in("P180", stock, finer=True) == "P240"
    assert stand_in("P400", stock, finer=True) == "P240"
    found = progression("P80", "P240", stock, 1.67)
    assert found.grits == ("P80", "P150", "P240")
    assert not found.within_cap
    assert found.worst_ratio == pytest.approx(2.01)  # 201 µm / 100 µm


def test_no_grades() -> None:
    with pytest.raises(ValueError, match="0 grades"):
        progression("P80", "P220", {}, 1.67)
