"""The records of the catalogue, read from its YAML files, with what a shop overrules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from pydantic import BaseModel

from finplan.catalogue.abrasive import Caps, Grades, IncomingSurface, SandingMethod
from finplan.catalogue.caution import Caution
from finplan.catalogue.drying import DryingPace
from finplan.catalogue.finish import AbsorptionFactors, Finish, PackSizes
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.record import Source, Sourced
from finplan.catalogue.system import System
from finplan.catalogue.timber import Timber
from finplan.catalogue.work import SmallJob
from finplan.problems import Finding, Problem, RefusedError, did_you_mean
from finplan.reading import Document, read_document, validate
from finplan.resources import data_dir

MODELS: dict[str, type[BaseModel]] = {
    "sources": Source,
    "finishes": Finish,
    "systems": System,
    "timbers": Timber,
    "grades": Grades,
    "caps": Caps,
    "surfaces": IncomingSurface,
    "sanding-methods": SandingMethod,
    "methods": ApplicationMethod,
    "absorption": AbsorptionFactors,
    "drying": DryingPace,
    "packs": PackSizes,
    "work": SmallJob,
    "cautions": Caution,
}
"""The model of the records in each file of the catalogue: ``finishes.yaml`` holds finishes, by name."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All records by kind and name."""

    sources: Mapping[str, Source]
    finishes: Mapping[str, Finish]
    systems: Mapping[str, System]
    timbers: Mapping[str, Timber]
    grades: Mapping[str, Grades]
    caps: Mapping[str, Caps]
    surfaces: Mapping[str, IncomingSurface]
    sanding_methods: Mapping[str, SandingMethod]
    methods: Mapping[str, ApplicationMethod]
    absorption: Mapping[str, AbsorptionFactors]
    drying: Mapping[str, DryingPace]
    packs: Mapping[str, PackSizes]
    work: Mapping[str, SmallJob]
    cautions: Mapping[str, Caution]

    def kinds(self) -> dict[str, Mapping[str, Any]]:
        """Return the records of every kind, the kinds named as their files are."""
        return {field.name.replace("_", "-"): getattr(self, field.name) for field in fields(self)}

    def find(self, name: str) -> list[tuple[str, Any]]:
        """Return every record called *name*, with its kind."""
        return [(kind, records[name]) for kind, records in self.kinds().items() if name in records]


@cache
def bundled_catalogue() -> Catalogue:
    """Return the catalogue that comes with the program.

    Raises
    ------
    RefusedError
        A record is wrong; carries every problem of every file.
    """
    return load_catalogue(data_dir("catalogue"))


def load_catalogue(folder: Path) -> Catalogue:
    """Return the catalogue in *folder*, one file a kind.

    Raises
    ------
    RefusedError
        A file is missing or a record is wrong; carries every problem of every file.
    """
    documents: dict[str, Document] = {}
    problems: list[Problem] = []
    for kind in MODELS:
        try:
            documents[kind] = read_document(folder / f"{kind}.yaml")
        except RefusedError as error:
            problems += error.problems
    records, found = _records({kind: document.data for kind, document in documents.items()})
    problems += [documents[kind].problem(finding) for kind, finding in found]
    if problems:
        raise RefusedError(problems)
    return _catalogue(records)


R = TypeVar("R", bound=BaseModel)


def _records(data: Mapping[str, Mapping[str, Any]]) -> tuple[dict[str, dict[str, Any]], list[tuple[str, Finding]]]:
    records: dict[str, dict[str, Any]] = {}
    findings: list[tuple[str, Finding]] = []
    for kind, named in data.items():
        records[kind] = {}
        for name, fields_ in named.items():
            record, found = validate(MODELS[kind], fields_)
            findings += [(kind, finding.within(name)) for finding in found]
            if record is not None:
                records[kind][name] = record
    # A record that is wrong is still one that others may name.
    return records, findings + _references(records, data)


def _catalogue(records: Mapping[str, Mapping[str, Any]]) -> Catalogue:
    return Catalogue(**{kind.replace("-", "_"): MappingProxyType(dict(named)) for kind, named in records.items()})


def _references(
    records: Mapping[str, Mapping[str, Any]], names: Mapping[str, Mapping[str, Any]]
) -> list[tuple[str, Finding]]:
    """Return a finding for every name in a record that is not among *names*; a kind whose file is lost is not asked."""
    findings: list[tuple[str, Finding]] = []

    def look(kind: str, path: tuple[str | int, ...], name: str, target: str) -> None:
        known = names.get(target)
        if known is not None and name not in known:
            wrong = f"'{name}' is not among the {target}"
            findings.append((kind, Finding(path, wrong, did_you_mean(name, known))))

    for kind, named in records.items():
        for name, record in named.items():
            if isinstance(record, Sourced):
                look(kind, (name, "basis"), record.basis, "sources")
                for field, key in record.sources.items():
                    look(kind, (name, "sources", field), key, "sources")
    for name, finish in records.get("finishes", {}).items():
        for index, method in enumerate(finish.methods):
            look("finishes", (name, "methods", index), method, "methods")
    for name, system in records.get("systems", {}).items():
        for index, step in enumerate(system.steps):
            findings += [("systems", finding.within(name, "steps", index)) for finding in _step_findings(step)]
            if step.finish:
                look("systems", (name, "steps", index, "finish"), step.finish, "finishes")
            for place, method in enumerate(step.methods):
                look("systems", (name, "steps", index, "methods", place), method, "methods")
    return findings


def _step_findings(step: Any) -> list[Finding]:
    if step.do in ("coat", "fill") and not step.finish:
        return [Finding(("finish",), f"the step '{step.do}' names no finish", "expected a name from finishes.yaml")]
    if step.do in ("abrade", "rub-out") and not step.grit:
        return [Finding(("grit",), f"the step '{step.do}' names no grit", "expected a P-grade such as P320")]
    return []


def overruled(catalogue: Catalogue, overrides: Mapping[str, Any]) -> tuple[Catalogue, list[Finding]]:
    """Return the catalogue with a shop's own values laid over it, and every finding.

    Parameters
    ----------
    catalogue
        What is laid under
    overrides
        From a shop file: kinds of records, names, and the fields that the label of the tin in hand says otherwise
    """
    findings: list[Finding] = []
    records: dict[str, dict[str, Any]] = {kind: dict(named) for kind, named in catalogue.kinds().items()}
    bundled = {kind: read_document(data_dir("catalogue") / f"{kind}.yaml").data for kind in overrides if kind in MODELS}
    for kind, named in overrides.items():
        if kind not in MODELS:
            findings.append(Finding((kind,), f"'{kind}' is no kind of record", did_you_mean(kind, MODELS), at_key=True))
            continue
        if not isinstance(named, dict):
            findings.append(Finding((kind,), "this is not a group of records", "expected names with fields"))
            continue
        for name, fields_ in named.items():
            base = bundled[kind].get(name)
            if base is None:
                hint = did_you_mean(name, bundled[kind])
                findings.append(Finding((kind, name), f"'{name}' is not among the {kind}", hint, at_key=True))
                continue
            record, found = validate(MODELS[kind], _laid_over(base, fields_) if isinstance(fields_, dict) else fields_)
            findings += [finding.within(kind, name) for finding in found]
            if record is not None:
                records[kind][name] = record
    findings += [finding.within(kind) for kind, finding in _references(records, records)]
    return _catalogue(records), findings


def _laid_over(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    merged = dict(base)
    for name, value in over.items():
        under = merged.get(name)
        merged[name] = _laid_over(under, value) if isinstance(under, dict) and isinstance(value, dict) else value
    return merged
