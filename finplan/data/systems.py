"""The systems side by side."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Literal

from finplan.data.row import CountFromOne, NotNegative, WholeNumber, row, row_of
from finplan.planning import Candidate, Verdict
from finplan.quantity import Range
from finplan.telling import lacking_prices, system_risks, why_not_words


@row
class RatingsRow:
    """Ratings.

    From 1, poor, to 5, excellent.
    """

    water: CountFromOne
    """Resistance to water."""
    heat: CountFromOne
    """Resistance to heat."""
    wear: CountFromOne
    """Resistance to wear."""
    repair: CountFromOne
    """How easily it is mended."""


@row
class SystemRow:
    """System."""

    system: str
    """Its name in the catalogue."""
    title: str
    """In words."""
    sheen: str
    """How it shines."""
    use: str
    """What it is for."""
    verdict: Verdict
    """Whether it does."""
    why: str | None
    """Where it does not: the reason, and what would help."""
    coats: WholeNumber | None
    """How many coats."""
    ready: datetime | None
    """When it would be ready for light use if work began at once."""
    days: NotNegative | None
    """From the first work to that. [d]"""
    work_h: Range | None
    """How long somebody works. [h]"""
    volume_ml: Range | None
    """What goes on. [ml]"""
    voc_g: NotNegative | None
    """Organic vapour that leaves the finishes and their thinner. [g]"""
    cost: NotNegative | None
    """Of the packs to buy; null where a price is not given."""
    labour: NotNegative | None
    """Of the typical work that is charged, by the shop's price of an hour; null where it names none."""
    price: Range | None
    """Of all hours and of what is used of the materials, before tax, what is bought for safety left out, and what
    `without` names; null where nothing has a price."""
    without: tuple[str, ...]
    """What is not in it, since no rate or price of it is known."""
    ratings: RatingsRow
    """What the customer gets."""
    cautions: tuple[str, ...]
    """The codes of its cautions."""
    risks: tuple[str, ...]
    """What may go wrong with it on these timbers, and what helps."""


@row
class SystemsRow:
    """Systems."""

    format: Literal["finplan-systems/1"]
    """Says what this is."""
    piece: str
    """The piece that they are tried on."""
    systems: tuple[SystemRow, ...]
    """One after the other, as the catalogue lists them."""


def systems_data(piece: str, candidates: Iterable[Candidate]) -> SystemsRow:
    """Return every system tried on a piece; times in h, volumes in ml, vapour in g, ratings 1 to 5."""
    return SystemsRow(format="finplan-systems/1", piece=piece, systems=tuple(map(_system, candidates)))


def _system(candidate: Candidate) -> SystemRow:
    cautions = tuple(line.code for line in candidate.cautions)
    net = None if candidate.quote is None else candidate.quote.net
    return row_of(
        SystemRow,
        candidate,
        why=why_not_words(candidate),
        price=None if net is None else net.range,
        without=() if candidate.quote is None or net is None else tuple(lacking_prices(candidate.quote, "metric")),
        ratings=row_of(RatingsRow, candidate.ratings),
        cautions=cautions,
        risks=system_risks(candidate),
    )
