"""Normal unknowns and what was observed of them: what is known afterwards, in closed form."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


_ROUNDS = 4
"""So often what does not act in proportion is drawn straight anew where the last round ended."""


@dataclass(frozen=True, slots=True)
class JointNormal:
    """Unknowns that are jointly normal."""

    mean: Array
    covariance: Array


def posterior(prior: JointNormal, loads: Array, observed: Array, noise: Array) -> JointNormal:
    """Return what is known of unknowns after they were observed.

    Parameters
    ----------
    prior
        What was known before: *d* unknowns
    loads
        How much each observation moves with each unknown: *n × d*
    observed
        The observations: *n*
    noise
        The standard deviation of each about what the unknowns say: *n*

    Notes
    -----
    ``mean + K (observed - loads · mean)`` and ``(1 - K · loads) · covariance`` with
    ``K = covariance · loadsᵀ · (loads · covariance · loadsᵀ + noise²)⁻¹``: the normal prior is conjugate to the mean of
    a normal with a known deviation. Of one unknown and loads of 1 that is the textbook's sum of precisions:
    ``1 / (1 / s0² + n / s²)`` for the variance, and for the mean both means weighted by their precisions.

    Examples
    --------
    >>> import numpy as np
    >>> found = posterior(JointNormal(np.zeros(1), np.eye(1)), np.ones((3, 1)), np.array([1.0, 1.2, 0.8]), np.ones(3))
    >>> float(found.mean[0]), float(found.covariance[0, 0])
    (0.75, 0.25)
    """
    import numpy as np

    spread = loads @ prior.covariance @ loads.T + np.diag(noise**2)
    gain = np.linalg.solve(spread, loads @ prior.covariance).T
    mean = prior.mean + gain @ (observed - loads @ prior.mean)
    covariance = prior.covariance - gain @ loads @ prior.covariance
    return JointNormal(mean, (covariance + covariance.T) / 2)


@dataclass(frozen=True, slots=True)
class Believed:
    """What is known after observations, and which of them were believed."""

    known: JointNormal
    kept: tuple[int, ...]
    """The numbers of those that count."""
    aside: tuple[tuple[int, float], ...]
    """The numbers of those that do not, and how far each is off what all the others say: the logarithm of a factor."""


def believed(
    prior: JointNormal,
    straight: Callable[[Sequence[int], JointNormal], tuple[Array, Array]],
    observed: Array,
    noise: Array,
    outlier: float,
) -> Believed:
    """Return what is known after observations that may be wrong, of unknowns that need not act in proportion.

    Parameters
    ----------
    prior
        What was known before: *d* unknowns
    straight
        Gives, for the numbers of some observations and what is known, how each moves with each unknown, and what it is
    observed, noise
        The observations and their deviations: *n*
    outlier
        By how many deviations an observation may be off what all the others say of it; the worst beyond is set aside,
        and all is reckoned anew

    Notes
    -----
    Drawn straight about the likeliest point, which is found in a few rounds: the method of Gauss and Newton. With ``S``
    the covariance of the observations and ``r`` what they are off the prior, an observation is off what all others say
    by ``[S⁻¹r]ᵢ / [S⁻¹]ᵢᵢ``, with a variance of ``1 / [S⁻¹]ᵢᵢ``; one alone is held against the prior.
    """
    import numpy as np

    kept = list(range(len(observed)))
    aside: list[tuple[int, float]] = []
    while kept:
        known = prior
        for _ in range(_ROUNDS):
            loads, expected = straight(kept, known)
            drawn = observed[kept] - expected + loads @ known.mean
            known = posterior(prior, loads, drawn, noise[kept])
        inverse = np.linalg.inv(loads @ prior.covariance @ loads.T + np.diag(noise[kept] ** 2))
        off = (inverse @ (drawn - loads @ prior.mean)) / np.diag(inverse)
        deviations = np.abs(off) * np.sqrt(np.diag(inverse))
        worst = int(np.argmax(deviations))
        if deviations[worst] <= outlier:
            return Believed(known, tuple(kept), tuple(aside))
        aside.append((kept.pop(worst), float(off[worst])))
    return Believed(prior, (), tuple(aside))


def refined(rough: JointNormal, log_density: Callable[[Array], Array]) -> JointNormal:
    """Return the mean and the covariance of unknowns whose density bends away from the normal one that is near it.

    Parameters
    ----------
    rough
        The normal near it: *d* unknowns
    log_density
        The logarithm of the density up to a constant, for *n × d* points at once

    Notes
    -----
    Importance sampling: points of a slightly wider normal, each weighed by how much denser the true density is there.
    The points are the same every time, each with its mirror image, so that they cost no symmetry. Where few points
    carry nearly all of the weight, which says that the two are not near, the rough one is kept.

    Examples
    --------
    >>> import numpy as np
    >>> found = refined(JointNormal(np.zeros(1), np.eye(1)), lambda at: -0.5 * ((at[:, 0] - 0.5) / 0.8) ** 2)
    >>> float(found.mean[0]), float(found.covariance[0, 0] ** 0.5)
    (0.50, 0.80)
    """
    import numpy as np

    half = np.random.default_rng(_SEED).standard_normal((_POINTS, len(rough.mean)))
    points = np.concatenate([half, -half])
    at = rough.mean + _WIDER * points @ np.linalg.cholesky(rough.covariance).T
    weights = log_density(at) + (points**2).sum(axis=1) / 2
    weights = np.exp(weights - weights.max())
    weights /= weights.sum()
    if 1 / (weights**2).sum() < _POINTS / 10:
        return rough
    mean = weights @ at
    off = at - mean
    return JointNormal(mean, (off * weights[:, None]).T @ off)


_POINTS, _WIDER, _SEED = 2000, 1.2, 20270312


def root(covariance: Array) -> tuple[tuple[float, ...], ...]:
    """Return the lower triangle whose square is a covariance, which may have no spread in some direction."""
    size = len(covariance)
    triangle = [[0.0] * size for _ in range(size)]
    for row in range(size):
        for column in range(row + 1):
            left = float(covariance[row, column]) - _dot(triangle[row], triangle[column], column)
            if row == column:
                triangle[row][row] = max(left, 0.0) ** 0.5
            elif triangle[column][column] > _NO_SPREAD:
                triangle[row][column] = left / triangle[column][column]
    return tuple(tuple(row) for row in triangle)


_NO_SPREAD = 1e-9
"""Of a standard deviation: below it there is nothing but rounding."""


def _dot(one: Sequence[float], other: Sequence[float], most: int) -> float:
    return sum(one[at] * other[at] for at in range(most))
