"""Old paint: which items may bear some that holds lead, and what is not done to those."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.inputs import Piece
from finplan.problems import Finding
from finplan.system.faces import OLD_FILM
from finplan.system.treatment import FaceGroup, Treatment


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
    stripped = piece.refinished or any(group.surface == OLD_FILM for group in groups)
    return f"an old film of unknown age ({item})" if stripped else None


def not_on_lead(treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return an error where an old film that may hold lead is to be taken off in a way that is refused for that."""
    found: dict[Finding, None] = {}
    for treatment in treatments:
        for step in treatment.steps if treatment.old_paint is not None else ():
            if step.recipe.extra is not None and catalogue.extra_steps[step.recipe.extra].not_on_lead:
                wrong = f"'{treatment.named}' may hold lead ({treatment.old_paint}), and is not to {step.label}"
                expected = "strip: chemical, or lead-test: clear where every layer was tested and holds none"
                found[Finding(("refinish",), wrong, expected)] = None
    return list(found)
