"""The file of a ledger: whether it is one, opened, brought to today's version, and changed a transaction at a time."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from finplan.ledger.errors import BUSY_S, DAMAGED, LOW_BYTE, LedgerError, NotWritableError, worded
from finplan.ledger.schema import APPLICATION_ID, STEPS, VERSION
from finplan.problems import NotPossibleError
from finplan.whole_file import write_new

_JOURNAL_AT, _WAL = slice(18, 20), bytes((2, 2))
"""Where the header says how changes are kept, and what it says of a write-ahead log.

Source: sqlite.org, "Database File Format", section 1.3.
"""
_OLDEST = (3, 37, 0)
"""The first that knows strict tables. Source: sqlite.org, "STRICT Tables"."""
_LOG_IN_USE, _UNCHANGING = "ro", "ro&immutable=1"
"""How a file is opened that is only looked at. Source: sqlite.org, "Uniform Resource Identifiers", section 3.4."""
_LOOKS = 3


@dataclass(frozen=True, slots=True)
class Ledger:
    """An open ledger. What is read of it is read in one go; what changes it does so in ``changing``."""

    file: Path
    connection: sqlite3.Connection

    def rows(self, asked: str, values: Sequence[Any] = ()) -> list[sqlite3.Row]:
        """Return the rows that a query finds."""
        with worded(self.file):
            return self.connection.execute(asked, values).fetchall()

    def add(self, table: str, **values: object) -> int:
        """Add a row and return its id; table and columns are this program's own words, values anything."""
        columns, marks = ", ".join(values), ", ".join("?" for _ in values)
        with worded(self.file):
            entered = self.connection.execute(
                f"INSERT INTO {table} ({columns}) VALUES ({marks})",  # noqa: S608 - names are ours
                tuple(values.values()),
            )
        return entered.lastrowid or 0

    @contextmanager
    def changing(self) -> Iterator[None]:
        """Keep all that is changed in here, or nothing of it.

        Raises
        ------
        LedgerError
            It cannot be written.
        """
        with worded(self.file):
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                yield
                self.connection.execute("COMMIT")
            except BaseException:
                if self.connection.in_transaction:
                    self.connection.execute("ROLLBACK")
                raise


@contextmanager
def open_ledger(file: Path) -> Iterator[Ledger]:
    """Open a ledger for reading and writing; one that is not there yet is begun.

    Raises
    ------
    LedgerError
        It is no ledger, damaged, of a newer version, or cannot be written. The file is as it was.
    """
    if not _there(file):
        with closing(empty_ledger()) as new:
            made = file_of(new)
        try:
            write_new(made, file)
        except NotPossibleError as error:
            raise NotWritableError(str(error)) from error
    _check(file)
    with worded(file), closing(_connect(file, "rw")) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        ledger = Ledger(file, connection)
        migrate(ledger)
        yield ledger


@contextmanager
def unnamed_ledger(file: Path) -> Iterator[Ledger]:
    """Begin a ledger that is no file yet; ``name_ledger`` makes it one with all that was done in it until then.

    Raises
    ------
    LedgerError
        As ``open_ledger``.
    """
    with closing(empty_ledger()) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        yield Ledger(file, connection)


def name_ledger(ledger: Ledger) -> bool:
    """Make a ledger that is no file yet that file; return whether it was, or another process was sooner.

    Raises
    ------
    LedgerError
        It cannot be written.
    """
    try:
        return write_new(file_of(ledger.connection), ledger.file)
    except NotPossibleError as error:
        raise NotWritableError(str(error)) from error


def can_be_begun(file: Path) -> bool:
    """Return whether there is no such file, and a folder in which it could be written."""
    return not _there(file) and os.access(file.absolute().parent, os.W_OK | os.X_OK)


@contextmanager
def read_ledger(file: Path) -> Iterator[Ledger | None]:
    """Open a ledger to be read alone; None where there is none, or where it is of an older version.

    Raises
    ------
    LedgerError
        It is no ledger, damaged, or of a newer version.
    """
    if not _there(file):
        yield None
        return
    version = _check(file)
    if version < VERSION:
        with open_ledger(file) as ledger:
            yield ledger
        return
    with worded(file), closing(_for_reading(file)) as connection:
        yield Ledger(file, connection)


@contextmanager
def open_or_read_ledger(file: Path) -> Iterator[Ledger]:
    """Open a ledger for reading and writing; one that may only be read for that, and what changes it is refused then.

    Raises
    ------
    LedgerError
        As of ``open_ledger``.
    """
    writable = not _there(file) or (os.access(file, os.W_OK) and os.access(file.absolute().parent, os.W_OK))
    with open_ledger(file) if writable else read_ledger(file) as ledger:
        if ledger is None:
            raise LedgerError(f"{file}: is there no more")
        yield ledger


