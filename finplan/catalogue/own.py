"""What a shop adds to the catalogue and overrules in it: records of its own, and the label of the tin in hand."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from finplan.catalogue.loader import MODELS, Catalogue, catalogue_from
from finplan.catalogue.lost_cautions import lost_cautions, safety_findings, unsaid_fire
from finplan.catalogue.references import reference_findings
from finplan.problems import Finding, Problem, RefusedError, Where, did_you_mean, shown
from finplan.reading import Document, UnreadableError, beside, read_document, validate

LABEL = "label"
"""The source of what a shop says otherwise, where it names none."""

_NAME = re.compile(r"(?=.{1,60}\Z)[a-z0-9]++(?:-[a-z0-9]++)*+")
_MAX_FILES = 200
_WORDS = ("title", "notes", "basis", "sources")
"""Fields that are no values, and so rest on no source."""


def read_own(folder: Path) -> dict[str, Document]:
    """Return the files of a shop's own records, by kind; each is named as its kind: ``finishes.yaml``.

    Raises
    ------
    RefusedError
        A file is named after no kind or cannot be read; carries every problem of every file.
    """
    documents: dict[str, Document] = {}
    problems: list[Problem] = []
    try:
        files = sorted(file for file in folder.iterdir() if file.suffix.lower() in (".yaml", ".yml"))
    except OSError as error:
        wrong = f"cannot be read: {(error.strerror or 'it is no folder').lower()}"
        raise RefusedError([Problem(folder, 1, 1, "the folder", wrong, "expected one that may be read")]) from None
    for file in files[:_MAX_FILES]:
        if file.suffix != ".yaml" or file.stem not in MODELS:
            hint = did_you_mean(file.stem, MODELS)
            wrong = f"{shown(file.name)} is named after no kind of record"
            problems.append(Problem(file, 1, 1, "the file", wrong, hint))
            continue
        try:
            documents[file.stem] = replace(read_document(beside(folder, file.name)), file=file)
        except UnreadableError as error:
            problems.append(Problem(file, 1, 1, "the file", error.wrong, error.expected))
        except RefusedError as error:
            problems += [replace(problem, file=file) for problem in error.problems]
    if problems:
        raise RefusedError(problems)
    return documents


def with_own(catalogue: Catalogue, documents: Mapping[str, Document]) -> tuple[Catalogue, list[Problem]]:
    """Return the catalogue with a shop's own records beside the bundled ones, and every problem of their files.

    Parameters
    ----------
    catalogue
        The bundled one
    documents
        The shop's own files by kind, from ``read_own``
    """
    if not documents:
        return catalogue, []
    own: dict[str, dict[str, Any]] = {}
    findings: list[tuple[str, Finding]] = []
    for kind, document in documents.items():
        own[kind] = {}
        for name, given in document.data.items():
            record, of_record = _own_record(kind, name, given, catalogue)
            findings += [(kind, finding.within(name)) for finding in of_record]
            if record is not None:
                own[kind][name] = record
    # A record that is wrong is still one that others may name.
    names = catalogue.kinds_with({kind: document.data for kind, document in documents.items()})
    for kind, finding in reference_findings(own, names):
        findings.append((kind, _at_basis(finding, documents[kind].data, finding.path[:1])))
    together = catalogue.kinds_with(own)
    unsaid = unsaid_fire(own.get("finishes", {}), together["solvents"], catalogue.flammability["common"])
    told = {finding.path for kind, finding in findings if kind == "finishes"}
    findings += [("finishes", finding) for finding in unsaid if finding.path not in told]
    findings = list(dict.fromkeys(findings))
    return catalogue_from(together, catalogue.files), [documents[kind].problem(finding) for kind, finding in findings]


def _own_record(kind: str, name: str, given: Any, catalogue: Catalogue) -> tuple[Any, list[Finding]]:
    bundled = catalogue.files.written(kind)
    if name in bundled:
        hint = "give it a name of its own, or put what differs under 'overrides' in the shop file"
        return None, [Finding((), f"{shown(name)} is already in the catalogue", hint, at_key=True)]
    if not _NAME.fullmatch(name):
        return None, [
            Finding((), f"'{name[:40]}' is no name", "expected small letters, digits and dashes", at_key=True)
        ]
    if not isinstance(given, dict) or "like" not in given:
        record, findings = validate(MODELS[kind], given)
        return record, [*findings, *lost_cautions(kind, record)]
    like = str(given["like"])
    base = bundled.get(like)
    if base is None:
        return None, [Finding(("like",), f"'{like[:40]}' is not among the bundled {kind}", did_you_mean(like, bundled))]
    laid = _laid_over(kind, base, {field: value for field, value in given.items() if field != "like"})
    # The rules of what goes over what speak of bundled finishes.
    record, findings = validate(MODELS[kind], {"goes-as": like, **laid} if kind == "finishes" else laid)
    findings += lost_cautions(kind, record, like, catalogue.kinds()[kind][like])
    return record, list(dict.fromkeys(_at_basis(finding, given, ()) for finding in findings))


def overruled(catalogue: Catalogue, overrides: Mapping[str, Any]) -> tuple[Catalogue, list[Finding]]:
    """Return the catalogue with a shop's own values laid over bundled records, and every finding.

    Parameters
    ----------
    catalogue
        What is laid under
    overrides
        From a shop file: kinds of records, names, and the fields that the label of the tin in hand says otherwise.
        They rest on the label, where no other source is named.
    """
    if not overrides:
        return catalogue, []
    findings: list[Finding] = []
    records = catalogue.kinds_with({})
    changed: dict[str, dict[str, Any]] = {}
    for kind, named in overrides.items():
        if kind not in MODELS:
            findings.append(Finding((kind,), f"'{kind}' is no kind of record", did_you_mean(kind, MODELS), at_key=True))
            continue
        if not isinstance(named, dict):
            findings.append(Finding((kind,), "this is not a group of records", "expected names with fields"))
            continue
        for name, given in named.items():
            bundled = catalogue.files.written(kind)
            base = bundled.get(name)
            if base is None:
                findings.append(_not_bundled(kind, name, records[kind], bundled))
                continue
            record, of_record = validate(
                MODELS[kind], _laid_over(kind, base, given) if isinstance(given, dict) else given
            )
            findings += [_at_basis(finding, given, ()).within(kind, name) for finding in of_record]
            lost = safety_findings(kind, name) or lost_cautions(kind, record, name, catalogue.kinds()[kind][name])
            findings += [finding.within(kind, name) for finding in lost]
            if record is not None and not lost:
                records[kind][name] = changed.setdefault(kind, {})[name] = record
    unsaid = unsaid_fire(changed.get("finishes", {}), records["solvents"], catalogue.flammability["common"])
    findings += [finding.within("finishes") for finding in unsaid]
    for kind, finding in reference_findings(changed, records):
        findings.append(_at_basis(finding, overrides[kind], finding.path[:1]).within(kind))
    return catalogue_from(records, catalogue.files), list(dict.fromkeys(findings))


def _not_bundled(kind: str, name: str, known: Mapping[str, Any], bundled: Mapping[str, Any]) -> Finding:
    if name in known:
        wrong, hint = f"{shown(name)} is a record of your own", "change it in its own file"
    else:
        wrong, hint = f"{shown(name)} is not among the {kind}", did_you_mean(name, bundled)
    return Finding((kind, name), wrong, hint, at_key=True)


def _laid_over(kind: str, base: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    """Return *base* with the fields *given* in the place of its own, each resting on its giver's source."""
    merged = _merged(base, {name: value for name, value in given.items() if name not in ("basis", "sources")})
    named = given.get("sources", {})
    if kind == "sources":
        return merged
    if not isinstance(named, dict):
        return {**merged, "sources": named}  # which the model refuses
    basis = given.get("basis", LABEL)
    theirs = {path: basis for path in _paths(base, given) if path not in _WORDS}
    return {**merged, "sources": {**base.get("sources", {}), **theirs, **named}}


def _at_basis(finding: Finding, written: Any, record: Where) -> Finding:
    """Return what is said of the source of a field where that stands: at ``basis``, unless the field names its own.

    Parameters
    ----------
    finding
        Of a record that was laid over another
    written
        What the file says of the record, or of all of them
    record
        The way to the record in it, with which the path of the finding begins
    """
    given = written
    for step in record:
        given = given[step]
    if not isinstance(given, dict) or "basis" not in given:
        return finding
    match finding.path[len(record) :]:
        case ("sources", field) if field not in (given.get("sources") or {}):
            return replace(finding, path=(*record, "basis"))
    return finding


def _merged(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    merged = dict(base)
    for name, value in over.items():
        under = merged.get(name)
        merged[name] = _merged(under, value) if isinstance(under, dict) and isinstance(value, dict) else value
    return merged


def _paths(base: Mapping[str, Any], over: Mapping[str, Any], group: str = "") -> Iterator[str]:
    """Yield the fields that *over* replaces, those of a group with a dot: ``spread-rate.first``."""
    for name, value in over.items():
        under = base.get(name)
        if isinstance(under, dict) and isinstance(value, dict):
            yield from _paths(under, value, f"{group}{name}.")
        else:
            yield f"{group}{name}"
