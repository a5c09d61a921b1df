"""A quantity known by its 5th, 50th and 95th percentile: the two-piece lognormal through them."""

from __future__ import annotations

from collections.abc import Iterable
from math import exp, floor, log
from statistics import NormalDist

from finplan.quantity import Range

_NORMAL = NormalDist()
_Z95 = _NORMAL.inv_cdf(0.95)
_LARGEST = 600.0
"""The logarithm of more than anything is: no nonsense in a file may be too large for a number."""
_FAR = 8.0
"""Standard deviations beyond which nothing is looked for: once in 10^15."""


def quantile(known: Range, probability: float) -> float:
    """Return the value that the quantity stays below with this probability.

    Parameters
    ----------
    known
        5th, 50th and 95th percentile, none below zero
    probability
        0 to 1, ends excluded

    Notes
    -----
    Below the median the logarithm is normal with the spread of low to typical, above it with that of typical to high.
    A side that reaches zero has no logarithm; there the quantity itself is normal, and cut off at zero.

    Examples
    --------
    >>> quantile(Range(80.0, 100.0, 150.0), 0.95), quantile(Range(80.0, 100.0, 150.0), 0.9)
    (150.0, 137.15)
    """
    return _at(known, _NORMAL.inv_cdf(probability))


def deviations_of(probability: float) -> float:
    """Return how many standard deviations off the middle a quantity stays below with a probability."""
    return _NORMAL.inv_cdf(probability)


def values_at(known: Range, deviations: Iterable[float]) -> list[float]:
    """Return the values of a quantity that lie so many standard deviations off its middle.

    >>> values_at(Range(80.0, 100.0, 150.0), [deviations_of(0.95), deviations_of(0.9)])
    [150.0, 137.15]
    """
    middle = known.typical
    low, high = (None if middle <= 0 or side <= 0 else log(side) - log(middle) for side in (known.low, known.high))
    values = []
    for deviation in deviations:
        share, spread = abs(deviation) / _Z95, high if deviation > 0 else low
        if spread is None:
            side = known.high if deviation > 0 else known.low
            values.append(max(0.0, middle + (side - middle) * share))
        else:
            values.append(middle * exp(min(_LARGEST, spread * share)))
    return values


def _at(known: Range, deviations: float) -> float:
    (value,) = values_at(known, [deviations])
    return value


def probability_below(known: Range, limit: float) -> float:
    """Return the probability that the quantity is at most *limit*; found by halving.

    >>> probability_below(Range(80.0, 100.0, 150.0), 150.0)
    0.95
    """
    low, high = -_FAR, _FAR
    if _at(known, high) <= limit:
        return 1.0
    if _at(known, low) > limit:
        return 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if _at(known, middle) <= limit:
            low = middle
        else:
            high = middle
    return _NORMAL.cdf(low)


def sure_percent(probability: float) -> int:
    """Return a probability as it is told to a person: whole percent, rounded down, and nothing surer than 99. [%]

    >>> sure_percent(0.959), sure_percent(0.29), sure_percent(1.0)
    (95, 29, 99)
    """
    # Rounded first, so that 0.29, which is held as a little less, does not fall to 28.
    return min(99, floor(round(probability * 100, 6)))
