"""Which characters of the maker's words the bundled fonts lack."""

from __future__ import annotations

from collections.abc import Iterator

from finplan.planning import Plan
from finplan.typesetting import lacking


def unprintable(plan: Plan) -> str:
    """Return the characters that print as boxes where the machine has no other font for them, each once, in order.

    Looked at is what makers write: the names of the piece, the customer, parts, assemblies, people and rooms, and the
    shop's notes.
    """
    return lacking("\n".join(_words(plan)))


def _words(plan: Plan) -> Iterator[str]:
    for piece in (planned.source.piece for planned in plan.pieces):
        yield piece.name
        yield piece.customer or ""
        yield from piece.parts
        yield from piece.assemblies
    shop = plan.shop
    yield shop.ring or ""
    yield from (person.name for person in shop.people)
    yield from shop.rooms
    for sentences in (shop.notes.first_page, shop.notes.every_day, shop.notes.care_card):
        yield from sentences
