"""All that a shop has learnt by its record: beside what is known beforehand, and what was not believed."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.inputs import Shop
from finplan.learning import Pace, Rate, SetAside
from finplan.ledger import Ledger, ticks_of
from finplan.record.known import coaters, learnt_of, paces_of


@dataclass(frozen=True, slots=True)
class ShopLearnt:
    """What the notes of a shop come to."""

    rates: tuple[Rate, ...] = ()
    """How thick each finish goes on, by method and person."""
    paces: tuple[Pace, ...] = ()
    """How long work takes by kind and person, and how slowly each finish dries."""
    aside: tuple[SetAside, ...] = ()
    """What was not believed."""


def shop_learnt(ledger: Ledger, catalogue: Catalogue, shop: Shop) -> ShopLearnt:
    """Return what a shop has learnt up to now, by its own catalogue."""
    ticks = ticks_of(ledger)
    _, rates, of_amounts = learnt_of(ticks, catalogue, coaters(shop))
    paces, of_times = paces_of(ticks, catalogue, tuple(person.name for person in shop.people))
    told = tuple(pace for pace in paces if pace.person or not _by_one(pace, paces))
    return ShopLearnt(rates, told, (*of_amounts, *of_times))


def _by_one(common: Pace, paces: tuple[Pace, ...]) -> bool:
    """Return whether all that was noted of some work is of one person, who then has it all in common with himself."""
    of = ((pace.sort, pace.of, pace.said.count) for pace in paces if pace.person)
    return (common.sort, common.of, common.said.count) in of
