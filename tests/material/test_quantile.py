"""The two-piece lognormal, against a seeded simulation of a million draws."""

from __future__ import annotations

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.material import probability_below, quantile, sure_percent
from finplan.quantity import Range

DRAWS = 1_000_000
Z95 = 1.6448536269514722  # 95 % point of the normal distribution, any table
NEED = Range(80.0, 100.0, 150.0)
RANGES = st.tuples(st.floats(0, 1e4), st.floats(0, 1e4), st.floats(0, 1e4)).map(lambda three: Range(*sorted(three)))


def drawn(known: Range, normal: np.ndarray) -> np.ndarray:
    """Draws of a quantity from normal ones: below the median one spread of the logarithm, above it the other."""
    below, above = log(known.low / known.typical) / -Z95, log(known.high / known.typical) / Z95
    return np.asarray(known.typical * np.exp(normal * np.where(normal < 0, below, above)))


@pytest.fixture(scope="module")
def normal() -> np.ndarray:
    return np.random.default_rng(20270312).standard_normal(DRAWS)


def test_it_passes_through_what_is_known() -> None:
    for probability, value in ((0.05, 80.0), (0.5, 100.0), (0.95, 150.0)):
        assert quantile(NEED, probability) == pytest.approx(value)


@pytest.mark.parametrize("probability", [0.05, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99])
def test_the_quantile_to_three_digits(probability: float, normal: np.ndarray) -> None:
    assert quantile(NEED, probability) == pytest.approx(float(np.quantile(drawn(NEED, normal), probability)), rel=1e-3)


@pytest.mark.parametrize("limit", [70.0, 90.0, 110.0, 140.0, 170.0])
def test_the_chance_of_enough_to_three_digits(limit: float, normal: np.ndarray) -> None:
    assert probability_below(NEED, limit) == pytest.approx(float(np.mean(drawn(NEED, normal) <= limit)), abs=1e-3)


def test_the_chance_that_it_is_enough() -> None:
    assert probability_below(NEED, quantile(NEED, 0.9)) == pytest.approx(0.9, abs=1e-9)
    assert probability_below(NEED, 10.0) == pytest.approx(0.0, abs=1e-12)
    assert probability_below(NEED, 1e6) == 1.0
    assert probability_below(Range(0.0, 0.0, 0.0), 0.0) == 1.0


@pytest.mark.parametrize(
    ("known", "probability", "expected", "source"),
    [
        (Range(0.0, 10.0, 20.0), 0.05, 0.0, "the low end itself"),
        (Range(0.0, 10.0, 20.0), 0.01, 0.0, "never below zero"),
        (Range(0.0, 10.0, 20.0), 0.95, 20.0, "the high end itself"),
        (Range(0.0, 0.0, 4.0), 0.95, 4.0, "from nothing in a straight line"),
        (Range(0.0, 0.0, 4.0), 0.5, 0.0, "the typical value"),
        (Range(7.0, 7.0, 7.0), 0.99, 7.0, "what is certain"),
    ],
)
def test_where_a_side_reaches_zero(known: Range, probability: float, expected: float, source: str) -> None:
    assert quantile(known, probability) == pytest.approx(expected, abs=1e-9), source


@given(RANGES, st.floats(0.001, 0.999), st.floats(0.001, 0.999))
def test_more_confidence_never_needs_less(known: Range, one: float, other: float) -> None:
    assert quantile(known, min(one, other)) <= quantile(known, max(one, other)) * (1 + 1e-12)


@given(RANGES, st.floats(0.05, 0.95))
def test_what_is_enough_for_a_confidence_is_enough_with_that(known: Range, probability: float) -> None:
    assert probability_below(known, quantile(known, probability) * (1 + 1e-9)) >= probability - 1e-6


@pytest.mark.parametrize(("probability", "told"), [(0.9, 90), (0.8999, 89), (0.29, 29), (1.0, 99)])
def test_it_is_told_no_surer_than_it_is(probability: float, told: int) -> None:
    assert sure_percent(probability) == told
