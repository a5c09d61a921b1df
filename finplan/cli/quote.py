"""What a job costs for a person, and the page for its customer."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

import typer

from finplan.cli.output import refuse_what_does_not_fit, write_page
from finplan.cli.table import NOTE_WIDTH, told_tables
from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.reading import Currency
from finplan.telling import (
    PriceError,
    lacking_prices,
    quote_told,
    read_price,
    refuse_other_currency,
    show_money,
    under_cost,
)

if TYPE_CHECKING:
    from finplan.planning import Plan
    from finplan.reading import Money


def quote_lines(plan: Plan) -> list[str]:
    """Return what a plan costs, for the shop."""
    told = quote_told(plan.quote, plan.units)
    return [*told_tables(told.tables), *(line for note in told.notes for line in wrap(note, NOTE_WIDTH))]


def price_asked(text: str | None) -> Money | None:
    """Return the price that is asked, as it was typed."""
    try:
        return None if text is None else read_price(text)
    except PriceError as error:
        raise typer.BadParameter(str(error), param_hint="--price") from None


def refuse_price(plan: Plan, price: Money | None) -> None:
    """Refuse a price in a currency that is not that of the shop's rates and prices."""
    try:
        if price is not None:
            refuse_other_currency(plan.quote, price)
    except PriceError as error:
        raise typer.BadParameter(str(error), param_hint="--price") from None


def write_offer(plan: Plan, output: Path, press: Press | None, price: Money | None) -> str:
    """Write the page for the customer; return what was written, and whether the price lies below the cost.

    Raises
    ------
    NotPossibleError
        Something that is charged has no price, and none is asked for the whole; or no plan fits.
    """
    from finplan.sheet import offer_html

    refuse_what_does_not_fit(plan, output)
    if price is None and (plan.quote.net is None or not plan.quote.complete):
        lacking = ", ".join(lacking_prices(plan.quote, plan.units))
        example = show_money(Decimal(1450), plan.quote.currency or Currency("EUR"))
        msg = f"{output} was not written: these have no price: {lacking}. Give them one, or say --price '{example}'"
        raise NotPossibleError(msg)
    written = write_page(offer_html(plan, price), output, press)
    low = "" if price is None else under_cost(plan.quote, price)
    return "\n".join([written, *wrap(low, NOTE_WIDTH)])
