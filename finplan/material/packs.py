"""Which packs to buy: those that cost least, of one size, or of two or three where that saves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, permutations, product

from finplan.catalogue import PackChoice

MOST_PACKS = 1000
"""Of the dearer of two sizes: nobody carries more home."""
_PLACES = 4
"""Prices are taken to so many decimal places of the shop's money."""
_ROUNDING = 1e-9
"""What is less than this part of a pack comes of rounding: a weight by its density has no round size."""

_Set = tuple[int, int, float, tuple[tuple[int, int], ...]]
"""A set of packs as one is better than another: its cost, how many they are, what they hold; and offers with counts."""


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


def price_each(buy: Sequence[Purchase], needed: float, offers: Sequence[Offer], choice: PackChoice) -> float | None:
    """Return what one ml, g or piece costs in the packs to buy; where none are, in those that would be bought.

    Parameters
    ----------
    buy
        What is bought
    needed
        What has to be there, were nothing on the shelf. [ml, g or pieces]
    offers, choice
        The packs sold, and how they are chosen
    """
    packs = buy or cheapest_packs(needed, offers, choice)
    cost, held = total_cost(packs), sum(pack.size * pack.count for pack in packs)
    return None if cost is None or not held else cost / held


def cheapest_packs(needed: float, offers: Sequence[Offer], choice: PackChoice) -> tuple[Purchase, ...]:
    """Return the packs that hold at least *needed*, the smaller ones first.

    Parameters
    ----------
    needed
        What has to be there. [ml, g or pieces]
    offers
        The packs sold
    choice
        How packs are chosen

    Notes
    -----
    By price where every pack has one; else prices are taken to grow with the size by a power. Cans of one size come of
    one batch and pour alike, so that a second size has to save something, and a third much more; a fourth is never
    bought. What costs the same goes by the fewest packs, then by the least left over. Of a size that is dearer by its
    content than the other no more than ``MOST_PACKS`` are taken.

    Examples
    --------
    >>> from finplan.catalogue import bundled_catalogue
    >>> law = bundled_catalogue().pack_choice["common"]
    >>> [(bought.count, bought.size) for bought in cheapest_packs(773.0, [Offer(750.0), Offer(1000.0)], law)]
    [(1, 1000.0)]
    """
    if needed <= 0 or not offers:
        return ()
    costs = _costs(offers, choice)
    best = min(_of_one(index, needed, offers, costs) for index in range(len(offers)))
    limit = best[0] * (1 - choice.second_size_pct / 100)
    for dear, cheap in permutations(range(len(offers)), 2):
        if costs[dear] * offers[cheap].size >= costs[cheap] * offers[dear].size:
            for packs in _of_two(dear, cheap, needed, offers, costs, limit):
                best, limit = min(best, packs) if len(best[3]) > 1 else packs, min(limit, packs[0])
    best = min(_of_three(needed, offers, costs, best[0], choice), default=best)
    return tuple(
        Purchase(offers[index].size, count, offers[index].price, offers[index].parts)
        for index, count in sorted(best[3], key=lambda bought: offers[bought[0]].size)
    )


def _costs(offers: Sequence[Offer], choice: PackChoice) -> list[int]:
    """Return what each pack costs, as a whole number: its price, or what one of its size is taken to cost."""
    if any(offer.price is None for offer in offers):
        return [max(1, round(offer.size**choice.price_exponent * 10**6)) for offer in offers]
    return [max(1, round((offer.price or 0.0) * 10**_PLACES)) for offer in offers]


def _of_one(index: int, needed: float, offers: Sequence[Offer], costs: Sequence[int]) -> _Set:
    """Return as many packs of one size as hold so much."""
    count = math.ceil(needed / offers[index].size - _ROUNDING)
    return count * costs[index], count, count * offers[index].size, ((index, count),)


def _of_two(
    dear: int, cheap: int, needed: float, offers: Sequence[Offer], costs: Sequence[int], limit: float
) -> Iterator[_Set]:
    """Yield sets of two sizes that cost no more than the limit, with ever more of that which is dear by its content."""
    for count in range(1, MOST_PACKS + 1):
        rest = needed - count * offers[dear].size
        cost = count * costs[dear]
        if rest / offers[cheap].size <= _ROUNDING or cost + rest * costs[cheap] / offers[cheap].size > limit:
            return  # with more of the dear one it cannot cost less
        more = _of_one(cheap, rest, offers, costs)
        if cost + more[0] <= limit:
            yield cost + more[0], count + more[1], count * offers[dear].size + more[2], ((dear, count), *more[3])


def _of_three(
    needed: float, offers: Sequence[Offer], costs: Sequence[int], best: int, choice: PackChoice
) -> Iterator[_Set]:
    """Yield sets of three sizes that save as much against the best of one or two as a third has to.

    Putting one pack more of a size in place of all of one that is dearer by its content adds that pack's cost at most.
    So where three sizes save that much, a pack of either of the two that are cheaper by their content costs more than
    the part by which the best of two is dearer: there are few of each.
    """
    limit = best * (1 - choice.third_size_pct / 100)
    dearer = (1 - choice.second_size_pct / 100) / (1 - choice.third_size_pct / 100) - 1
    most = min(MOST_PACKS, int(1 / dearer) - 1) if dearer > 0 else MOST_PACKS
    by_content = sorted(range(len(offers)), key=lambda index: costs[index] / offers[index].size)
    for first, second, third in combinations(by_content, 3):
        affordable = (range(1, 1 + min(most, int(limit // costs[index]))) for index in (first, second))
        for of_first, of_second in product(*affordable):
            rest = needed - of_first * offers[first].size - of_second * offers[second].size
            cost = of_first * costs[first] + of_second * costs[second]
            if cost > limit or rest / offers[third].size <= _ROUNDING:
                continue
            more = _of_one(third, rest, offers, costs)
            if cost + more[0] <= limit:
                held = needed - rest + more[2]
                yield (
                    cost + more[0],
                    of_first + of_second + more[1],
                    held,
                    ((first, of_first), (second, of_second), *more[3]),
                )
