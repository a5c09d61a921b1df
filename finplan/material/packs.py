"""Which packs to buy: the set that costs least, or leaves the least over, of those that are enough."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Pack

FINE_STEP_ML = 1.0
COARSE_STEP_ML = 10.0
COARSE_ABOVE_ML = 100_000.0
"""Above a hundred litres packs are compared in centilitres, which no order of that size can tell apart."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many packs of one size. Volume in ml, price of one pack."""

    size_ml: float
    count: int
    price: float | None


def cheapest_packs(needed_ml: float, packs: Sequence[Pack]) -> tuple[Purchase, ...]:
    """Return the packs that hold at least *needed_ml*.

    By price where every pack has one; else by the least left over, then the fewest packs.

    Parameters
    ----------
    needed_ml
        What has to be there. [ml], not negative
    packs
        The sizes sold

    Notes
    -----
    Exact: unbounded knapsack over the volume in whole steps, the need rounded up and the sizes down.
    """
    if needed_ml <= 0 or not packs:
        return ()
    priced = all(pack.price is not None for pack in packs)
    step_ml = COARSE_STEP_ML if needed_ml > COARSE_ABOVE_ML else FINE_STEP_ML
    sizes = [max(1, math.floor(pack.size_ml / step_ml + 1e-9)) for pack in packs]
    target = math.ceil(needed_ml / step_ml - 1e-9)
    costs = [(pack.price or 0.0) if priced else pack.size_ml for pack in packs]
    divisor = math.gcd(*sizes)
    sizes = [size // divisor for size in sizes]
    target = math.ceil(target / divisor)
    best: list[tuple[float, int]] = [(0.0, 0)] + [(math.inf, 0)] * target
    chosen = [-1] * (target + 1)
    for volume in range(1, target + 1):
        for index, size in enumerate(sizes):
            cost, count = best[max(0, volume - size)]
            # Rounded to compare, so that four quarters tie with a whole and the fewer packs win.
            candidate = (cost + costs[index], count + 1)
            if (round(candidate[0], 3), candidate[1]) < (round(best[volume][0], 3), best[volume][1]):
                best[volume] = candidate
                chosen[volume] = index
    counts = [0] * len(sizes)
    volume = target
    while volume > 0:
        counts[chosen[volume]] += 1
        volume = max(0, volume - sizes[chosen[volume]])
    return tuple(Purchase(pack.size_ml, count, pack.price) for pack, count in zip(packs, counts, strict=True) if count)
