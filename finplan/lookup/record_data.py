"""Records of the catalogue for a program, each value with what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from pydantic import BaseModel

from finplan.catalogue import Amount, Catalogue, Sourced
from finplan.quantity import Range
from finplan.reading import Span

FORMAT = "finplan-catalogue/1"

APART = ("title", "basis", "sources", "notes")
"""Fields that are no values: shown at the head, behind the values or at the foot."""


def record_json(kind: str, name: str, record: Any, catalogue: Catalogue) -> dict[str, Any]:
    """Return a record as plain data: values under names that end in their unit, and the sources they rest on.

    ``sources`` gives the key of every field that has a source of its own, ``basis`` that of all others, and
    ``references`` what the keys stand for.
    """
    shown: dict[str, Any] = {"format": FORMAT, "kind": kind, "name": name, "title": record.title}
    shown["values"] = {
        field: _data(value) for field, value in fields_held(record).items() if field not in APART and value is not None
    }
    if isinstance(record, Sourced):
        shown["notes"] = list(record.notes)
        shown["basis"] = record.basis
        shown["sources"] = dict(record.sources)
        shown["references"] = {key: _data(catalogue.sources[key]) for key in sorted(record.source_keys())}
    return shown


def listing_json(records: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Return the names of the *records* by kind."""
    return {"format": FORMAT, "kinds": {kind: list(named) for kind, named in records.items()}}


def fields_held(record: BaseModel) -> dict[str, Any]:
    """Return what a record holds, by field."""
    return {field: getattr(record, field) for field in type(record).model_fields}


def _data(value: Any) -> Any:
    """Return *value* as what JSON can hold."""
    if isinstance(value, BaseModel):
        return {field: _data(one) for field, one in fields_held(value).items() if one is not None}
    if isinstance(value, (Range, Span)):
        return asdict(value)
    if isinstance(value, Amount):
        return {value.measure: value.value}
    if isinstance(value, Mapping):
        return {str(key): _data(one) for key, one in value.items()}
    return [_data(one) for one in value] if isinstance(value, (tuple, list)) else value
