"""A shop file that is given where a piece file belongs, and the other way about."""

from __future__ import annotations

from finplan.problems import Finding, RefusedError
from finplan.reading import Document

_OF_PIECE = frozenset({"piece", "parts", "assemblies", "joints"})
_OF_SHOP = frozenset({"shop", "people", "rooms", "rack", "climate"})


def refuse_shop(document: Document) -> None:
    """Refuse what stands where a piece file belongs and holds nothing of one, but of a shop.

    Raises
    ------
    RefusedError
        With that one problem: what else is wrong with it as a piece file helps nobody.
    """
    field = _field_of(document, _OF_SHOP, _OF_PIECE)
    if field is not None:
        expected = "name the piece file here, and this one behind --shop, or call it shop.yaml beside the piece"
        raise RefusedError([document.problem(Finding((field,), "this is a shop file", expected, at_key=True))])


def refuse_piece(document: Document) -> None:
    """Refuse what stands where a shop file belongs and holds nothing of one, but of a piece; raises likewise."""
    field = _field_of(document, _OF_PIECE, _OF_SHOP)
    if field is not None:
        expected = "name the shop file here, with shop: and people:, and this one as the piece"
        raise RefusedError([document.problem(Finding((field,), "this is a piece file", expected, at_key=True))])


def _field_of(document: Document, these: frozenset[str], others: frozenset[str]) -> str | None:
    """Return the first field of *these* where there is one, and none of *others*."""
    if others & document.data.keys():
        return None
    return next((name for name in document.data if name in these), None)
