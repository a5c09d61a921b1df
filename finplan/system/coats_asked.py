"""How many coats a file asks for on a face, against those that its system has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from finplan.catalogue import Catalogue
from finplan.listing import number_of
from finplan.problems import Finding
from finplan.system.likeness import UNDER
from finplan.system.treatment import Treatment


def too_many_coats(treatments: Iterable[Treatment], catalogue: Catalogue) -> list[Finding]:
    """Return an error for every face that is to get more coats than its system has; paths start at the file's top."""
    findings: dict[Finding, None] = {}
    for treatment in treatments:
        has = sum(step.do == "coat" for step in catalogue.systems[treatment.system].steps)
        for group in treatment.groups:
            if group.coats is None or group.coats <= has:
                continue
            for face in group.faces:
                path = ("parts", group.part, "faces", face, "coats")
                wrong = f"system '{treatment.system}' has {number_of(has, 'coat')}, and {group.coats} are asked for"
                more = "for more, write a system of your own, which may be like: this one"
                findings[Finding(path, wrong, f"expected 0 to {has}; {more}")] = None
    return list(findings)


def under_nothing(treatments: Iterable[Treatment], catalogue: Catalogue) -> Iterator[Finding]:
    """Give a warning for every face that by its number of coats gets colour, primer or sealer with nothing over it."""
    for treatment in treatments:
        coats = [step.finish for step in catalogue.systems[treatment.system].steps if step.do == "coat"]
        families = [catalogue.finishes[finish or ""].family for finish in coats]
        covered = next((number for number, family in enumerate(families, start=1) if family not in UNDER), None)
        for group in treatment.groups:
            if covered is None or not group.coats or group.coats >= covered:
                continue
            ends, asked = coats[group.coats - 1], number_of(group.coats, "coat")
            wrong = f"with {asked} of '{treatment.system}' it ends with '{ends}', and nothing over it"
            expected = f"expected 0, or {covered} or more"
            for face in group.faces:
                path = ("parts", group.part, "faces", face, "coats")
                yield Finding(path, wrong, expected, severity="warning", name="under-nothing")
