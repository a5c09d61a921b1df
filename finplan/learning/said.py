"""What was learnt, as it is told: what was known before, what the observations say, and what is known now."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, sqrt
from statistics import NormalDist
from typing import Literal

from finplan.quantity import Range

_Z95 = NormalDist().inv_cdf(0.95)


@dataclass(frozen=True, slots=True)
class Said:
    """How far something is from the catalogue: a factor, by its 5th, 50th and 95th percentile."""

    prior: Range
    data: float
    """What the observations say by themselves: the middle one."""
    posterior: Range
    count: int
    """How many observations count: coats that were weighed or found dry, or work that was timed."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """An observation that is not believed."""

    told: str
    """As it is named to people."""
    sort: Literal["amount", "minutes", "drying"]
    of: str
    """What it was of: a finish, or a kind of work."""
    times: float
    """What was observed, in times what all the others say."""


@dataclass(frozen=True, slots=True)
class Rate:
    """How thick one finish goes on in one way by one person: how much is used in times what the catalogue says."""

    finish: str
    method: str
    person: str
    """Empty where nobody says who."""
    bare: bool
    """Whether on bare wood or over another coat."""
    said: Said


def factor_range(log_mean: float, log_variance: float) -> Range:
    """Return a factor whose logarithm is normal, by its 5th, 50th and 95th percentile.

    >>> factor_range(0.0, 0.01)
    Range(low=0.848, typical=1.0, high=1.179)
    """
    wide = _Z95 * sqrt(max(0.0, log_variance))
    return Range(exp(log_mean - wide), exp(log_mean), exp(log_mean + wide))
