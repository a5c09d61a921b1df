"""What a piece file asks for beside the coats that does nothing there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from finplan.catalogue import Catalogue
from finplan.inputs import AskedStep, Piece
from finplan.problems import Finding, Where, shown
from finplan.system.treatment import Treatment


def without_effect(piece: Piece, treatments: Sequence[Treatment], catalogue: Catalogue) -> Iterator[Finding]:
    """Give a warning for each step that is for paint alone and is asked for where none is put on.

    Parameters
    ----------
    piece
        In whose file it is asked for
    treatments
        What its items get
    catalogue
        Where the steps are
    """
    on_all = {step.name for treatment in treatments for step in treatment.steps}
    yield from _without(piece.before, ("before",), on_all, catalogue)
    for group, members in (("assemblies", piece.assemblies), ("parts", piece.parts)):
        for name, member in members.items():
            mine = [treatment for treatment in treatments if name in (treatment.named, *treatment.parts)]
            on_it = {step.name for treatment in mine for step in treatment.steps}
            yield from _without(member.before or (), (group, name, "before"), on_it, catalogue)


def _without(asked: Iterable[AskedStep], where: Where, on: set[str], catalogue: Catalogue) -> Iterator[Finding]:
    for index, entry in enumerate(asked):
        if catalogue.extra_steps[entry.name].opaque_only and entry.name not in on:
            wrong = f"{shown(entry.name)} does nothing: it is done under paint, on cut edges, and there are none"
            yield Finding((*where, index), wrong, "leave it out", severity="warning", name="without-effect")
