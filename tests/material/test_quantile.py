"""The two-piece lognormal, against a seeded simulation."""

from __future__ import annotations

import math
import random

import pytest

from finplan.material import probability_below, quantile
from finplan.quantity import Range

NEED = Range(80.0, 100.0, 150.0)


def test_it_passes_through_what_is_known() -> None:
    for probability, value in ((0.05, 80.0), (0.5, 100.0), (0.95, 150.0)):
        assert quantile(NEED, probability) == pytest.approx(value)


def test_against_simulation() -> None:
    # Half a million normal draws, each side with its own spread: 1.6449 is the 95 % point of the normal distribution.
    dice = random.Random(20270312)  # noqa: S311 - no secret
    below, above = math.log(80 / 100) / -1.644854, math.log(150 / 100) / 1.644854
    draws = sorted(100 * math.exp(z * (below if z < 0 else above)) for z in (dice.gauss(0, 1) for _ in range(500_000)))
    for probability in (0.1, 0.25, 0.75, 0.9, 0.99):
        assert quantile(NEED, probability) == pytest.approx(draws[int(probability * len(draws))], rel=5e-3)


def test_the_chance_that_it_is_enough() -> None:
    # Quantiles of one cause add: at 90 % two such coats need twice one.
    limit = 2 * quantile(NEED, 0.9)
    assert probability_below((NEED, NEED), limit) == pytest.approx(0.9, abs=1e-6)
    assert probability_below((NEED,), 10.0) == 0.0
    assert probability_below((NEED,), 1e6) > 0.999
