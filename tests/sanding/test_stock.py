"""What a shop's grades do for others, and which to buy."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue, grade_name, grade_sizes, is_cami, on_other_scale
from finplan.sanding import Stock, progression

CATALOGUE = bundled_catalogue()
SIZES = grade_sizes(CATALOGUE)
RULES = CATALOGUE.sanding_rules["usual"]


def stock(*grits: str) -> Stock:
    ordered = sorted(grits, key=lambda grit: -SIZES[grit])
    return Stock(tuple(ordered), SIZES, RULES.ladder, RULES.as_good)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        *[("P120", "P120"), ("p120", "P120"), ("P 120", "P120"), (120, "CAMI 120"), ("120", "CAMI 120")],
        *[("CAMI 120", "CAMI 120"), ("cami120", "CAMI 120"), ("120P", None), ("fine", None), (True, None), (0, None)],
        *[(-80, None), (1.5, None), (None, None), ("", None), ("P", None), ("P١٢٠", None)],
    ],
)
def test_how_a_grade_is_written(written: object, name: str | None) -> None:
    assert grade_name(written) == name


@pytest.mark.parametrize(
    ("grade", "other", "worked"),
    [
        # Nearest by the logarithm of the ratio of sizes, by hand.
        ("CAMI 320", "P400", "36/35 = 1.03"),
        ("CAMI 400", "P800", "23/21.8 = 1.06"),
        ("CAMI 600", "P1200", "16/15.3 = 1.05"),
        ("CAMI 100", "P120", "|ln 141/125| = 0.120, against 0.139 of P100"),
        ("P180", "CAMI 180", "82/78 = 1.05"),
        ("P320", "CAMI 280", "46.2/44 = 1.05"),
        ("P600", "CAMI 360", "28.8/25.8 = 1.116, against 25.8/23 = 1.122"),
    ],
)
def test_the_other_scale(grade: str, other: str, worked: str) -> None:
    assert on_other_scale(grade, SIZES) == other, worked


def test_what_does_for_another() -> None:
    """P180 is 82 µm and CAMI 180 78 µm; P100 is 162 µm and CAMI 100 141 µm, 1.15 times smaller."""
    shop = stock("CAMI 80", "CAMI 100", "CAMI 120", "CAMI 180")
    assert shop.like("P180") == "CAMI 180"
    assert shop.like("P100") is None
    assert stock("P180", "CAMI 180").like("P180") == "P180"
    assert stock("P180", "CAMI 180").like("CAMI 180") == "CAMI 180"


@pytest.mark.parametrize(
    ("at_hand", "wanted", "bought", "why"),
    [
        (("P80", "P180"), "CAMI 320", "P400", "only P-grades are sold; 36/35 = 1.03"),
        (("CAMI 80", "CAMI 180"), "P400", "CAMI 320", "only CAMI grades are sold"),
        (("P80", "CAMI 180"), "CAMI 320", "CAMI 320", "both are"),
        (("P80", "CAMI 180"), "P400", "P400", "both are"),
    ],
)
def test_what_is_bought_is_of_a_scale_that_is_sold(
    at_hand: tuple[str, ...], wanted: str, bought: str, why: str
) -> None:
    assert stock(*at_hand).named(wanted) == bought, why


def test_where_it_starts_and_stops_without_the_grade_wanted() -> None:
    shop = stock("P80", "P150", "P240")
    assert shop.start("P120") == "P80"  # what is finer does not take the marks off
    assert shop.start("P60") == "P80"  # nothing is coarser
    assert shop.stop("P180", None) == "P150"  # 100/82 = 1.22, against 82/58.5 = 1.40 of P240
    assert shop.stop("P400", None) == "P240"
    assert shop.stop("P400", "P180") == "P150"  # P240 is finer than is tolerated
    assert shop.start_no_coarser("P120", "P120") == "P150"


@pytest.mark.parametrize(
    ("at_hand", "ends", "cap", "mended"),
    [
        # By hand: 201/58.5 = 3.44 in steps of at most 1.67 takes two grades between; 1.5 takes three.
        (("P80", "P240"), ("P80", "P240"), 1.67, ("P80", "P120", "P180", "P240")),
        (("P80", "P180"), ("P80", "P180"), 1.67, ("P80", "P120", "P180")),
        (("P80", "P150", "P240"), ("P80", "P240"), 1.67, ("P80", "P120", "P150", "P220", "P240")),
        (("CAMI 80", "CAMI 180"), ("CAMI 80", "P180"), 1.67, ("CAMI 80", "CAMI 120", "CAMI 180")),
        (("P40", "P60"), ("P40", "P60"), 1.5, ("P40", "P50", "P60")),  # the ladder has no grade between these
    ],
)
def test_what_to_buy(at_hand: tuple[str, ...], ends: tuple[str, str], cap: float, mended: tuple[str, ...]) -> None:
    shop = stock(*at_hand)
    assert shop.mended(*ends, cap) == mended
    assert shop.to_buy(mended) == tuple(grit for grit in mended if grit not in at_hand)


@given(at_hand=st.sets(st.sampled_from(sorted(SIZES)), min_size=2, max_size=8), cap=st.sampled_from([1.5, 1.67, 2.05]))
def test_what_is_bought_mends_it(at_hand: set[str], cap: float) -> None:
    shop = stock(*at_hand)
    coarse, fine = shop.at_hand[0], shop.at_hand[-1]
    usual = progression(coarse, fine, shop.sizes_at_hand, cap)
    mended = shop.mended(coarse, fine, cap)
    bought = shop.to_buy(mended)
    assert not usual.within_cap or not bought
    within = {**shop.sizes_at_hand, **{grit: SIZES[grit] for grit in mended}}
    assert progression(coarse, fine, within, cap).within_cap
    if all(is_cami(grit) for grit in at_hand):
        assert all(is_cami(grit) for grit in bought)


@pytest.mark.parametrize(("coarse", "fine"), [("P80", "P240"), ("P60", "P220"), ("P120", "P400"), ("P80", "P180")])
@pytest.mark.parametrize("cap", [1.5, 1.67, 2.05])
def test_no_fewer_would_do(coarse: str, fine: str, cap: float) -> None:
    """Against every set of grades of the ladder, the small ones first."""
    shop = stock(coarse, fine)
    between = [grit for grit in RULES.ladder if SIZES[fine] < SIZES[grit] < SIZES[coarse]]
    fewest = next(
        number
        for number in range(len(between) + 1)
        for chosen in combinations(between, number)
        if all(SIZES[a] / SIZES[b] <= cap for a, b in pairwise([coarse, *chosen, fine]))
    )
    assert len(shop.to_buy(shop.mended(coarse, fine, cap))) == fewest
