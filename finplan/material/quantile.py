"""A positive quantity known by its 5th, 50th and 95th percentile: the two-piece lognormal through them."""

from __future__ import annotations

from math import exp, floor, log
from statistics import NormalDist

from finplan.quantity import Range

_NORMAL = NormalDist()
_Z95 = _NORMAL.inv_cdf(0.95)


def quantile(known: Range, probability: float) -> float:
    """Return the value that the quantity stays below with this probability.

    Parameters
    ----------
    known
        5th, 50th and 95th percentile; all above zero
    probability
        0 to 1, ends excluded

    Notes
    -----
    Below the median the logarithm is normal with the spread of low to typical, above it with that of typical to high.

    Examples
    --------
    >>> quantile(Range(80.0, 100.0, 150.0), 0.95), quantile(Range(80.0, 100.0, 150.0), 0.9)
    (150.0, 137.15)
    """
    z = _NORMAL.inv_cdf(probability)
    side = known.high if z > 0 else known.low
    return exp(log(known.typical) + log(side / known.typical) * abs(z) / _Z95)


def probability_below(parts: tuple[Range, ...], limit: float) -> float:
    """Return the probability that quantities that rise and fall together sum to at most *limit*.

    Their quantiles add, so the probability is that at which the sum of the quantiles is the limit; found by halving.
    """
    low, high = 1e-6, 1 - 1e-6
    if not parts or sum(quantile(part, high) for part in parts) <= limit:
        return 1.0 if not parts else high
    if sum(quantile(part, low) for part in parts) > limit:
        return 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if sum(quantile(part, middle) for part in parts) <= limit:
            low = middle
        else:
            high = middle
    return low


def sure_percent(probability: float) -> int:
    """Return a probability as it is told to a person: whole percent, rounded down, and nothing surer than 99. [%]

    >>> sure_percent(0.959), sure_percent(0.29), sure_percent(1.0)
    (95, 29, 99)
    """
    # Rounded first, so that 0.29, which is held as a little less, does not fall to 28.
    return min(99, floor(round(probability * 100, 6)))
