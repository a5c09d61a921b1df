"""Which packs to buy: the set that costs least, or leaves the least over, of those that are enough."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

MAX_STATES = 200_000
"""Steps of volume that are looked at; beyond, they are made coarser, which no order of that size can tell."""
_EXACT = 10**9
"""Sizes are taken to this part of a millilitre or gram: a US half pint is 236.5882365 ml."""
_NOISE = 10**3
"""What is less than this many such parts comes of rounding: a set, or a weight by its density, has no round size."""
_PLACES = 4
"""Prices are taken to so many decimal places of the shop's money."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A pack that is sold: what it holds in ml, g or pieces, and its price."""

    size: float
    price: float | None = None
    parts: tuple[float, ...] = ()
    """Of a set for a product of several components: what is in it of each. [ml]"""


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many packs of one size, in ml, g or pieces; the price is that of one pack."""

    size: float
    count: int
    price: float | None
    parts: tuple[float, ...] = ()
    component: str | None = None
    """Which component of a product it is, where they are sold apart."""

    @property
    def cost(self) -> float | None:
        """What all of them cost; None where the price is not given."""
        return None if self.price is None else self.price * self.count


def total_cost(purchases: Sequence[Purchase]) -> float | None:
    """Return what purchases cost; None where any price is not given, for a price that lacks is not zero."""
    costs = [purchase.cost for purchase in purchases]
    return None if None in costs else round(math.fsum(cost or 0.0 for cost in costs), _PLACES)


def cheapest_packs(needed: float, offers: Sequence[Offer]) -> tuple[Purchase, ...]:
    """Return the packs that hold at least *needed*, the smaller ones first.

    By price where every pack has one; else by the least left over. What is equal in that goes by the fewest packs, and
    then by the least left over.

    Parameters
    ----------
    needed
        What has to be there. [ml, g or pieces]
    offers
        The packs sold

    Notes
    -----
    Exact: an unbounded knapsack over the amount in steps of the largest unit that measures all sizes, such as 125 ml,
    half a pint or 1 ml. Sizes that one unit measures but for rounding count as such, else two pints and a quart would
    differ by a hair, and the hair decide. Where that would be more than ``MAX_STATES`` steps the unit is made coarser,
    sizes rounded down and the need up, so that it is never too little; what that adds for nothing is left out again.

    Examples
    --------
    >>> [(one.count, one.size) for one in cheapest_packs(773.0, [Offer(750.0), Offer(1000.0)])]
    [(1, 1000.0)]
    """
    if needed <= 0 or not offers:
        return ()
    if needed > MAX_STATES * max(offer.size for offer in offers):
        return (_many(needed, offers),)
    unit = _unit(needed, offers)
    target = max(1, math.ceil(Fraction(needed) * _EXACT / unit - Fraction(1, 10**6)))
    fitting = sorted((offer for offer in offers if _steps(offer, unit)), key=lambda offer: offer.size)
    sizes = [_steps(offer, unit) for offer in fitting]
    priced = all(offer.price is not None for offer in fitting)
    keys = [_key(offer, size, priced=priced) for offer, size in zip(fitting, sizes, strict=True)]
    counts = _needful(_counts(_last_packs(target, sizes, keys), sizes), fitting, needed)
    return tuple(
        Purchase(offer.size, count, offer.price, offer.parts)
        for offer, count in zip(fitting, counts, strict=True)
        if count
    )


def _fine(offer: Offer) -> int:
    """Return what a pack holds in whole parts. [1/_EXACT ml, g or pieces]"""
    return max(1, round(offer.size * _EXACT))


def _steps(offer: Offer, unit: int) -> int:
    """Return how many whole steps a pack holds."""
    return (_fine(offer) + _NOISE) // unit


def _many(needed: float, offers: Sequence[Offer]) -> Purchase:
    """Return so many packs that what the last one leaves over is of no account: all of the best size."""
    priced = all(offer.price is not None for offer in offers)
    best = min(offers, key=lambda offer: (offer.price or 0.0) / offer.size if priced else -offer.size)
    return Purchase(best.size, math.ceil(needed / best.size), best.price, best.parts)


def _unit(needed: float, offers: Sequence[Offer]) -> int:
    """Return the step in which amounts are compared. [1/_EXACT ml, g or pieces]"""
    exact = _common_unit([_fine(offer) for offer in offers])
    coarsest = max(_fine(offer) for offer in offers)
    steps = math.ceil(needed * _EXACT / exact)
    if steps <= MAX_STATES:
        return exact
    return min(coarsest, max(exact, math.ceil(needed * _EXACT / MAX_STATES)))


def _common_unit(sizes: Sequence[int]) -> int:
    """Return the largest unit that measures all sizes but for rounding: Euclid's, with remainders of either sign."""
    unit = sizes[0]
    for size in sizes[1:]:
        larger, smaller = size, unit
        while smaller > _NOISE:
            larger, smaller = smaller, min(larger % smaller, -larger % smaller)
        unit = larger
    measured = all(abs(size - round(size / unit) * unit) <= _NOISE for size in sizes)
    return unit if measured else math.gcd(*sizes)


def _key(offer: Offer, size: int, *, priced: bool) -> int:
    """Return what makes one pack worse than another as a number that can be added up: cost, then packs, then amount."""
    cost = round((offer.price or 0.0) * 10**_PLACES) if priced else size
    return (cost << 64) + (1 << 40) + (size if priced else 0)


def _last_packs(target: int, sizes: Sequence[int], keys: Sequence[int]) -> list[int]:
    """Return for every amount up to the target which pack, by its place, is the last of the best set that holds it."""
    never = max(keys) * (target + 1)
    best = [0] + [never] * target
    last = [-1] * (target + 1)
    for index, (size, key) in enumerate(zip(sizes, keys, strict=True)):
        for amount in range(1, target + 1):
            candidate = best[amount - size if amount > size else 0] + key
            if candidate < best[amount]:
                best[amount] = candidate
                last[amount] = index
    return last


def _counts(last: Sequence[int], sizes: Sequence[int]) -> list[int]:
    counts = [0] * len(sizes)
    amount = len(last) - 1
    while amount > 0:
        counts[last[amount]] += 1
        amount -= sizes[last[amount]]
    return counts


def _needful(counts: Sequence[int], offers: Sequence[Offer], needed: float) -> list[int]:
    """Return the counts without packs that can be left out, the largest first."""
    kept = list(counts)
    spare = sum(offer.size * count for offer, count in zip(offers, kept, strict=True)) - needed
    for index in reversed(range(len(kept))):
        left_out = min(kept[index], max(0, math.floor(spare / offers[index].size + 1e-9)))
        kept[index] -= left_out
        spare -= left_out * offers[index].size
    return kept
