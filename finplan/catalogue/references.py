"""Whether every name in a record stands for a record."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from finplan.catalogue.compatibility import unknown_words
from finplan.catalogue.fault import unknown_fault_words
from finplan.catalogue.record import Sourced
from finplan.catalogue.system import Step
from finplan.problems import Finding, Where, did_you_mean, shown

RECORD_NAMES: Mapping[str, Mapping[str, str]] = {
    "finishes": {
        "methods": "methods",
        "spread-rate.by-method": "methods",
        "voc-solvent": "solvents",
        "thinner-solvent": "solvents",
        "clean-up-solvent": "solvents",
        "goes-as": "finishes",
        "dissolve.liquid": "solvents",
    },
    "systems": {
        "steps.finish": "finishes",
        "steps.methods": "methods",
        "steps.extra": "extra-steps",
        "renewed-with": "finishes",
    },
    "extra-steps": {
        "steps.finish": "finishes",
        "steps.methods": "methods",
        "steps.extra": "extra-steps",
        "liquids": "solvents",
        "uses": "consumables",
        "uses-each": "consumables",
        "then": "extra-steps",
    },
    "timbers": {
        "wants": "extra-steps",
        "sheet.faces": "surfaces",
        "sheet.edges": "surfaces",
        "sheet.faces-drink": "absorption",
        "sheet.edges-drink": "absorption",
    },
    "solvents": {"components": "solvents"},
    "sanding-methods": {"abrasive": "abrasives"},
    "consumables": {"methods": "methods", "spared-by": "consumables"},
    "equipment": {"covers": "equipment", "spares": "consumables"},
    "cautions": {"uses": "consumables", "needs": "equipment"},
    "compatibility": {"tie-coat": "finishes"},
    "voc-limits": {"finishes": "finishes"},
    "faults": {"causes.cause": "fault-causes", "answers.steps.solvent": "solvents"},
}
"""By kind, the fields that name records and the kind that they name; a dot leads into a group or a list of groups."""

GRITS: Mapping[str, tuple[str, ...]] = {
    "extra-steps": ("steps.grit",),
    "systems": ("steps.grit", "stop-grit.open", "stop-grit.closed", "stop-grit.softwood", "stop-grit.oily"),
    "surfaces": ("start",),
    "sanding-methods": ("scuff-grit",),
    "sanding-rules": ("ladder", "hidden.not-coarser", "veneer.coarsest"),
    "absorption": ("finest",),
    "faults": ("answers.steps.grit",),
}
"""By kind, the fields that name a P-grade."""


def reference_findings(
    records: Mapping[str, Mapping[str, Any]], names: Mapping[str, Mapping[str, Any]]
) -> list[tuple[str, Finding]]:
    """Return a finding, with its kind, for every name in a record that stands for none.

    Parameters
    ----------
    records
        The records to look through, by kind and name
    names
        What may be named, by kind; a kind that is not there is not asked, for its file is lost
    """
    findings: list[tuple[str, Finding]] = []

    def look(kind: str, path: Where, name: str, target: str) -> None:
        known = names.get(target)
        if known is not None and name not in known:
            wrong = f"{shown(name)} is not among the {target}"
            findings.append((kind, Finding(path, wrong, did_you_mean(name, known))))

    for kind, named in records.items():
        for name, record in named.items():
            if isinstance(record, Sourced):
                look(kind, (name, "basis"), record.basis, "sources")
                for field, key in record.sources.items():
                    look(kind, (name, "sources", field), key, "sources")
            for field, target in RECORD_NAMES.get(kind, {}).items():
                for path, value in _named(record, tuple(field.split("."))):
                    look(kind, (name, *path), value, target)
    sizes: Mapping[str, float] = getattr(names.get("grades", {}).get("p-grade"), "sizes_um", {})
    for kind, fields in GRITS.items() if sizes else ():
        for name, record in records.get(kind, {}).items():
            for path, grit in (place for field in fields for place in _named(record, tuple(field.split(".")))):
                if grit not in sizes:
                    wrong = f"'{grit}' is not among the P-grades"
                    findings.append((kind, Finding((name, *path), wrong, did_you_mean(grit, sizes))))
    for kind in ("systems", "extra-steps"):
        for name, holder in records.get(kind, {}).items():
            for index, step in enumerate(holder.steps):
                in_step = _step_findings(step, names.get("finishes", {}))
                findings += [(kind, finding.within(name, "steps", index)) for finding in in_step]
    for name, rule in records.get("compatibility", {}).items():
        unknown = unknown_words(rule, names.get("finishes"), names.get("timbers"))
        findings += [("compatibility", finding.within(name)) for finding in unknown]
    for name, fault in records.get("faults", {}).items():
        meant = unknown_fault_words(fault, names.get("finishes"), names.get("faults"))
        findings += [("faults", finding.within(name)) for finding in meant]
    return findings


def _named(held: Any, path: tuple[str, ...]) -> Iterator[tuple[Where, str]]:
    """Yield every name that stands at *path* in a record, and where: lists by position, tables by their keys."""
    if held is None:
        return
    if isinstance(held, tuple):
        for index, element in enumerate(held):
            for where, name in _named(element, path):
                yield (index, *where), name
    elif path:
        for where, name in _named(getattr(held, path[0].replace("-", "_")), path[1:]):
            yield (path[0], *where), name
    elif isinstance(held, Mapping):
        for name in held:
            yield (name,), name
    else:
        yield (), held


def _step_findings(step: Step, finishes: Mapping[str, Any]) -> list[Finding]:
    if step.do in ("coat", "fill") and not step.finish:
        return [Finding(("finish",), f"the step '{step.do}' names no finish", "expected a name from finishes.yaml")]
    if step.do in ("abrade", "rub-out") and not step.grit:
        return [Finding(("grit",), f"the step '{step.do}' names no grit", "expected a P-grade such as P320")]
    if (step.do == "extra") is (step.extra is None):
        return [Finding(("extra",), "a step 'extra', and no other, names one beside the coats", "see extra-steps.yaml")]
    finish = None if step.finish is None else finishes.get(step.finish)
    if step.dry_film_um is not None and not _builds_film(finish, step):
        return [Finding(("dry-film",), "nothing is put on here that builds a film", "leave 'dry-film' out")]
    return []


def _builds_film(finish: Any, step: Step) -> bool:
    """Return whether a step builds a film; a finish that is unknown, or wrong itself, is not asked."""
    told = finish.get("film-forming") if isinstance(finish, Mapping) else getattr(finish, "film_forming", None)
    return step.do == "coat" and told is not False
