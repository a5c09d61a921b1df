"""What of a finish goes to the customer: none that is mixed of parts that a workshop alone may handle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.catalogue import Catalogue, Finish
from finplan.inputs import Piece
from finplan.problems import Finding
from finplan.system.treatment import Treatment


def not_handed_over(piece: Piece, treatments: Sequence[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return an error where some of a last finish is to be handed over that is no finish for a household.

    Parameters
    ----------
    piece, treatments
        The piece and what its items get
    catalogue
        Where steps and finishes are

    Notes
    -----
    What has been mixed sets in the jar; unmixed the customer would get hardener, which may be isocyanate or acid.
    """
    return list(dict.fromkeys(_found(piece, treatments, catalogue)))


def _found(piece: Piece, treatments: Sequence[Treatment], catalogue: Catalogue) -> Iterator[Finding]:
    for_all = {asked.name for asked in piece.after}
    for treatment in treatments:
        names = for_all | {step.recipe.extra for step in treatment.steps if step.recipe.extra is not None}
        handing = sorted(name for name in names if catalogue.extra_steps[name].hands_over_finish)
        last = catalogue.finishes[treatment.put_on[-1].finish] if treatment.put_on else None
        if handing and last is not None and _of_parts(last):
            wrong = f"'{handing[0]}' would give away what '{treatment.named}' is finished with, which takes a hardener"
            expected = f"leave {handing[0]} out: what is mixed sets in its jar, and a hardener is for a workshop only"
            yield Finding(("after",), wrong, expected)


def _of_parts(finish: Finish) -> bool:
    return finish.mix is not None or finish.hazards.isocyanate or finish.hazards.acid
