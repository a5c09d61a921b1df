"""Food and children: what is published of the finishes, and from when on they have cured fully."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from finplan.catalogue import Catalogue
from finplan.system import Treatment


@dataclass(frozen=True, slots=True)
class ContactLine:
    """What is published of one finish on one item, and when it has cured."""

    item: str
    finish: str
    contact: str
    text: str
    source: str
    cured: datetime | None
    """None where no plan says when."""


def contact_lines(
    treatments: Iterable[Treatment], catalogue: Catalogue, cured: Mapping[str, datetime]
) -> tuple[ContactLine, ...]:
    """Return a note for every item whose last coat has ingredients on a published list, or that is painted.

    Parameters
    ----------
    treatments
        What every item gets
    catalogue
        Finishes and notes
    cured
        When each item has cured fully

    Notes
    -----
    Of food only finishes are spoken of whose ingredients are on the list; of children those that are on one, and
    paints, for which limits of lead are published. Nothing is said of what lies over an old coating, or on wood that
    bore one that may hold lead: a list of ingredients says nothing of what is below.
    """
    lines: list[ContactLine] = []
    for treatment in treatments:
        coats = [step.finish for step in treatment.steps if step.finish is not None]
        if not coats or treatment.keeps_film or treatment.old_paint is not None:
            continue
        item = treatment.in_plan
        meant = set(catalogue.finishes[coats[-1]].contact)
        if any(catalogue.finishes[coat].family in ("enamel", "casein") for coat in coats):
            meant.add("child")  # also under wax, which wears through
        lines += [
            ContactLine(item, coats[-1], note.contact, note.text, note.basis, cured.get(item))
            for note in catalogue.contact.values()
            if note.contact in meant
        ]
    return tuple(dict.fromkeys(lines))
