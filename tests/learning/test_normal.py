"""What is known after observations, against the textbook's closed form and against brute force."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.stats import multivariate_normal, norm

from finplan.learning.normal import JointNormal, believed, posterior, refined, root

ONE = JointNormal(np.zeros(1), np.eye(1))


def _scalar(prior_mean: float, prior_sd: float, observed: Sequence[float], sd: float) -> tuple[float, float]:
    prior = JointNormal(np.array([prior_mean]), np.array([[prior_sd**2]]))
    count = len(observed)
    found = posterior(prior, np.ones((count, 1)), np.array(observed), np.full(count, sd))
    return float(found.mean[0]), float(found.covariance[0, 0])


def test_worked_example_of_a_textbook() -> None:
    """Volumes of the hippocampus, from chapter 5 of Johnson, Ott and Dogucu, "Bayes Rules!".

    Read in the notes of a book club that print what the book's package gives (r4ds.github.io/bookclub-bayes_rules,
    "5.14 Normal Model"): prior N(6.5, 0.4²), deviation 0.5, the mean of 25 observations 5.735; posterior mean 5.78,
    variance 0.009411765, deviation 0.09701425.
    """
    mean, variance = _scalar(6.5, 0.4, [5.735] * 25, 0.5)
    assert mean == pytest.approx(5.78, abs=0.005)
    assert variance == pytest.approx(0.009411765, rel=1e-7)
    assert variance**0.5 == pytest.approx(0.09701425, rel=1e-7)


@given(st.floats(-3, 3), st.floats(0.05, 2), st.lists(st.floats(-3, 3), min_size=1, max_size=8), st.floats(0.05, 2))
def test_precisions_add_and_means_are_weighted_by_them(
    prior_mean: float, prior_sd: float, observed: list[float], sd: float
) -> None:
    """The closed form, as the documentation of a reference library gives it (read: that of TensorFlow, contrib).

    ``normal_conjugates_known_scale_posterior``: sigma'² = 1 / (1/sigma0² + n/sigma²),
    mu' = (mu0/sigma0² + s/sigma²) · sigma'², s being the sum of n observations.
    """
    variance = 1 / (1 / prior_sd**2 + len(observed) / sd**2)
    mean = (prior_mean / prior_sd**2 + sum(observed) / sd**2) * variance
    assert _scalar(prior_mean, prior_sd, observed, sd) == pytest.approx((mean, variance), rel=1e-7, abs=1e-9)


def test_several_unknowns_agree_with_the_joint_density_summed_over_a_grid() -> None:
    """The density is scipy's; two unknowns hang together beforehand, three observations move with both."""
    covariance = np.array([[1.0, 0.4], [0.4, 0.8]])
    loads = np.array([[0.3, 0.1], [0.2, 0.25], [0.0, 0.3]])
    observed, noise = np.array([0.35, 0.2, -0.1]), np.array([0.1, 0.15, 0.2])
    found = posterior(JointNormal(np.zeros(2), covariance), loads, observed, noise)
    axis = np.linspace(-5, 5, 801)
    points = np.stack(np.meshgrid(axis, axis, indexing="ij"), axis=-1).reshape(-1, 2)
    density = multivariate_normal(np.zeros(2), covariance).pdf(points)
    for row, at, sd in zip(loads, observed, noise, strict=True):
        density *= norm.pdf(at, points @ row, sd)
    density /= density.sum()
    mean = density @ points
    assert found.mean == pytest.approx(mean, abs=1e-4)
    off = points - mean
    assert found.covariance == pytest.approx((off * density[:, None]).T @ off, abs=1e-4)


def test_one_after_another_is_all_at_once() -> None:
    random = np.random.default_rng(4)
    loads, observed, noise = random.normal(size=(6, 3)), random.normal(size=6), random.uniform(0.2, 1, 6)
    together = posterior(JointNormal(np.zeros(3), np.eye(3)), loads, observed, noise)
    known = JointNormal(np.zeros(3), np.eye(3))
    for row in range(6):
        known = posterior(known, loads[[row]], observed[[row]], noise[[row]])
    assert known.mean == pytest.approx(together.mean)
    assert known.covariance == pytest.approx(together.covariance)


# --- what is not believed ---------------------------------------------------------------------------------------------


def _flat(numbers: Sequence[int], known: JointNormal) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    return np.ones((len(numbers), 1)), np.full(len(numbers), known.mean[0])


