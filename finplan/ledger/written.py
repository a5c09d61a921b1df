"""How moments and groups of values are written into a ledger, and read again."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, Literal

from finplan.ledger.errors import LedgerError
from finplan.problems import shown

_MOST = 1e9
"""No workshop takes, holds or waits for more, in any unit that is written."""
_YEARS = range(1969, 2301)
"""Jobs have dates from 1970 to 2199; on another clock one is of the year before, and what cures does so later."""
_CALLED = {"air": "air", "coat": "a coat", "repair": "a repair", "time": "a time", "wish": "a wish"}


def instant(moment: datetime) -> str:
    """Return a moment as it is written: in universal time, to the second, so that text sorts as time does.

    >>> from datetime import timedelta, timezone
    >>> instant(datetime(2027, 2, 10, 9, 45, tzinfo=timezone(timedelta(hours=1))))
    '2027-02-10T08:45:00+00:00'
    """
    return moment.astimezone(UTC).isoformat(timespec="seconds")


def moment_written(text: str) -> datetime:
    """Return the moment that is written; knows its time zone.

    Raises
    ------
    LedgerError
        It is none.
    """
    try:
        return zoned(text).astimezone(UTC)
    except (TypeError, ValueError, OverflowError):
        raise LedgerError(f"the ledger holds a time that is none: {shown(text)}") from None


def zoned(text: str) -> datetime:
    """Return a moment that knows its zone, which is written with it.

    Raises
    ------
    ValueError
        It is none, knows no zone, or no workshop was or will be open then.
    """
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        msg = f"{text} knows no zone"
        raise ValueError(msg)
    if moment.year not in _YEARS:
        msg = f"{text} is no time of any job"
        raise ValueError(msg)
    return moment


def group(values: object) -> str:
    """Return plain values as JSON: the same text for the same values."""
    return json.dumps(values, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def values_of(text: str) -> dict[str, Any]:
    """Return the named values that are written as JSON.

    Raises
    ------
    LedgerError
        They are none.
    """
    values = _json(text)
    if not isinstance(values, dict):
        raise LedgerError(f"the ledger holds values that are none: {shown(text)}")
    return values


def names_of(text: str) -> tuple[str, ...]:
    """Return the names that are written as JSON.

    Raises
    ------
    LedgerError
        They are none.
    """
    names = _json(text)
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise LedgerError(f"the ledger holds names that are none: {shown(text)}")
    return tuple(names)


def _json(text: str) -> Any:
    try:
        return json.loads(text, parse_constant=no_number)
    except (ValueError, RecursionError):
        raise LedgerError(f"the ledger holds values that are none: {shown(text)}") from None


def no_number(name: str) -> float:
    """Refuse what JSON has no word for: infinity and what is no number."""
    msg = f"{name} is no number"
    raise ValueError(msg)


def size_of(value: float | None) -> float | None:
    """Return an amount, a time or a temperature that is written; None where none is.

    Raises
    ------
    LedgerError
        It is of no size that can be.
    """
    if value is not None and not abs(value) <= _MOST:
        raise LedgerError(f"the ledger holds a number that cannot be: {value:g}")
    return value


def length_of(value: object) -> float:
    """Return a time that is written. [h or min]

    Raises
    ------
    ValueError
        It is not longer than nothing.
    LedgerError
        It is of no size that can be.
    """
    length = size_of(float(str(value)))
    if length is None or length <= 0:
        msg = f"{value} is not longer than nothing"
        raise ValueError(msg)
    return length


@contextmanager
def read_back_as(what: Literal["air", "coat", "repair", "time", "wish"]) -> Iterator[None]:
    """Turn what plain values raise that are not what they should be into an error of ours.

    Raises
    ------
    LedgerError
        They are not *what* is written there.
    """
    try:
        yield
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, OverflowError):
        raise LedgerError(f"the ledger holds {_CALLED[what]} that is none") from None