def _there(file: Path) -> bool:
    try:
        return file.exists() or file.is_symlink()
    except (OSError, ValueError) as error:
        raise LedgerError(f"{file}: cannot be opened: {error}") from None


def _check(file: Path) -> int:
    """Return the version of a ledger after looking whether it is one and whole, without a change to the file.

    It is never opened but by the library: closing it otherwise would drop the locks that this process has on it.
    Source: sqlite.org, "How To Corrupt An SQLite Database File", section 2.2.

    Nothing is left beside it either: where nobody has it open, it is looked at as a file that does not change. Somebody
    may begin to write just then, and so what seems wrong is looked at again.
    """
    if not file.is_file():
        raise LedgerError(f"{file}: is no file; a ledger was expected")
    for _ in range(_LOOKS - 1):
        with suppress(LedgerError):
            return _looked_at(file)
    return _looked_at(file)


def _looked_at(file: Path) -> int:
    mode = _LOG_IN_USE if _log(file).exists() else _UNCHANGING
    with worded(file), closing(_connect(file, mode)) as connection:
        if _application(connection) != APPLICATION_ID:
            raise LedgerError(f"{file}: is no ledger of finplan, and is left as it is; name another with --ledger")
        ((version,),) = connection.execute("PRAGMA user_version")
        if version > VERSION:
            raise LedgerError(
                f"{file}: is a ledger of version {version}, and this finplan knows them up to {VERSION}; "
                "it takes the newer finplan that wrote it"
            )
        ((checked,),) = connection.execute("PRAGMA quick_check(1)")
    if checked != "ok":
        raise LedgerError(f"{file}: {DAMAGED}")
    return int(version)


def _application(connection: sqlite3.Connection) -> int:
    """Return which program a file says it is of; 0 of one that is no database."""
    try:
        ((application,),) = connection.execute("PRAGMA application_id")
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & LOW_BYTE == sqlite3.SQLITE_NOTADB:
            return 0
        raise
    return int(application)


def _for_reading(file: Path) -> sqlite3.Connection:
    """Return a connection that changes nothing, also where nothing may be written to the file or beside it.

    It could write: one that could not would leave the log behind.
    """
    connection = _connect(file, "rw")
    try:
        connection.execute("PRAGMA query_only = ON")
        connection.execute("SELECT 1 FROM sqlite_schema").fetchall()
    except sqlite3.OperationalError:
        connection.close()
        if _log(file).exists():
            raise  # what was written last stands there
        return _connect(file, _UNCHANGING)
    return connection


def _log(file: Path) -> Path:
    return file.with_name(f"{file.name}-wal")


def _connect(file: Path, mode: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{file.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None, timeout=BUSY_S
    )
    connection.row_factory = sqlite3.Row
    return connection


def empty_ledger(version: int = VERSION) -> sqlite3.Connection:
    """Return a new ledger in memory, of some version.

    Raises
    ------
    LedgerError
        The library of this Python is too old.
    """
    if sqlite3.sqlite_version_info < _OLDEST:
        msg = f"a ledger takes SQLite 3.37 or later; this Python has {sqlite3.sqlite_version}"
        raise LedgerError(msg)
    connection = sqlite3.connect(":memory:", isolation_level=None)
    connection.row_factory = sqlite3.Row
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    for number, step in enumerate(STEPS[:version], start=1):
        _take(connection, step, number)
    return connection


def file_of(connection: sqlite3.Connection) -> bytes:
    """Return a ledger in memory as a file, made whole before it has a name, so that nobody meets half of one."""
    made = bytearray(connection.serialize())
    made[_JOURNAL_AT] = _WAL
    return bytes(made)


def migrate(ledger: Ledger) -> None:
    """Bring a ledger of an older version to today's, step by step, each in a transaction of its own."""
    for number, step in enumerate(STEPS, start=1):
        if _version(ledger) < number:
            with ledger.changing():
                if _version(ledger) < number:  # nobody else did it while this one waited
                    _take(ledger.connection, step, number)


def _version(ledger: Ledger) -> int:
    ((version,),) = ledger.rows("PRAGMA user_version")
    return int(version)


def _take(connection: sqlite3.Connection, step: str, number: int) -> None:
    """Take one step statement by statement: ``executescript`` would end the transaction that it is run in."""
    statement = ""
    for line in step.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            connection.execute(statement)
            statement = ""
    connection.execute(f"PRAGMA user_version = {number}")
