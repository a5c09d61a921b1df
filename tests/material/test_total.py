"""What uncertain amounts sum to, against draws and against what is known of lognormals in closed form."""

from __future__ import annotations

from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm

from finplan.material import Cause, CauseKind, Term, cause, deviation, shares, total
from finplan.material.cause import median
from finplan.quantity import Range

Z95 = 1.6448536269514722  # 95 % point of the normal distribution, any table
DRAWS = 400_000


def product(log_sd: float) -> Cause:
    return Cause("product", ("oil",), log_sd)


def hand(log_sd: float) -> Cause:
    return Cause("hand", ("oil", "wipe"), log_sd)


def wood(log_sd: float, item: str = "top") -> Cause:
    return Cause("wood", ("table", item, "pores"), log_sd)


def coat(log_sd: float, number: int, item: str = "top") -> Cause:
    return Cause("coat", ("table", item, f"{number}"), log_sd)


@pytest.mark.parametrize("probability", [0.05, 0.5, 0.9, 0.99])
@pytest.mark.parametrize("log_sd", [0.05, 0.3, 0.8])
def test_one_amount_is_the_lognormal_itself(probability: float, log_sd: float) -> None:
    found = total([Term(200.0, (product(log_sd),))])
    assert found.at(probability) == pytest.approx(lognorm.ppf(probability, log_sd, scale=200.0), rel=1e-6)
    assert found.probability_below(230.0) == pytest.approx(lognorm.cdf(230.0, log_sd, scale=200.0), abs=1e-6)


def test_what_one_cause_moves_rises_and_falls_together() -> None:
    # By hand: twice the same factor is one amount twice as large; several causes on one amount add their variances.
    twice = total([Term(100.0, (product(0.3),)), Term(100.0, (product(0.3),))])
    assert twice.at(0.9) == pytest.approx(total([Term(200.0, (product(0.3),))]).at(0.9), rel=1e-9)
    several = total([Term(200.0, (product(0.3), hand(0.2), wood(0.1), coat(0.05, 1)))])
    together = sqrt(0.3**2 + 0.2**2 + 0.1**2 + 0.05**2)
    assert several.at(0.9) == pytest.approx(lognorm.ppf(0.9, together, scale=200.0), rel=1e-6)


def test_independent_coats_even_out() -> None:
    # Of n equal coats the variation is that of one over the root of n.
    variation = sqrt(exp(0.2**2) - 1)
    found = total(Term(10.0, (coat(0.2, number),)) for number in range(100))
    mean = 1000 * exp(0.2**2 / 2)
    assert found.at(0.95) == pytest.approx(mean * (1 + Z95 * variation / 10), rel=2e-3)


JOBS: dict[str, list[Term]] = {
    "three coats of two items": [
        Term(60.0, (product(0.2 if number else 0.33), hand(0.15), coat(0.07, number, item)))
        for number in range(3)
        for item in ("top", "base")
    ],
    "ends, pores and a pot": [
        Term(20.0, (hand(0.05), wood(0.07), coat(0.06, 1))),
        Term(40.0, (hand(0.05), Cause("wood", ("table", "top", "ends"), 0.5), coat(0.06, 1))),
        Term(30.0, (Cause("hand", ("oil", "wipe", "tool"), 0.5),)),
    ],
    "wood and coats alone": [
        Term(10.0, (wood(0.25, item), coat(0.2, number, item))) for number in range(3) for item in ("a", "b", "c")
    ],
}


@pytest.mark.parametrize("job", JOBS)
def test_against_draws(job: str) -> None:
    terms, dice = JOBS[job], np.random.default_rng(20270312)
    normal = {key: dice.standard_normal(DRAWS) for key in sorted({one.key for term in terms for one in term.causes})}
    drawn = sum(term.typical * np.exp(sum(one.log_sd * normal[one.key] for one in term.causes)) for term in terms)
    found = total(terms)
    assert found.typical == pytest.approx(sum(term.typical for term in terms))
    for probability in (0.05, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99):
        below = float(np.mean(drawn <= found.at(probability)))
        # 0.4 points of the method, and four standard errors of the draws.
        assert below == pytest.approx(probability, abs=0.004 + 4 * sqrt(0.25 / DRAWS)), probability
        assert found.probability_below(found.at(probability)) == pytest.approx(probability, abs=1e-9)


