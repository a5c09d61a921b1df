"""What a job costs, in words: for the shop with everything that it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finplan.costing import ChargedWork, Cost, Goods, Quote
from finplan.listing import some
from finplan.material import ConsumableNeed, total
from finplan.quantity import Units
from finplan.reading import Money
from finplan.showing import plain, show_amount, show_clock_time
from finplan.spans import show_range
from finplan.telling.money import NO_PRICE, show_cost, show_estimate, show_money, show_rate
from finplan.telling.packs import NONE_BOUGHT, pack_words, piece_words, short_title
from finplan.telling.tables import ToldTable

_WORK: dict[ChargedWork, str] = {
    "testing": "testing for lead",
    "stripping": "taking the old coating off",
    "repairing": "repairs before sanding",
    "sanding": "sanding",
    "coating": "putting on finish",
    "spraying": "spraying",
    "cleaning": "cleaning up",
    "assembly": "gluing and putting together",
    "packing": "packing and wrapping",
}


@dataclass(frozen=True, slots=True)
class QuoteTold:
    """A quote in words: its tables, and what there is to know of them."""

    tables: tuple[ToldTable, ...]
    notes: tuple[str, ...]
    """Each a sentence."""


def quote_told(quote: Quote, units: Units) -> QuoteTold:
    """Return a quote in words, for the shop."""
    tables = (_hours(quote), _goods(quote, units), _total(quote, units))
    return QuoteTold(tuple(table for table in tables if table.rows), tuple(_notes(quote, units)))


def without_words(quote: Quote, units: Units) -> str:
    """Return what is not in the total since it has no price: empty where everything has one."""
    names = lacking_prices(quote, units)
    return f"without {some(names)}" if names else ""


def lacking_prices(quote: Quote, units: Units) -> list[str]:
    """Return the names of what has no price, each as it stands in a sentence."""
    work = [f"the hours of {_WORK[kind]}" for kind in quote.without_work]
    return list(dict.fromkeys([*work, *(short_title(title, units) for title in quote.without)]))


def under_cost(quote: Quote, price: Money) -> str:
    """Return that a price lies below what a job costs at the least; empty where it does not, or nothing has a price."""
    if quote.net is None or price.amount >= quote.net.low:
        return ""
    asked, least, typical = (
        show_money(price.amount, quote.currency),
        show_estimate(quote.net.low, quote.currency),
        show_estimate(quote.net.typical, quote.currency),
    )
    more = "" if quote.complete else ", though not all of it has a price"
    return f"{asked} lies below what the job costs: {least} at the least, {typical} typically, before tax{more}."


def _hours(quote: Quote) -> ToldTable:
    rows = [
        (
            _WORK[hours.kind],
            show_range(hours.hours, _show_hours),
            "no rate" if hours.rate is None else show_money(hours.rate, quote.currency),
            "" if hours.cost is None else show_cost(hours.cost, quote.currency),
        )
        for hours in quote.hours
    ]
    if quote.machine is not None:
        rows.append(
            ("machines", show_range(quote.machine_h, _show_hours), "", show_cost(quote.machine, quote.currency))
        )
    if quote.soaking_h:
        rows.append(("soaking in beside the next coat", show_clock_time(quote.soaking_h), "", "not charged"))
    if quote.waiting_h is not None:
        rows.append(("waiting and drying", show_clock_time(quote.waiting_h), "", "not charged"))
    together = total(term for hours in quote.hours for term in hours.terms).range
    foot = f"Together {show_range(together, _show_hours)} of work." if quote.hours else ""
    return ToldTable("Hours, as planned", ("work", "hours", "rate", "that is"), tuple(rows), "lrrr", foot)


def _show_hours(hours: float) -> str:
    return f"{plain(hours, 2)} h"


def _goods(quote: Quote, units: Units) -> ToldTable:
    shelf = any(good.off_shelf for good in quote.goods)
    rows = tuple(
        (
            _name(good, units),
            _used(good, units),
            NO_PRICE if good.worth is None else show_cost(good.worth, quote.currency) if good.used.high else "",
            *([_amount(good.off_shelf, good, units) if good.off_shelf else ""] if shelf else []),
            _packs(good, units),
            NO_PRICE if good.bought is None else show_money(good.bought, quote.currency) if good.of.buy else "",
            _left(good, units, quote),
        )
        for good in quote.goods
    )
    heading = ("material", "used", "worth", *(["off the shelf"] if shelf else []), "to buy", "costs", "left afterwards")
    return ToldTable("Materials", heading, rows, "lrrrlrr" if shelf else "lrrlrr")


def _name(goods: Goods, units: Units) -> str:
    grit = goods.of.grit if isinstance(goods.of, ConsumableNeed) else None
    return " ".join(filter(None, [grit, short_title(goods.title, units)]))


def _used(goods: Goods, units: Units) -> str:
    return show_range(goods.used, lambda amount: _amount(amount, goods, units)) if goods.used.high else "it lasts"


def _amount(amount: float, goods: Goods, units: Units) -> str:
    if isinstance(goods.of, ConsumableNeed):
        return plain(amount, 2)
    return show_amount(amount, goods.of.measure, units)


def _packs(goods: Goods, units: Units) -> str:
    if isinstance(goods.of, ConsumableNeed):
        return piece_words(goods.of)
    return ", ".join(pack_words(goods.of, units)) if goods.of.buy else NONE_BOUGHT


def _left(goods: Goods, units: Units, quote: Quote) -> str:
    amount = _amount(goods.left, goods, units)
    if goods.left_worth is None or not goods.left:
        return amount
    return f"{amount} ({show_estimate(goods.left_worth, quote.currency)})"


def _total(quote: Quote, units: Units) -> ToldTable:
    charged = "Materials bought" if quote.charged_bought else "Materials used"
    lines: list[tuple[str, Cost | None]] = [
        ("Work", quote.work),
        ("Machines", quote.machine),
        (charged, quote.materials),
        (f"Markup on materials, {show_rate(quote.markup_pct)}", quote.markup),
    ]
    without = without_words(quote, units)
    if quote.vat is not None:
        lines += [("Together, without tax", quote.net), (f"VAT, {show_rate(quote.vat_pct or 0.0)}", quote.vat)]
    lines.append(("Total without what is named below" if without else "Total", quote.gross))
    rows = tuple(
        (name, *(show_estimate(amount, quote.currency) for amount in (cost.low, cost.typical, cost.high)))
        for name, cost in lines
        if cost is not None
    )
    return ToldTable("What it costs", ("", "low", "typical", "high"), rows, "lrrr")


def _notes(quote: Quote, units: Units) -> Iterator[str]:
    if quote.net is None:
        yield "Nothing has a price yet: say rates: {hour: 55 EUR} and prices: in the shop file."
        return
    without = without_words(quote, units)
    if without:
        yield f"The total is {without}. What has no price is not in it: rates: and prices: in the shop file say it."
    if any(good.of.buy for good in quote.goods):
        more = ", without what has no price" if quote.unpriced_packs else ""
        left = show_estimate(quote.left_worth, quote.currency)
        bought = show_money(quote.to_buy, quote.currency)
        yield f"To buy now: {bought}{more}. Of that {left} is left on the shelf afterwards."
    yield (
        "Low and high: in one case of twenty it comes to less, and in one of twenty to more. They do not add up: each "
        "is of its own line, and seldom is all dear at once."
    )
