"""What a job costs, for other programs."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from finplan.costing import ChargedWork, Cost, Goods, KindHours
from finplan.data.row import NotNegative, row, row_of
from finplan.material import ConsumableNeed
from finplan.planning import Plan
from finplan.quantity import Range


@row
class HoursRow:
    """Hours of one kind of work."""

    kind: ChargedWork
    """Which."""
    hours: Range
    """As planned, with the spread of the work. [h]"""
    rate: NotNegative | None
    """What an hour is reckoned at; null where no rate is given."""
    cost: Range | None
    """What they come to; null where no rate is given."""


@row
class QuotedMaterialRow:
    """Material in a quote.

    Amounts in ml or g, or in pieces, by `measure`.
    """

    material: str
    """Its name in the catalogue."""
    title: str
    """In words."""
    grit: str | None
    """Of an abrasive."""
    measure: Literal["ml", "g", "pieces"]
    """In which its amounts are."""
    used: Range
    """What is used up; of what is used in part, that part."""
    off_shelf: NotNegative
    """What of that typically comes off the shelf."""
    left: NotNegative
    """What typically stands on the shelf afterwards."""
    worth: Range | None
    """What is used up is worth; null where no price is given."""
    bought: NotNegative | None
    """What the packs to buy cost; null where a price is not given."""
    left_worth: NotNegative | None
    """What is left is worth; null where no price is given."""


@row
class QuoteRow:
    """Quote.

    What a job costs. Money is to the cent, in the currency of the shop's rates and prices.
    """

    format: Literal["finplan-quote/1"]
    """Says what this is."""
    pieces: tuple[str, ...]
    """What they are called."""
    currency: str | None
    """As it is written; null where none is."""
    hours: tuple[HoursRow, ...]
    """By kind of work."""
    machine_h: Range
    """How long machines sand and guns spray. [h]"""
    machine: Range | None
    """What that comes to; null where the shop names no rate for it."""
    waiting_h: NotNegative | None
    """How long nobody works from the beginning until all is ready, which is not charged; null without a plan. [h]"""
    soaking_h: NotNegative
    """How long coats soak in before they are wiped off while the next is put on, which is not charged. [h]"""
    goods: tuple[QuotedMaterialRow, ...]
    """The materials."""
    charged: Literal["used", "bought"]
    """What of them is charged."""
    work: Range | None
    """What the hours come to of which a rate is known; null where none is."""
    materials: Range | None
    """What is charged of the materials that have a price; null where none has one."""
    markup_pct: NotNegative
    """What is put on that. [%]"""
    markup: Range | None
    """What that comes to; null where nothing is put on it."""
    net: Range | None
    """All that has a price together, before tax; null where nothing has one."""
    vat_pct: NotNegative | None
    """The tax on it; null where the shop names none. [%]"""
    vat: Range | None
    """What that comes to."""
    gross: Range | None
    """Both together; as net where no tax is named."""
    without_work: tuple[ChargedWork, ...]
    """Kinds of work that are not in the total, since no rate of them is known."""
    without: tuple[str, ...]
    """Materials that are not in the total, since no price of them is known."""
    to_buy: NotNegative
    """What the packs to buy cost that have a price."""
    unpriced_packs: tuple[str, ...]
    """What has to be bought and has no price."""


def quote_data(plan: Plan) -> QuoteRow:
    """Return what a plan costs."""
    quote = plan.quote
    ranges = {
        name: _range(getattr(quote, name)) for name in ("machine", "work", "materials", "markup", "net", "vat", "gross")
    }
    return row_of(
        QuoteRow,
        quote,
        format="finplan-quote/1",
        pieces=tuple(piece.name for piece in plan.pieces),
        currency=None if quote.currency is None else quote.currency.sign,
        hours=tuple(_hours(hours) for hours in quote.hours),
        goods=tuple(_goods(good) for good in quote.goods),
        charged="bought" if quote.charged_bought else "used",
        to_buy=float(quote.to_buy),
        **ranges,
    )


def _range(cost: Cost | None) -> Range | None:
    return None if cost is None else cost.range


def _hours(hours: KindHours) -> HoursRow:
    return HoursRow(kind=hours.kind, hours=hours.hours, rate=_number(hours.rate), cost=_range(hours.cost))


def _goods(goods: Goods) -> QuotedMaterialRow:
    pieces = isinstance(goods.of, ConsumableNeed)
    return row_of(
        QuotedMaterialRow,
        goods,
        material=goods.of.name if isinstance(goods.of, ConsumableNeed) else goods.of.material,
        grit=goods.of.grit if isinstance(goods.of, ConsumableNeed) else None,
        measure="pieces" if pieces else goods.of.measure,  # type: ignore[union-attr]
        worth=_range(goods.worth),
        bought=_number(goods.bought),
        left_worth=_number(goods.left_worth),
    )


def _number(amount: Decimal | None) -> float | None:
    return None if amount is None else float(amount)