def test_what_was_learnt_moves_the_middle() -> None:
    # A tin that was weighed and goes a tenth less far, to within 2 %.
    learnt = Cause("product", ("oil",), 0.02, log(1.1))
    assert total([Term(200.0, (learnt,))]).at(0.5) == pytest.approx(220.0)


def test_shares_by_hand() -> None:
    # 0.3² to 0.4²: 9 to 16 of 25. Two coats of equal amount: each has half the weight, so half of 0.1² together.
    assert shares([Term(1.0, (product(0.3), hand(0.4)))]) == pytest.approx(
        {"product": 0.36, "hand": 0.64, "wood": 0.0, "coat": 0.0}
    )
    two = shares([Term(1.0, (product(0.1), coat(0.1, number))) for number in (1, 2)])
    assert two["product"] == pytest.approx(2 / 3)
    assert two["coat"] == pytest.approx(1 / 3)
    assert shares([Term(1.0, ())]) == {}


@pytest.mark.parametrize(
    ("known", "log_sd", "middle", "source"),
    [
        (Range(0.8, 1.0, 1.25), log(1.25) / Z95, 1.0, "1.25 is the 95 % point"),
        (Range(1.0, 1.0, 1.0), 0.0, 1.0, "what is certain"),
        (Range(0.0, 10.0, 20.0), log(2) / Z95, 10.0, "no logarithm of zero: the upper side"),
        (Range(0.0, 0.0, 4.0), log(2) / Z95, 2.0, "usually nothing, at most 4: half of that, and 4 its 95 % point"),
        (Range(0.0, 0.0, 0.0), 0.0, 0.0, "nothing at all"),
    ],
)
def test_a_range_is_a_lognormal(known: Range, log_sd: float, middle: float, source: str) -> None:
    assert deviation(known) == pytest.approx(log_sd), source
    assert median(known) == middle, source


def test_factors_of_one_cause_add_their_variances() -> None:
    (both,) = cause("hand", ("oil",), Range(0.8, 1.0, 1.25), Range(0.5, 1.0, 2.0))
    assert both.log_sd == pytest.approx(sqrt(log(1.25) ** 2 + log(2) ** 2) / Z95)
    assert cause("hand", ("oil",), Range(1.0, 1.0, 1.0)) == ()


def test_nonsense_is_no_number_too_large() -> None:
    wild = Range(1e-9, 1.0, 1e9)
    kinds: tuple[CauseKind, ...] = ("product", "hand", "wood", "coat")
    terms = [Term(1e6, tuple(one for kind in kinds for one in cause(kind, ("a", "b", f"{n}"), wild))) for n in range(3)]
    found = total(terms)
    assert 0 <= found.at(0.05) < found.at(0.999) < 1e30


TERMS = st.lists(st.tuples(st.floats(0, 1e3), st.floats(0, 0.5), st.floats(0, 0.3)), min_size=1, max_size=5)


@given(TERMS, st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_more_confidence_never_needs_less(drawn: list[tuple[float, float, float]], one: float, other: float) -> None:
    terms = [Term(amount, (product(a), coat(b, number))) for number, (amount, a, b) in enumerate(drawn)]
    found = total(terms)
    assert found.at(min(one, other)) <= found.at(max(one, other)) * (1 + 1e-9)
    low, typical, high = found.range.low, found.range.typical, found.range.high
    assert low <= typical <= high


@given(TERMS, st.floats(0, 500))
def test_what_is_certain_adds_as_it_is(drawn: list[tuple[float, float, float]], more: float) -> None:
    terms = [Term(amount, (product(a), coat(b, number))) for number, (amount, a, b) in enumerate(drawn)]
    plain, added = total(terms), total([*terms, Term(more, ())])
    assert added.at(0.9) == pytest.approx(plain.at(0.9) + more, rel=2e-3, abs=1e-6)
