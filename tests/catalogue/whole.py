"""A whole catalogue read at once, with all references: the program makes a record when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from finplan.catalogue import MODELS, Catalogue, catalogue_from
from finplan.catalogue.files import CatalogueFiles
from finplan.catalogue.references import reference_findings
from finplan.problems import Finding, Problem, RefusedError
from finplan.reading import Document, validate


def load_catalogue(folder: Path, known: Catalogue | None = None) -> Catalogue:
    """Return the catalogue in a folder; what is missing or wrong in any file of it is refused at once.

    Files that are to the letter those of a *known* catalogue are not read again, nor their records made.
    """
    files = CatalogueFiles(folder, {} if known is None else dict(_as_known(folder, known.files)))
    documents: dict[str, Document] = {}
    problems: list[Problem] = []
    for kind in MODELS:
        try:
            documents[kind] = files.document(kind)
        except RefusedError as error:
            problems += error.problems
    records: dict[str, dict[str, Any]] = {}
    findings: list[tuple[str, Finding]] = []
    for kind, document in documents.items():
        if known is not None and document.digest == known.files.document(kind).digest:
            records[kind] = dict(known.kinds()[kind])
            continue
        records[kind] = {}
        for name, fields in document.data.items():
            record, of_record = validate(MODELS[kind], fields)
            findings += [(kind, finding.within(name)) for finding in of_record]
            if record is not None:
                records[kind][name] = record
    # A record that is wrong is still one that others may name.
    findings += reference_findings(records, {kind: document.data for kind, document in documents.items()})
    problems += [documents[kind].problem(finding) for kind, finding in findings]
    if problems:
        raise RefusedError(problems)
    return catalogue_from(records, files)


def _as_known(folder: Path, files: CatalogueFiles) -> Iterator[tuple[str, Document]]:
    for kind in MODELS:
        file, known = folder / f"{kind}.yaml", files.document(kind)
        if file.is_file() and file.read_bytes() == known.file.read_bytes():
            yield kind, replace(known, file=file)
