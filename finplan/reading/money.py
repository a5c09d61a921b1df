"""Sums of money as people write them: to the cent, in a currency as it is written."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Annotated

from finplan.problems import shown
from finplan.reading.failing import fail
from finplan.reading.fields import Form
from finplan.reading.reads import Reads

MAX_MONEY = Decimal(1_000_000)
"""Of one price, and of one hour."""
CENT = Decimal("0.01")
_SIGN = r"[^\W\d_]{1,4}+|[^\w\s.,;:/+*%()\[\]{}'\"-]"
_WRITTEN = re.compile(rf"(?P<before>{_SIGN})?+\s*+(?P<amount>\d++(?:\.\d++)?+)\s*+(?P<after>{_SIGN})?+")
_PER_HOUR = re.compile(r"\s*+(?:/\s*+|per\s++|an\s++)(?:h|hour)\Z")
_LONGEST = 40


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency as it is written: its sign, and whether that stands before the number."""

    sign: str
    before: bool = False


@dataclass(frozen=True, slots=True)
class Money:
    """A sum of money, to the cent; the currency is None where none is written."""

    amount: Decimal
    currency: Currency | None = None


def to_cents(amount: Decimal) -> Decimal:
    """Return an amount to the cent, half a cent upwards, as tradesmen round.

    >>> to_cents(Decimal("12.345")), to_cents(Decimal("-0.5"))
    (Decimal('12.35'), Decimal('-0.50'))
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def read_money(value: object, *, per_hour: bool = False) -> Money:
    """Return what a person wrote as a sum of money.

    Parameters
    ----------
    value
        ``61.50 EUR``, ``£ 42``, or a plain number
    per_hour
        Whether ``/ h`` may stand behind it

    Raises
    ------
    PydanticCustomError
        By way of ``fail``: it is none, is not above zero, is finer than a cent, or above ``MAX_MONEY``.

    Examples
    --------
    >>> read_money("61.50 EUR").amount, read_money("£42").currency
    (Decimal('61.50'), Currency(sign='£', before=True))
    """
    expected = f"expected an amount above zero, such as {'55 EUR / h' if per_hour else '61.50 EUR'}"
    if isinstance(value, Money):
        return value
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        fail(f"{shown(value)} is not a sum of money", expected)
    text = str(getattr(value, "written", value)).strip()
    if per_hour:
        text = _PER_HOUR.sub("", text)
    match = _WRITTEN.fullmatch(text) if len(text) <= _LONGEST else None
    signs = [] if match is None else [sign for sign in (match["before"], match["after"]) if sign]
    if match is None or len(signs) > 1 or not all(_is_sign(sign) for sign in signs):
        fail(f"{shown(value)} is not a sum of money", expected)
    amount = Decimal(match["amount"])
    if amount != to_cents(amount):
        fail(f"{shown(value)} is finer than a cent", expected)
    if amount <= 0:
        fail(f"{shown(value)} is nothing", expected)
    if amount > MAX_MONEY:
        fail(f"{shown(value)} is too large", f"{expected}, at most {MAX_MONEY:,}")
    return Money(amount, Currency(signs[0], before=match["before"] is not None) if signs else None)


def _is_sign(sign: str) -> bool:
    return sign.isalpha() or unicodedata.category(sign) == "Sc"


def _per_hour(value: object) -> Money:
    return read_money(value, per_hour=True)


MoneyPerHour = Annotated[Money, Reads(_per_hour), Form("an amount of money an hour: 55 EUR")]
