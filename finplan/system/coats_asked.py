"""How many coats a file asks for on a face, against how many its system has."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.listing import number_of
from finplan.problems import Finding
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
