"""A timetable as it is held in a ledger, and as it is read again: the same to the minute and to the last bit."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import fields, is_dataclass, replace
from datetime import datetime
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from pydantic import TypeAdapter, ValidationError

from finplan.ledger import HeldRow, Made
from finplan.planning import Measures
from finplan.timetable import Timetable, TimetableStep


class HeldOtherwiseError(Exception):
    """A plan that was held by a program that wrote plans otherwise."""


_OWN = ("id", "number", "start", "end", "person")
"""Of a row, what has a column of its own."""


def frozen(timetable: Timetable) -> tuple[dict[str, Any], tuple[HeldRow, ...]]:
    """Return what is said of a timetable as a whole, and its rows."""
    whole = _whole().dump_python(replace(timetable, steps=()), mode="json")
    rows = []
    for step in timetable.steps:
        values = _row().dump_python(step, mode="json")
        more = {name: value for name, value in values.items() if name not in _OWN}
        rows.append(HeldRow(step.id, step.number, step.start, step.end, step.person, more))
    return whole, tuple(rows)


def thawed(made: Made, zone: ZoneInfo) -> Timetable:
    """Return the timetable that was held, on the clock of a shop.

    Raises
    ------
    HeldOtherwiseError
        It is written otherwise than today.
    """
    try:
        steps = tuple(
            _row().validate_python(
                {
                    **row.row,
                    "id": row.step,
                    "number": row.number,
                    "start": row.begins,
                    "end": row.ends,
                    "person": row.person,
                }
            )
            for row in made.rows
        )
        timetable = _whole().validate_python(made.answer.get("timetable"))
    except ValidationError as error:
        raise HeldOtherwiseError(f"{error.error_count()} values of it") from None
    try:
        read: Timetable = _on_clock(replace(timetable, steps=steps), zone)
    except OverflowError:
        raise HeldOtherwiseError("a time beyond all years") from None
    return read


def measures_frozen(measures: Measures) -> dict[str, Any]:
    """Return measures as they are held."""
    plain: dict[str, Any] = _measures().dump_python(measures, mode="json")
    return plain


def measures_thawed(answer: Mapping[str, Any]) -> Measures | None:
    """Return the measures of a plan from all that is said of it; None where it was held without, or otherwise."""
    with suppress(ValidationError):
        return _measures().validate_python(answer.get("measures"))
    return None


@cache
def _measures() -> TypeAdapter[Measures]:
    return TypeAdapter(Measures)


@cache
def _whole() -> TypeAdapter[Timetable]:
    return TypeAdapter(Timetable)


@cache
def _row() -> TypeAdapter[TimetableStep]:
    return TypeAdapter(TimetableStep)


def _on_clock(value: Any, zone: ZoneInfo) -> Any:
    """Return a value with all moments in it in a time zone: what is written knows only how far that was from it."""
    if isinstance(value, datetime):
        return value.astimezone(zone)
    if isinstance(value, tuple):
        return tuple(_on_clock(element, zone) for element in value)
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{field.name: _on_clock(getattr(value, field.name), zone) for field in fields(value)})
    return value
