"""The page for the customer: what is done, what it costs, when it is ready, how it is kept. No hours and no rates."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from finplan.costing import Cost
from finplan.listing import listed
from finplan.moments import show_long_day
from finplan.planning import Plan, PlannedPiece
from finplan.reading import Currency, Money
from finplan.sheet.care import CareCard, Mind, care_cards
from finplan.sheet.room import PageSize
from finplan.showing import capital
from finplan.telling import (
    offer_words,
    sample_words,
    show_money,
    show_rate,
    system_about,
    system_title,
    treatment_name,
    whole_words,
)
from finplan.typesetting import filled


@dataclass(frozen=True, slots=True)
class OfferRow:
    """What some items of a piece get."""

    items: str
    """Empty where all of the piece gets it."""
    title: str
    about: str
    done: str


@dataclass(frozen=True, slots=True)
class OfferedPiece:
    """One piece: what is done to it, when it is there, and how it is kept."""

    name: str
    customer: str
    rows: tuple[OfferRow, ...]
    more: tuple[str, ...]
    """What is done to all of it beside that, each a sentence."""
    date: str
    care: CareCard


@dataclass(frozen=True, slots=True)
class OfferPage:
    """All of the page."""

    name: str
    shop: str
    """Empty for the default shop, which is nobody's."""
    made: str
    """The day on which it was made."""
    pieces: tuple[OfferedPiece, ...]
    cloths: tuple[Mind, ...]
    """What to do with cloths where a piece is renewed at home with what heats itself."""
    price: tuple[tuple[str, str], ...]
    """Lines of the price, the last of them what is paid."""
    notes: tuple[str, ...]
    """The shop's own."""
    page_size: PageSize


def offer_html(plan: Plan, price: Money | None = None) -> str:
    """Return the page for the customer as HTML.

    Parameters
    ----------
    plan
        The plan
    price
        What is asked, before tax; where nothing is said, what the job typically costs, in whole units of money

    Raises
    ------
    ValueError
        Neither is there.
    """
    return filled("offer", offer=offer_of(plan, price))


def offer_of(plan: Plan, price: Money | None = None) -> OfferPage:
    """Return what is on the page; arguments and errors as for ``offer_html``."""
    quote = plan.quote
    if price is None and quote.net is None:
        msg = "nothing has a price"
        raise ValueError(msg)
    net = price.amount if price is not None else quote.net.typical.quantize(Decimal(1), ROUND_HALF_UP)  # type: ignore[union-attr]
    pieces = [piece for piece in plan.pieces if not piece.sample]
    cards = care_cards(plan)
    return OfferPage(
        name=listed(piece.name for piece in pieces),
        shop=plan.shop.shop if plan.shop_file.document else "",
        made=show_long_day(plan.made_on),
        pieces=tuple(_piece(piece, card, plan) for piece, card in zip(pieces, cards, strict=True)),
        cloths=tuple(dict.fromkeys(mind for card in cards for mind in card.cloths)),
        price=_price(net, quote.vat_pct, (price.currency if price is not None else None) or quote.currency),
        notes=plan.shop.notes.care_card,
        page_size="A4" if plan.paper == "a4" else "Letter",
    )


def _price(net: Decimal, vat_pct: float | None, currency: Currency | None) -> tuple[tuple[str, str], ...]:
    if vat_pct is None:
        return (("Price", show_money(net, currency)),)
    vat = Cost.sure(net).percent(vat_pct).typical
    return (
        ("Price without tax", show_money(net, currency)),
        (f"VAT, {show_rate(vat_pct)}", show_money(vat, currency)),
        ("Price, tax included", show_money(net + vat, currency)),
    )


def _piece(piece: PlannedPiece, card: CareCard, plan: Plan) -> OfferedPiece:
    by_words: dict[tuple[str, str, str], list[str]] = {}
    for treatment in piece.treatments:
        of_system = [treatment], plan.catalogue
        told = (system_title(*of_system), system_about(*of_system), offer_words(treatment, plan))
        by_words.setdefault(told, []).append(treatment_name(treatment, plan))
    rows = [
        OfferRow(
            items=capital(listed(items)) if len(by_words) > 1 else "",
            title=title,
            about=about,
            done=done,
        )
        for (title, about, done), items in by_words.items()
    ]
    return OfferedPiece(
        name=piece.source.piece.name,
        customer=piece.source.piece.customer or "",
        rows=tuple(rows),
        more=tuple(filter(None, (whole_words(piece, plan), sample_words(piece, plan)))),
        date=_date(piece, plan),
        care=card,
    )


def _date(piece: PlannedPiece, plan: Plan) -> str:
    times = plan.times_of(piece.name)
    if times is None:
        return ""
    if times.deliver is not None:
        return f"Delivered on {show_long_day(times.deliver.date())}."
    return f"Ready on {show_long_day(times.ready.date())}, if work begins on {show_long_day(times.start.date())}."
