"""A whole ledger as JSON, and from JSON: all tables as they are, nothing lost and nothing made up."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import closing
from pathlib import Path
from typing import Any

from finplan.ledger.errors import LedgerError, worded
from finplan.ledger.file import Ledger, empty_ledger, file_of, migrate
from finplan.ledger.plans import every_plan, files_of
from finplan.ledger.schema import TABLES, VERSION
from finplan.ledger.stock import lots_standing
from finplan.ledger.ticks import ticks_of
from finplan.ledger.written import no_number
from finplan.whole_file import write_new

FORMAT = "finplan-ledger/1"
_IN_ORDER_OF = {"planned": "plan, position", "ticked": "tick, step", "observation": "tick, kind"}
Tables = Mapping[str, list[dict[str, Any]]]


def ledger_data(ledger: Ledger) -> dict[str, Any]:
    """Return everything in a ledger as plain values: its version, and of every table all rows in order of entry."""
    return {"format": FORMAT, "version": VERSION, "tables": {table: _rows(ledger, table) for table in TABLES}}


def _rows(ledger: Ledger, table: str) -> list[dict[str, Any]]:
    order = _IN_ORDER_OF.get(table, "id")
    return [dict(row) for row in ledger.rows(f"SELECT * FROM {table} ORDER BY {order}")]  # noqa: S608 - names are ours


def read_whole(ledger: Ledger) -> None:
    """Read every plan, tick and lot of a ledger.

    Raises
    ------
    LedgerError
        One of them cannot be read.
    """
    for row in ledger.rows("SELECT id FROM job"):
        files_of(ledger, row["id"])
    for _ in every_plan(ledger):
        pass
    ticks_of(ledger)
    lots_standing(ledger)


def bring_in(text: str, file: Path, check: Callable[[Ledger], None] = read_whole) -> None:
    """Make a ledger of what was exported. Whole or not at all, and never in the place of a file that is there.

    Parameters
    ----------
    text
        The JSON
    file
        The ledger to be made
    check
        Reads all of it as those do who use it, and raises ``LedgerError`` where they could not

    Raises
    ------
    LedgerError
        The text is no exported ledger or of a newer version, an entry in it cannot be, or the file is there already.
    """
    version, tables = _read(text, file)
    with worded(file), closing(empty_ledger(version)) as connection:
        ledger = Ledger(file, connection)
        connection.execute("PRAGMA foreign_keys = ON")
        with ledger.changing():
            for table, rows in tables.items():
                columns = {row["name"] for row in ledger.rows(f"PRAGMA table_info({table})")}
                for row in rows:
                    _enter(ledger, table, row, columns)
        migrate(ledger)
        check(ledger)
        made = file_of(connection)
    if not write_new(made, file):
        raise LedgerError(f"{file}: is there already; name a new file with --ledger, or move this one away")


def _read(text: str, file: Path) -> tuple[int, Tables]:
    """Return the version of what was exported, and its tables in the order in which they refer to one another."""
    try:
        exported = json.loads(text, parse_constant=no_number)
        if exported["format"] != FORMAT:
            raise LedgerError(f"{file}: cannot be made: the format is {exported['format']!r}; expected {FORMAT!r}")
        version, tables = exported["version"], exported["tables"]
        if not (isinstance(version, int) and 1 <= version <= VERSION):
            raise LedgerError(
                f"{file}: cannot be made: what was exported is of version {version!r}; expected 1 to {VERSION}"
            )
        unknown = [name for name in tables if name not in TABLES]
        if "job" not in tables:
            raise LedgerError(f"{file}: cannot be made: what was exported has no tables; expected {', '.join(TABLES)}")
        rows = [row for name in tables for row in tables[name]]
        if unknown or not all(isinstance(row, dict) for row in rows):
            raise LedgerError(f"{file}: cannot be made: tables {', '.join(map(repr, unknown)) or 'have no rows'}")
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise LedgerError(f"{file}: cannot be made: this is no ledger exported as JSON") from None
    return version, {table: list(tables[table]) for table in TABLES if table in tables}


def _enter(ledger: Ledger, table: str, row: Mapping[str, Any], columns: set[str]) -> None:
    unknown = sorted(set(row) - columns)
    if unknown:
        raise LedgerError(f"{ledger.file}: cannot be made: table {table} has no column {unknown[0]!r}")
    if not all(value is None or type(value) in (int, float, str) for value in row.values()):
        raise LedgerError(f"{ledger.file}: cannot be made: a row of table {table} holds what is no text and no number")
    try:
        ledger.add(table, **row)
    except (OverflowError, UnicodeEncodeError, ValueError) as error:
        raise LedgerError(f"{ledger.file}: cannot be made: a row of table {table}: {error}") from None
