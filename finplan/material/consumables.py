"""What is used up beside finishes and solvents: abrasives, cloths, applicators, paper."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Consumable, PiecePack
from finplan.inputs import ShelfItem
from finplan.material.job import Filling, MaterialJob, filling_of
from finplan.material.market import Market
from finplan.material.need import CoatNeed
from finplan.material.packs import Offer, Purchase, cheapest_packs, price_each, total_cost
from finplan.material.quantile import probability_below, quantile
from finplan.material.shelf import OnShelf, on_shelf
from finplan.quantity import NOTHING, Range


@dataclass(frozen=True, slots=True)
class ConsumableNeed:
    """One thing that is bought by the piece."""

    name: str
    """The record of it."""
    title: str
    grit: str | None
    """Of an abrasive."""
    needed: Range
    """Pieces, as they are used up: half a sheet is half a piece."""
    at_confidence: int
    """Whole pieces that are enough with the confidence asked for."""
    shelf: OnShelf
    buy: tuple[Purchase, ...]
    enough_probability: float
    price_each: float | None = None
    """What one piece costs, by the packs to buy, or those that would be; None where a price is not given."""

    @property
    def bought(self) -> float:
        """Pieces in the packs."""
        return sum(purchase.count * purchase.size for purchase in self.buy)

    @property
    def left_over(self) -> float:
        """Pieces that are typically left."""
        return max(0.0, self.shelf.good + self.bought - math.ceil(self.needed.typical - 1e-9))

    @property
    def cost(self) -> float | None:
        """What the packs cost; None where a price is not given."""
        return total_cost(self.buy)


def consumable_needs(
    jobs: Sequence[MaterialJob], coats: Sequence[CoatNeed], market: Market
) -> tuple[ConsumableNeed, ...]:
    """Return everything that is bought by the piece: abrasives by grade, then consumables as the catalogue lists them.

    Notes
    -----
    A consumable is called for by a way of putting on; where it names none, by every coat. Pieces for a square metre and
    for a coat add up; where the hours of wear ask for more, those count. A coat that several items get in one go is one
    coat. Steps beside the coats use what they name. What is worn or used for safety is not among them: who wears it
    when is known with the timetable.
    """
    return (*_abrasives(jobs, market), *_consumables(jobs, coats, market))


def _abrasives(jobs: Sequence[MaterialJob], market: Market) -> Iterator[ConsumableNeed]:
    needs: dict[tuple[str, str], Range] = {}
    for job in jobs:
        for use in job.abrasives:
            key = (use.abrasive, use.grit)
            needs[key] = needs.get(key, NOTHING).plus(use.needed)
    sizes = market.catalogue.grades["p-grade"].sizes_um
    for (name, grit), needed in sorted(needs.items(), key=lambda item: (item[0][0], -sizes.get(item[0][1], 0.0))):
        record = market.catalogue.abrasives[name]
        items = [item for item in market.shelf if item.abrasive == name and item.grit == grit]
        yield bought_by_piece(name, record.title, grit, needed, record.packs, items, market)


def bought_by_piece(
    name: str,
    title: str,
    grit: str | None,
    needed: Range,
    packs: Sequence[PiecePack],
    items: Sequence[ShelfItem],
    market: Market,
) -> ConsumableNeed:
    """Return what is bought by the piece to have as much as is needed, with the confidence of the market."""
    wanted = math.ceil(quantile(needed, market.confidence) - 1e-9)
    shelf = on_shelf(items, lambda _amount: None, None, market.day)
    sold = [Offer(pack.count, pack.price) for pack in packs]
    buy = cheapest_packs(wanted - shelf.good, sold, market.choice)
    there = shelf.good + sum(purchase.count * purchase.size for purchase in buy)
    probability = probability_below(needed, there)
    each = price_each(buy, wanted, sold, market.choice)
    return ConsumableNeed(name, title, grit, needed, wanted, shelf, buy, probability, each)


def _consumables(jobs: Sequence[MaterialJob], coats: Sequence[CoatNeed], market: Market) -> Iterator[ConsumableNeed]:
    catalogue = market.catalogue
    beside: dict[str, Range] = {}
    for work in (work for job in jobs for work in job.extras):
        for name, pieces in work.consumables.items():
            beside[name] = beside.get(name, NOTHING).plus(pieces)
    for_safety = {name for caution in catalogue.cautions.values() for name in caution.uses}
    for name, record in catalogue.consumables.items():
        used = [coat for coat in coats if _serves(record, coat, catalogue)]
        if name not in beside and (name in for_safety or not used):
            continue
        by_coats = () if name in for_safety else used
        needed = _pieces(record, by_coats, Range.total(coat.hours for coat in by_coats))
        needed = needed.plus(beside.get(name, NOTHING))
        if needed.high > 0:
            items = [item for item in market.shelf if item.consumable == name]
            yield bought_by_piece(name, record.title, None, needed, record.packs, items, market)


def _serves(record: Consumable, coat: CoatNeed, catalogue: Catalogue) -> bool:
    watery = catalogue.finishes[coat.finish].drying == "water"
    return (
        not record.beside_coats
        and (not record.methods or coat.step.method in record.methods)
        and record.waterborne in (None, watery)
    )


def _pieces(record: Consumable, used: Sequence[CoatNeed], worn_h: Range) -> Range:
    fillings: dict[Filling, float] = {}
    for coat in used:
        fillings[filling_of(coat.step)] = fillings.get(filling_of(coat.step), 0.0) + coat.area_m2
    by_area = (record.use_per_m2 or NOTHING).scaled(sum(fillings.values()))
    counted = by_area.plus((record.use_per_coat or NOTHING).scaled(len(fillings)))
    if record.life_h is not None and worn_h.high > 0:
        worn = Range(
            worn_h.low / record.life_h.high, worn_h.typical / record.life_h.typical, worn_h.high / record.life_h.low
        )
        counted = counted.greater(worn)
    return counted
