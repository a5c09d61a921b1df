"""Old paint: which items may bear some that holds lead."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.inputs import Piece
from finplan.system.treatment import FaceGroup

OLD_FILM = "stripped"
"""The surface of what an old coating was taken off: a name in the catalogue's surfaces."""


def old_paint(item: str, groups: Iterable[FaceGroup], piece: Piece, catalogue: Catalogue) -> str | None:
    """Return why an item may bear paint that holds lead; None where it does not.

    A piece may that was built when paint held lead, by the latest year of any country, and what an old film of unknown
    age was taken off; a test of every layer says more than either.

    Parameters
    ----------
    item, groups
        The item and its faces
    piece
        What is said of it: when it was built, and what a test came to
    catalogue
        Where the years are
    """
    if piece.lead_test is not None:
        return "a test that found lead" if piece.lead_test == "lead" else None
    if piece.built is not None:
        until = max(record.until for record in catalogue.old_paint.values())
        return f"built {piece.built}" if piece.built < until else None
    stripped = any(group.surface == OLD_FILM for group in groups)
    return f"an old film of unknown age ({item})" if stripped else None
