"""The catalogue for a person and for programs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from finplan.catalogue import MODELS, Catalogue
from finplan.lookup import (
    FORMAT,
    Selection,
    kind_lines,
    listing_json,
    listing_lines,
    record_json,
    record_lines,
    selected,
)
from finplan.planning import read_workshop
from finplan.problems import NotPossibleError, did_you_mean, hint, likely
from finplan.quantity import DURATION, QuantityError, Units, read_quantity


def catalogue_of(shop: Path | None) -> Catalogue:
    """Return the catalogue as this shop has it.

    Raises
    ------
    RefusedError
        The shop file or one of its own records is wrong.
    """
    return read_workshop(shop).catalogue


def wanted(kind: str | None, properties: list[str], dry_by: str | None) -> Selection:
    """Return what is asked of the list.

    Raises
    ------
    NotPossibleError
        The time is none, or negative.
    """
    try:
        ready_by_h = None if dry_by is None else read_quantity(dry_by, DURATION)
    except QuantityError as error:
        msg = f"--dry-by: {error}"
        raise NotPossibleError(msg) from None
    if ready_by_h is not None and ready_by_h < 0:
        msg = "--dry-by: a finish cannot be ready before it was put on; expected a time such as 3d"
        raise NotPossibleError(msg)
    return Selection(kind, tuple(properties), ready_by_h)


def lines_of_kind(kind: str) -> list[str]:
    """Return what may be written in the records of a kind.

    Raises
    ------
    NotPossibleError
        There is no such kind.
    """
    if kind not in MODELS:
        msg = f"'{kind}' is no kind of record; {did_you_mean(kind, MODELS)}"
        raise NotPossibleError(msg)
    return kind_lines(kind)


def _found(catalogue: Catalogue, name: str, asked: Selection) -> list[tuple[str, Any]]:
    chosen = selected(catalogue, asked)
    found = [(kind, records[name]) for kind, records in chosen.items() if name in records]
    if not found:
        names = sorted({known for records in chosen.values() for known in records})
        near = likely(name, names)
        meant = hint(near, names) if near else "'finplan catalogue' lists everything"
        where = "in the catalogue" if asked == Selection() else "among what was asked for"
        msg = f"'{name}' is not {where}; {meant}"
        raise NotPossibleError(msg)
    return found


def catalogue_lines(catalogue: Catalogue, name: str | None, asked: Selection, units: Units) -> list[str]:
    """Return the list of what is asked for, or of it the records called *name*."""
    if name is None:
        return listing_lines(selected(catalogue, asked), catalogue, ready=asked.ready_by_h is not None)
    lines: list[str] = []
    for kind, record in _found(catalogue, name, asked):
        lines += ["", *record_lines(kind, name, record, catalogue, units)]
    return lines[1:]


def catalogue_data(catalogue: Catalogue, name: str | None, asked: Selection) -> dict[str, Any]:
    """Return the same as plain data."""
    if name is None:
        return listing_json(selected(catalogue, asked))
    records = [record_json(kind, name, record, catalogue) for kind, record in _found(catalogue, name, asked)]
    return {"format": FORMAT, "records": records}
