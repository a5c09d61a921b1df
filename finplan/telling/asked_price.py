"""A price that is asked for a job, as it was typed: read, and held against the currency of rates and prices."""

from __future__ import annotations

from pydantic_core import PydanticCustomError

from finplan.costing import Quote
from finplan.problems import FinplanError
from finplan.reading import Money, finding_of, read_money
from finplan.telling.money import show_money


class PriceError(FinplanError):
    """A price that cannot be asked; says why."""


def read_price(text: str) -> Money:
    """Return a price as it was typed; raises ``PriceError`` where it is no sum of money."""
    try:
        return read_money(text)
    except PydanticCustomError as error:
        finding = finding_of(error)
        msg = f"{finding.wrong}; {finding.expected}"
        raise PriceError(msg) from None


def refuse_other_currency(quote: Quote, price: Money) -> None:
    """Raise ``PriceError`` where a price is in a currency that is not that of the shop's rates and prices."""
    own, asked = quote.currency, price.currency
    if own is not None and asked is not None and asked.sign != own.sign:
        wrong = f"{show_money(price.amount, asked)} is in another currency than rates and prices"
        msg = f"{wrong}; expected {show_money(price.amount, own)}"
        raise PriceError(msg)