def test_what_is_off_is_what_it_is_off_without_it() -> None:
    """Leaving each out and learning from the rest anew says the same as the short form."""
    observed, noise = np.array([0.1, 0.2, 0.05, 2.5]), np.full(4, 0.3)
    (number, off), *_ = believed(ONE, _flat, observed, noise, 3.5).aside
    rest = posterior(ONE, np.ones((3, 1)), observed[:3], noise[:3])
    assert number == 3
    assert off == pytest.approx(2.5 - float(rest.mean[0]))


def test_a_slip_is_set_aside_wherever_it_stands_and_the_rest_counts() -> None:
    good = [0.1, 0.2, 0.05, 0.15]
    for place in range(5):
        observed = np.array([*good[:place], -2.3, *good[place:]])
        found = believed(ONE, _flat, observed, np.full(5, 0.2), 3.5)
        assert [number for number, _ in found.aside] == [place]
        assert float(found.known.mean[0]) == pytest.approx(0.125 * 100 / 101, rel=1e-6)


def test_two_slips_are_set_aside_too() -> None:
    observed = np.array([0.1, 3.0, 0.2, 0.15, 2.8, 0.05, 0.12])
    found = believed(ONE, _flat, observed, np.full(7, 0.2), 3.5)
    assert sorted(number for number, _ in found.aside) == [1, 4]


def test_nothing_is_set_aside_without_need() -> None:
    """Of ten thousand sets of ten that are just what they seem, hardly one loses anything."""
    random = np.random.default_rng(9)
    lost = 0
    for _ in range(1000):
        truth = random.standard_normal()
        observed = truth + random.standard_normal(10) * 0.3
        lost += len(believed(ONE, _flat, observed, np.full(10, 0.3), 3.5).aside)
    assert lost / 10_000 == pytest.approx(0.000465, abs=0.0005), "3.5 deviations: twice 0.000233 of a normal table"


def test_what_is_beyond_belief_by_itself_teaches_nothing() -> None:
    found = believed(ONE, _flat, np.array([9.0]), np.array([0.2]), 3.5)
    assert found.kept == ()
    assert found.known is ONE


# --- helpers ----------------------------------------------------------------------------------------------------------


@given(st.integers(1, 5), st.integers(0, 10_000))
def test_a_root_squares_to_what_it_is_of(size: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    half = random.normal(size=(size, random.integers(1, size + 1)))
    covariance = half @ half.T
    found = np.array(root(covariance))
    assert found @ found.T == pytest.approx(covariance, abs=1e-5)
    assert np.all(np.triu(found, 1) == 0)


def test_a_bent_density_is_met_in_mean_and_deviation() -> None:
    """The sum of two lognormal parts was observed: summed over a fine grid."""

    def log_density(at: NDArray[np.float64]) -> NDArray[np.float64]:
        amount = np.log(70 * np.exp(0.2 * at[:, 0]) + 30 * np.exp(0.35 * at[:, 1]))
        found: NDArray[np.float64] = -(((np.log(120.0) - amount) / 0.08) ** 2 + (at**2).sum(axis=1)) / 2
        return found

    rough = believed(
        JointNormal(np.zeros(2), np.eye(2)),
        lambda numbers, known: _straight(known.mean),
        np.log([120.0]),
        np.array([0.08]),
        9.0,
    ).known
    axis = np.linspace(-6, 6, 1201)
    points = np.stack(np.meshgrid(axis, axis, indexing="ij"), axis=-1).reshape(-1, 2)
    density = np.exp(log_density(points))
    density /= density.sum()
    mean = density @ points
    found = refined(rough, log_density)
    assert found.mean == pytest.approx(mean, abs=0.04)
    off = points - mean
    assert found.covariance == pytest.approx((off * density[:, None]).T @ off, abs=0.06)


def _straight(at: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    parts = np.array([70 * np.exp(0.2 * at[0]), 30 * np.exp(0.35 * at[1])])
    shares = parts / parts.sum()
    return np.array([shares * [0.2, 0.35]]), np.array([np.log(parts.sum())])


def test_a_density_that_is_far_from_what_it_was_taken_for_leaves_that() -> None:
    assert refined(ONE, lambda at: -0.5 * ((at[:, 0] - 30) / 0.01) ** 2) is ONE
