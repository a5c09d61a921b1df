"""Old paint: which items may bear some that holds lead."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.system.treatment import FaceGroup

OLD_FILM = "stripped"
"""The surface of what an old coating was taken off: a name in the catalogue's surfaces."""


def old_paint(item: str, groups: Iterable[FaceGroup], built: int | None, catalogue: Catalogue) -> str | None:
    """Return why an item may bear paint that holds lead; None where it does not.

    A piece may that was built when paint held lead, by the latest year of any country, and what an old film of unknown
    age was taken off.

    Parameters
    ----------
    item, groups
        The item and its faces
    built
        The year in which its piece was built; None where nobody said
    catalogue
        Where the years are
    """
    if built is not None:
        until = max(record.until for record in catalogue.old_paint.values())
        return f"built {built}" if built < until else None
    stripped = any(group.surface == OLD_FILM for group in groups)
    return f"an old film of unknown age ({item})" if stripped else None
