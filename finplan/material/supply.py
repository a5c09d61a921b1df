"""One thing that is bought by volume or mass: what uses it, what is on the shelf, and which packs are enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Measure, Pack
from finplan.material.cause import CauseKind
from finplan.material.market import Market
from finplan.material.packs import Offer, Purchase, cheapest_packs, price_each, total_cost
from finplan.material.shelf import NOTHING, OnShelf
from finplan.material.surer import Surer, surest
from finplan.material.total import shares, total
from finplan.material.use import Use
from finplan.quantity import Range


@dataclass(frozen=True, slots=True)
class Supply:
    """One thing that is bought. Amounts in its measure."""

    material: str
    """The record of it: a finish, or a solvent; of a thinner that belongs to a finish, its name and ``-thinner``."""
    title: str
    measure: Measure
    uses: tuple[Use, ...]
    needed: Range
    at_confidence: float
    """What is enough with the confidence asked for."""
    shelf: OnShelf
    buy: tuple[Purchase, ...]
    holds: float
    """What the packs give; of a product of several components, of the mix."""
    enough_probability: float
    """That packs and shelf together are enough."""
    keeps_h: Range | None
    """How long it keeps once it is open."""
    shares: tuple[tuple[CauseKind, float], ...] = ()
    """What makes it uncertain, and how large a part of the spread that is; nothing where it is certain."""
    surer: Surer | None = None
    """The one thing that would make it surer; None where nothing would by much."""
    weighed_coats: int = 0
    """On how many weighed coats of this shop it rests, beside the catalogue."""
    price_each: float | None = None
    """What one ml or g of it costs, by the packs to buy, or those that would be; None where a price is not given."""
    components: tuple[Supply, ...] = ()
    """Of a product of several components: each of them."""

    @property
    def left_over(self) -> float:
        """What is typically left, on the shelf or in the packs."""
        return max(0.0, self.shelf.good + self.holds - self.needed.typical)

    @property
    def cost(self) -> float | None:
        """What the packs cost; None where a price is not given."""
        return total_cost(self.buy)


def offers(packs: Sequence[Pack], measure: Measure, density_g_l: Range | None) -> list[Offer]:
    """Return packs by what they hold in a *measure*; those sold in the other one by the density, or not at all."""
    sized: list[Offer] = []
    for pack in packs:
        held = pack.holds
        if held.measure == measure:
            sized.append(Offer(held.value, pack.price))
        elif density_g_l is not None:
            g_ml = density_g_l.typical / 1000
            sized.append(Offer(held.value * g_ml if measure == "g" else held.value / g_ml, pack.price))
    return sized


def supplied(
    material: str,
    title: str,
    measure: Measure,
    uses: Sequence[Use],
    sold: Sequence[Offer],
    market: Market,
    *,
    shelf: OnShelf = NOTHING,
    keeps_h: Range | None = None,
) -> Supply:
    """Return what has to be bought of one thing that comes in single packs.

    Parameters
    ----------
    material, title, measure
        What it is
    uses
        What uses it, each with what makes it uncertain
    sold
        The packs
    market
        How sure it is to be enough, and how packs are chosen
    shelf
        What is there already
    keeps_h
        How long it keeps once it is open. [h]
    """
    terms = [term for use in uses for term in use.terms]
    needed = total(terms)
    wanted = needed.at(market.confidence)
    buy = cheapest_packs(wanted - shelf.good, sold, market.choice)
    holds = sum(purchase.count * purchase.size for purchase in buy)
    return Supply(
        material=material,
        title=title,
        measure=measure,
        uses=tuple(uses),
        needed=needed.range,
        at_confidence=wanted,
        shelf=shelf,
        buy=buy,
        holds=holds,
        enough_probability=needed.probability_below(shelf.good + holds),
        keeps_h=keeps_h,
        shares=tuple(shares(terms).items()),
        surer=surest(uses, wanted, market.confidence, market.choice.surer_pct),
        price_each=price_each(buy, wanted, sold, market.choice),
    )
