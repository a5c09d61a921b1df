"""Money in words: to the cent where it is a price, in whole units where it is an estimate."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from finplan.costing import Cost
from finplan.reading import Currency, to_cents
from finplan.spans import show_span

NO_PRICE = "no price"
_WHOLE_FROM = 20
"""From so many units of money on an estimate is told in whole ones."""


def show_money(amount: Decimal, currency: Currency | None = None) -> str:
    """Return a sum to the cent.

    >>> show_money(Decimal("61.5"), Currency("EUR")), show_money(Decimal(42), Currency("£", before=True))
    ('61.50 EUR', '£42.00')
    """
    return _with_sign(f"{to_cents(amount):.2f}", currency)


def show_rate(percentage: float) -> str:
    """Return a rate that is charged, as it was given: rounded it would not come to the sum beside it.

    >>> show_rate(8.875), show_rate(19.0)
    ('8.875 %', '19 %')
    """
    return f"{percentage:.6g} %"


def show_estimate(amount: Decimal, currency: Currency | None = None) -> str:
    """Return a sum that is reckoned: in whole units, a small one to the cent.

    >>> show_estimate(Decimal("1236.49"), Currency("EUR")), show_estimate(Decimal("7.255")), show_estimate(Decimal(0))
    ('1236 EUR', '7.26', '0')
    """
    if amount == 0:
        return _with_sign("0", currency)
    if amount < _WHOLE_FROM:
        return show_money(amount, currency)
    return _with_sign(str(amount.quantize(Decimal(1), ROUND_HALF_UP)), currency)


def show_cost(cost: Cost, currency: Currency | None = None) -> str:
    """Return what is typical, with its spread behind.

    >>> show_cost(Cost(Decimal(90), Decimal(120), Decimal(170)), Currency("EUR"))
    '120 EUR (90–170 EUR)'
    """
    low, typical, high = (show_estimate(amount, currency) for amount in (cost.low, cost.typical, cost.high))
    return typical if low == high else f"{typical} ({show_span(low, high)})"


def _with_sign(number: str, currency: Currency | None) -> str:
    if currency is None:
        return number
    if not currency.before:
        return f"{number} {currency.sign}"
    return f"{currency.sign} {number}" if currency.sign.isalpha() else f"{currency.sign}{number}"
