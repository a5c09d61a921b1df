"""What is bought and what stands on the shelf, in words: packs, prices, and what is left of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from finplan.listing import number_of
from finplan.material import ConsumableNeed, Left, MaterialPlan, Purchase, Supply
from finplan.moments import show_year_day
from finplan.quantity import Units
from finplan.reading import Currency
from finplan.showing import plain, show_amount, show_duration, show_pack_of
from finplan.telling.money import show_money

NONE_BOUGHT = "nothing"
_METRIC_SIZE = re.compile(r"\b\d[\d.]*+(?: x \d[\d.]*+)? (?:mm|m²|m)\b")
_US_SIZE = re.compile(r"\d (?:in|ft²?|mil)\b")
"""How sizes stand in titles of the catalogue: ``Brush, 50 mm (2 in)``."""


def short_title(title: str, units: Units = "metric") -> str:
    """Return the name of a material without what stands in brackets behind it; in US units its size as it is there.

    >>> short_title("White spirit (mineral spirits)", "us"), short_title("Disc, 150 mm (6 in), hook and loop", "us")
    ('White spirit', 'Disc, 6 in')
    >>> short_title("Lining paper, sheets of 1 m² (11 ft²)", "us")
    'Lining paper, sheets of 11 ft²'
    """
    name, _, rest = title.partition(" (")
    inside = rest.partition(")")[0]
    metric = _METRIC_SIZE.search(name)
    if units == "us" and metric is not None and _US_SIZE.search(inside):
        return f"{name[: metric.start()]}{inside}"
    return name


def pack_words(supply: Supply, units: Units) -> tuple[str, ...]:
    """Return the packs to buy of a material, each size by itself; of a set its parts, of a component which it is."""
    return tuple(_pack(purchase, supply, units) for purchase in supply.buy) or (NONE_BOUGHT,)


def piece_words(need: ConsumableNeed) -> str:
    """Return the packs to buy of what is bought by the piece, as they are asked for in a shop."""
    return ", ".join(_pieces(purchase) for purchase in need.buy) or NONE_BOUGHT


def price_words(cost: float | None, buy: Sequence[Purchase]) -> str:
    """Return what packs cost; empty where none are bought.

    >>> price_words(12.5, ()), price_words(None, (Purchase(1.0, 2, None),))
    ('', 'not given')
    """
    if not buy:
        return ""
    return "not given" if cost is None else f"{cost:.2f}"


def together_words(costs: Sequence[float | None], currency: Currency | None = None) -> str:
    """Return what several things cost together; empty where none has a price, and told as a part where one lacks.

    >>> together_words([10.0, 2.5]), together_words([10.0, None]), together_words([None])
    ('12.50', '10.00 for what has a price', '')
    """
    known = sum(cost for cost in costs if cost is not None)
    if not known:
        return ""
    return show_money(Decimal(str(known)), currency) + (" for what has a price" if None in costs else "")


def total_words(plan: MaterialPlan, safety: Sequence[ConsumableNeed] | None, currency: Currency | None = None) -> str:
    """Return what everything to buy costs; empty where nothing has a price.

    Parameters
    ----------
    plan
        The materials
    safety
        What is bought for safety; None where that is not known yet, since it follows from the timetable
    currency
        Of the prices; None where none is told
    """
    bought = (*plan.bought, *(need for need in safety or () if need.buy))
    told = together_words([need.cost for need in bought], currency)
    return f"{told}, without what is bought for safety" if told and safety is None else told


def left_over_words(supply: Supply, units: Units) -> str:
    """Return what is left over of a material when all is done."""
    return show_amount(supply.left_over, supply.measure, units)


def keeps_words(supply: Supply) -> str:
    """Return how long that keeps at the least; empty where nothing is left, or nothing is known."""
    return show_duration(supply.keeps_h.low) if supply.keeps_h is not None and supply.left_over else ""


def not_counted(plan: MaterialPlan, units: Units) -> Iterator[str]:
    """Give what stands on the shelf and is too old when it is needed, or not there yet."""
    return (_spoiled(left, supply, units) for supply in plan.supplies for left in supply.shelf.spoiled)


def _pack(purchase: Purchase, supply: Supply, units: Units) -> str:
    if purchase.parts:
        parts = " + ".join(show_pack_of(part, "ml", units) for part in purchase.parts)
        return f"{purchase.count} × ({parts})"
    size = f"{purchase.count} × {show_pack_of(purchase.size, supply.measure, units)}"
    return size if purchase.component is None else f"{size} {purchase.component}"


def _pieces(purchase: Purchase) -> str:
    if purchase.size == 1:
        return f"{purchase.count}"
    return f"{number_of(purchase.count, 'pack')} of {plain(purchase.size)}"


def _spoiled(left: Left, supply: Supply, units: Units) -> str:
    name = supply.title if left.name == supply.material else f"{supply.title}, {left.name}"
    amount = show_amount(left.amount, supply.measure, units)
    opened = "" if left.opened is None else f", opened {show_year_day(left.opened)}"
    until = ", after it is needed" if left.good_until is None else f", good until {show_year_day(left.good_until)}"
    return f"{amount} of {name}{opened}{until}"
