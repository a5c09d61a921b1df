"""What uncertain amounts sum to: its distribution by three moments, and which cause has how large a share in it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from math import exp, expm1, fsum, inf, log, sqrt
from statistics import NormalDist

from finplan.material.cause import KINDS, Cause, CauseKind, Term
from finplan.quantity import Range

_NORMAL = NormalDist()
_CERTAIN = 1e-6
"""A coefficient of variation that is no spread."""
_NARROW = 1e-3
"""Below this the third moment drowns in rounding; such a sum is nearly one lognormal, whose skewness is used."""

_Loads = Mapping[tuple[CauseKind, tuple[str, ...]], float]
"""The deviations of a term, by the key of their cause."""


@dataclass(frozen=True, slots=True)
class Total:
    """A sum of uncertain amounts: a lognormal that begins at *shift*."""

    typical: float
    """Every term as it typically is."""
    shift: float
    log_mean: float
    log_sd: float
    """Zero of what is certain."""

    def at(self, probability: float) -> float:
        """Return what is enough with this probability."""
        return max(0.0, self.shift + exp(self.log_mean + self.log_sd * _NORMAL.inv_cdf(probability)))

    def probability_below(self, limit: float) -> float:
        """Return the probability that no more than *limit* is used."""
        over = limit - self.shift
        if self.log_sd == 0:
            return 1.0 if limit >= self.at(0.5) * (1 - 1e-12) else 0.0
        return _NORMAL.cdf((log(over) - self.log_mean) / self.log_sd) if over > 0 else 0.0

    @property
    def range(self) -> Range:
        """5th percentile, what is typical, and 95th percentile."""
        return Range(min(self.at(0.05), self.typical), self.typical, max(self.at(0.95), self.typical))


def total(terms: Iterable[Term]) -> Total:
    """Return what terms sum to.

    Parameters
    ----------
    terms
        The amounts. Causes with one key act on all their terms at once, others independently

    Notes
    -----
    A lognormal with a shift that has the mean, the variance and the skewness of the sum: the method of Fenton and
    Wilkinson with one moment more, and with the covariances that shared causes bring. Against ten million draws of
    whole orders it is within 0.4 percentage points from 5 to 99 %.
    """
    summed = list(terms)
    typical = fsum(term.typical for term in summed)
    if typical <= 0:
        return Total(0.0, 0.0, -inf, 0.0)
    # In shares of the typical amount, so that no power of it is out of reach of a number.
    mean, second, third = _moments([term.scaled(1 / typical) for term in summed])
    variance = second - mean**2
    if variance <= (_CERTAIN * mean) ** 2:
        return Total(typical, 0.0, log(mean * typical), 0.0)
    variation = sqrt(variance) / mean
    skewness = (third - 3 * mean * second + 2 * mean**3) / variance**1.5 if variation > _NARROW else 3 * variation
    # The skewness of a lognormal is y³ + 3y with y² = exp(s²) - 1: Cardano's formula gives y.
    half = max(skewness, _NARROW) / 2
    root = sqrt(1 + half**2)
    y = (root + half) ** (1 / 3) - (root - half) ** (1 / 3)
    growth = 1 + y**2
    scale = sqrt(variance / (growth * y**2))
    shift = mean - scale * sqrt(growth)
    return Total(typical, shift * typical, log(scale * typical), sqrt(log(growth)))


def shares(terms: Iterable[Term]) -> dict[CauseKind, float]:
    """Return which part of the spread each kind of cause brings, all together 1; nothing where all is certain.

    Notes
    -----
    Of the variance to first order: a cause moves the sum by ``Σ typical · deviation`` of the terms that it acts on.
    """
    moved: dict[tuple[CauseKind, tuple[str, ...]], float] = defaultdict(float)
    for term in terms:
        for cause in term.causes:
            moved[cause.key] += term.typical * cause.log_sd
    whole = fsum(by**2 for by in moved.values())
    if not whole:
        return {}
    return {kind: fsum(by**2 for (of, _), by in moved.items() if of == kind) / whole for kind in KINDS}


def _moments(terms: list[Term]) -> tuple[float, float, float]:
    """Return the mean of the sum, of its square and of its cube.

    Notes
    -----
    The mean of a product of terms is the product of their means, times ``exp(s · s')`` for every cause that two of them
    share. Products and hands are common to a whole order, wood and coats to one item: terms with the same common
    deviations count as a group, and only within an item is term held against term. That keeps an order of twenty pieces
    as quick as one.
    """
    groups: dict[tuple[tuple[object, float], ...], int] = {}
    commons: list[_Loads] = []
    items: dict[tuple[str, ...], list[tuple[float, int, _Loads]]] = defaultdict(list)
    for causes, mean in _alike(terms).items():
        common = {cause.key: cause.log_sd for cause in causes if cause.kind in ("product", "hand")}
        local = {cause.key: cause.log_sd for cause in causes if cause.kind in ("wood", "coat")}
        group = groups.setdefault(tuple(sorted(common.items())), len(groups))
        if group == len(commons):
            commons.append(common)
        items[next((key[1][:2] for key in local), ())].append((mean, group, local))

    count = range(len(commons))
    alone = [0.0] * len(commons)
    pairs: dict[tuple[int, int], float] = defaultdict(float)
    triples: dict[tuple[int, int, int], float] = defaultdict(float)
    for held in items.values():
        more = [[expm1(_shared(one[2], other[2])) for other in held] for one in held]
        for (a, g, _), of_a in zip(held, more, strict=True):
            alone[g] += a
            for (b, h, _), of_b, ab in zip(held, more, of_a, strict=True):
                both = a * b
                pairs[g, h] += both * ab
                for (c, n, _), ac, bc in zip(held, of_a, of_b, strict=True):
                    triples[g, h, n] += both * c * (ab * ac + ab * bc + ac * bc + ab * ac * bc)
    raised = [[exp(_shared(commons[g], commons[h])) for h in count] for g in count]
    second = fsum(raised[g][h] * (alone[g] * alone[h] + pairs[g, h]) for g, h in product(count, repeat=2))
    third = fsum(
        raised[g][h]
        * raised[h][n]
        * raised[g][n]
        * (
            alone[g] * alone[h] * alone[n]
            + alone[g] * pairs[h, n]
            + alone[h] * pairs[g, n]
            + alone[n] * pairs[g, h]
            + triples[g, h, n]
        )
        for g, h, n in product(count, repeat=3)
    )
    return fsum(alone), second, third


def _alike(terms: Iterable[Term]) -> dict[tuple[Cause, ...], float]:
    """Return the means of terms, those with the same causes together."""
    means: dict[tuple[Cause, ...], float] = defaultdict(float)
    for term in terms:
        means[term.causes] += term.mean
    return means


def _shared(one: _Loads, other: _Loads) -> float:
    """Return the covariance of the logarithms of two terms."""
    return sum(log_sd * other[key] for key, log_sd in one.items() if key in other)
