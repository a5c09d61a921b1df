"""Rows: what other programs read, as types whose fields are the keys; the schema of the JSON is made from them.

The text under a field says what its key means. A field with a default is left out of the JSON where it has it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, dataclass, fields
from datetime import date, datetime
from functools import cache
from typing import Annotated, Any, TypeVar, dataclass_transform

from annotated_types import Ge, Le

NotNegative = Annotated[float, Ge(0)]
AtLeastOne = Annotated[float, Ge(1)]
Share = Annotated[float, Ge(0), Le(1)]
WholeNumber = Annotated[int, Ge(0)]
CountFromOne = Annotated[int, Ge(1)]

Row = TypeVar("Row")


@dataclass_transform(kw_only_default=True, frozen_default=True)
def row(kind: type[Row]) -> type[Row]:
    """Make a class a row. A key that is a word of Python has an underscore behind it."""
    return dataclass(frozen=True, slots=True, kw_only=True)(kind)


def row_of(kind: type[Row], source: object, /, **given: object) -> Row:
    """Return a row: what is *given*, and all else from the attributes of *source* that have the names of its keys."""
    names = [field.name for field in fields(kind)]  # type: ignore[arg-type]
    return kind(**{name: given[name] if name in given else getattr(source, name) for name in names})


def rows_of(kind: type[Row], sources: Iterable[object]) -> tuple[Row, ...]:
    """Return a row for each source."""
    return tuple(row_of(kind, source) for source in sources)


def plain_data(value: Any) -> Any:
    """Return rows as what JSON can hold: times to the minute with their offset, days as such.

    >>> from finplan.quantity import Range
    >>> plain_data({"days": (date(2027, 3, 2),), "hours": Range(1.0, 2.0, 4.0)})
    {'days': ['2027-03-02'], 'hours': {'low': 1.0, 'typical': 2.0, 'high': 4.0}}
    """
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, tuple | list):
        return [plain_data(one) for one in value]
    if isinstance(value, Mapping):
        return {key: plain_data(one) for key, one in value.items()}
    if isinstance(value, datetime):
        return value.isoformat(timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    named = ((key, getattr(value, name), optional) for name, key, optional in _keys(value.__class__))
    return {key: plain_data(one) for key, one, optional in named if one or not optional}


@cache
def _keys(kind: type) -> tuple[tuple[str, str, bool], ...]:
    """Return the fields of a row, their keys, and whether they may be absent."""
    return tuple((field.name, field.name.rstrip("_"), field.default is not MISSING) for field in fields(kind))


def as_json(data: Any) -> str:
    """Return rows, or plain data, as JSON; numbers in full double precision, the same bytes for the same data.

    Raises
    ------
    ValueError
        It holds a number that JSON has no form for.
    """
    return json.dumps(plain_data(data), indent=2, ensure_ascii=False, allow_nan=False)
