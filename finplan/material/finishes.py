"""Finishes as they are bought: ready in a can, by mass, dry to be dissolved, or in components."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.catalogue import Amount, Finish, Mix, MixComponent, Pack
from finplan.material.market import Market
from finplan.material.need import CoatNeed
from finplan.material.packs import Offer, Purchase, cheapest_packs, price_each
from finplan.material.shelf import OnShelf, on_shelf
from finplan.material.solution import solution_of
from finplan.material.supply import Supply, offers, supplied
from finplan.material.total import total
from finplan.material.use import Use
from finplan.quantity import Range
from finplan.showing import capital


def finish_supply(name: str, coats: Sequence[CoatNeed], market: Market) -> Supply:
    """Return what has to be bought of a finish for all its coats."""
    finish = market.catalogue.finishes[name]
    if finish.mix is not None:
        return _components(name, finish, finish.mix, coats, market)
    per_ml = _per_ml(finish)
    solid = finish.dissolve.solid if finish.dissolve is not None and finish.bought_dry else None
    return supplied(
        name,
        finish.title if solid is None else capital(solid),
        finish.measure,
        uses_of(coats, per_ml),
        offers(_packs(finish, market), finish.measure, finish.density_g_l),
        market,
        shelf=_shelf(name, finish, market),
        keeps_h=_keeps_h(finish),
    )


def uses_of(coats: Sequence[CoatNeed], per_ml: float) -> list[Use]:
    """Return what coats use of something of which each millilitre of the finish takes so much."""
    return [
        Use(
            coat.piece,
            coat.item,
            coat.step.label,
            coat.area_m2,
            tuple(term.scaled(per_ml) for term in coat.finish_terms_ml),
        )
        for coat in coats
    ]


def _per_ml(finish: Finish) -> float:
    """Return how much of what is bought a millilitre of the finish takes, in ml or g."""
    if finish.measure == "ml":
        return 1.0
    if finish.dissolve is not None:
        return solution_of(finish.dissolve).solid_g_ml
    if finish.density_g_l is None:
        msg = "a finish that is measured by mass has a density"
        raise ValueError(msg)
    return finish.density_g_l.typical / 1000


def _keeps_h(finish: Finish) -> Range | None:
    return finish.opened_keeps_h("g") if finish.bought_dry else finish.shelf_life_h


def _packs(finish: Finish, market: Market) -> tuple[Pack, ...]:
    common = market.catalogue.packs[market.units]
    return finish.packs or (common.masses if finish.measure == "g" else common.sizes)


def _shelf(name: str, finish: Finish, market: Market) -> OnShelf:
    """Return what is left of a finish: of one that is dissolved both what is made up, by volume, and what is dry."""
    items = market.of_finish(name)

    def counted(amount: Amount) -> float | None:
        if amount.measure == finish.measure:
            return amount.value
        if finish.dissolve is not None:
            return amount.value * _per_ml(finish) if amount.measure == "ml" else None
        if finish.density_g_l is None:
            return None
        g_ml = finish.density_g_l.typical / 1000
        return amount.value * g_ml if amount.measure == "ml" else amount.value / g_ml

    if finish.dissolve is None:
        return on_shelf(items, counted, finish.shelf_life_h, market.day)
    made_up = [item for item in items if isinstance(item.left, Amount) and item.left.measure == "ml"]
    dry = [item for item in items if item not in made_up]
    made_up_left = on_shelf(made_up, counted, finish.opened_keeps_h("ml"), market.day)
    return OnShelf(made_up_left.items + on_shelf(dry, counted, finish.opened_keeps_h("g"), market.day).items)


def made_up_ml(name: str, market: Market) -> float:
    """Return how much of a finish that is dissolved stands ready and good on the shelf. [ml]"""
    finish = market.catalogue.finishes[name]
    items = [item for item in market.of_finish(name) if isinstance(item.left, Amount) and item.left.measure == "ml"]
    return on_shelf(items, lambda amount: amount.value, finish.opened_keeps_h("ml"), market.day).good


def _components(name: str, finish: Finish, mix: Mix, coats: Sequence[CoatNeed], market: Market) -> Supply:
    """Return what has to be bought of a product of several components, as sets or each by itself."""
    parts = [
        supplied(
            part.name,
            part.name,
            "ml",
            uses_of(coats, share),
            _part_offers(part, mix, market),
            market,
            shelf=on_shelf(
                [item for item in market.of_finish(name) if item.component == part.name],
                lambda amount, part=part: _part_ml(amount, part),  # type: ignore[misc]
                part.shelf_life_h or finish.shelf_life_h,
                market.day,
            ),
            keeps_h=part.shelf_life_h or finish.shelf_life_h,
        )
        for part, share in zip(mix.components, mix.shares, strict=True)
    ]
    whole = supplied(name, finish.title, "ml", uses_of(coats, 1.0), (), market, keeps_h=finish.shelf_life_h)
    shelf = tuple(item for part in parts for item in part.shelf.items)
    terms = [term for use in whole.uses for term in use.terms]
    ready_ml = min(part.shelf.good / share for part, share in zip(parts, mix.shares, strict=True))
    if mix.sold_apart:
        each = _apart(parts, mix)
        got_ml = min((part.shelf.good + part.holds) / share for part, share in zip(parts, mix.shares, strict=True))
        buy = tuple(replace(purchase, component=part.material) for part in parts for purchase in part.buy)
        probability = min(part.enough_probability for part in parts)
    else:
        sets = _sets(finish, mix, market)
        buy = cheapest_packs(whole.at_confidence - ready_ml, sets, market.choice)
        each = price_each(buy, whole.at_confidence, sets, market.choice)
        got_ml = ready_ml + sum(purchase.count * purchase.size for purchase in buy)
        probability = total(terms).probability_below(got_ml)
        parts = [replace(part, buy=(), holds=_held(buy, index)) for index, part in enumerate(parts)]
    return replace(
        whole,
        shelf=OnShelf(shelf, usable=ready_ml),
        buy=buy,
        holds=got_ml - ready_ml,
        enough_probability=probability,
        price_each=each,
        components=tuple(parts),
    )


def _apart(parts: Sequence[Supply], mix: Mix) -> float | None:
    """Return what a millilitre of a mix costs whose components are sold one by one."""
    prices = [part.price_each for part in parts]
    if any(price is None for price in prices):
        return None
    return sum((price or 0.0) * share for price, share in zip(prices, mix.shares, strict=True))


def _held(buy: Sequence[Purchase], index: int) -> float:
    return sum(purchase.count * purchase.parts[index] for purchase in buy)


def _part_ml(amount: Amount, part: MixComponent) -> float | None:
    if amount.measure == "ml":
        return amount.value
    return amount.value * 1000 / part.density_g_l.typical if part.density_g_l is not None else None


def _part_offers(part: MixComponent, mix: Mix, market: Market) -> list[Offer]:
    if not mix.sold_apart:
        return []
    return offers(part.packs or market.catalogue.packs[market.units].sizes, "ml", None)


def _sets(finish: Finish, mix: Mix, market: Market) -> list[Offer]:
    """Return the sets in which components are sold together; what a set gives of the mix is what it is worth.

    Where the sizes are not given, the largest component comes in the common ones, each with what belongs to it.
    """
    shares = mix.shares
    sets: list[Offer] = []
    for pack in finish.packs or market.catalogue.packs[market.units].sizes:
        total_ml = pack.holds.value if finish.packs else pack.holds.value / max(shares)
        parts = tuple(part.value for part in pack.parts) or tuple(total_ml * share for share in shares)
        usable_ml = min(part / share for part, share in zip(parts, shares, strict=True))
        sets.append(Offer(usable_ml, pack.price, parts))
    return sets
