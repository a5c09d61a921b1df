"""How moments and groups of values are written into a ledger, and read again."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

from finplan.ledger.errors import LedgerError
from finplan.problems import shown


def instant(moment: datetime) -> str:
    """Return a moment as it is written: in universal time, to the second, so that text sorts as time does.

    >>> from datetime import timedelta, timezone
    >>> instant(datetime(2027, 2, 10, 9, 45, tzinfo=timezone(timedelta(hours=1))))
    '2027-02-10T08:45:00+00:00'
    """
    return moment.astimezone(UTC).isoformat(timespec="seconds")


def moment_of(text: str) -> datetime:
    """Return the moment that is written; knows its time zone.

    Raises
    ------
    LedgerError
        It is none.
    """
    try:
        return datetime.fromisoformat(text).astimezone(UTC)
    except (ValueError, OverflowError):
        raise LedgerError(f"the ledger holds a time that is none: {shown(text)}") from None


def group(values: object) -> str:
    """Return plain values as JSON: the same text for the same values."""
    return json.dumps(values, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def values_of(text: str) -> Any:
    """Return what is written as JSON.

    Raises
    ------
    LedgerError
        It is none.
    """
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        raise LedgerError(f"the ledger holds values that are none: {shown(text)}") from None
