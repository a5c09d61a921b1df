"""What can be wrong with a ledger, in words: the library's errors end here."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from finplan.problems import NotPossibleError

BUSY_S = 10.0
"""How long one process waits for another that is writing. [s]"""


class LedgerError(NotPossibleError):
    """A ledger that cannot be read or written; nothing of it was changed."""


class NotWritableError(LedgerError):
    """A ledger that may only be read."""


LOW_BYTE = 0xFF
"""Of an extended result code; it holds the primary one. Source: sqlite.org, "Result and Error Codes"."""
DAMAGED = "is damaged; put back the last good copy of it, or bring in what was exported, and keep this file as it is"
_WORDS = {
    sqlite3.SQLITE_CORRUPT: DAMAGED,
    sqlite3.SQLITE_NOTADB: DAMAGED,
    sqlite3.SQLITE_FULL: "cannot be written: the disk is full; nothing of this was kept, all that was there before is",
    sqlite3.SQLITE_READONLY: "may only be read; nothing was written down",
    sqlite3.SQLITE_PERM: "may not be opened",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened: no such file, or it may not be read",
    sqlite3.SQLITE_BUSY: f"is being written by another process, which has not ended in {BUSY_S:.0f} seconds; try again",
    sqlite3.SQLITE_LOCKED: "is locked by another process; try again",
    sqlite3.SQLITE_IOERR: "cannot be read or written: the disk fails or is full; nothing of this was kept",
    sqlite3.SQLITE_CONSTRAINT: "refuses an entry that cannot be: {reason}",
}


@contextmanager
def worded(file: Path) -> Iterator[None]:
    """Turn what the library raises into an error of ours.

    Raises
    ------
    LedgerError
        Something went wrong; says what, and what to do.
    """
    try:
        yield
    except sqlite3.Error as error:
        primary = getattr(error, "sqlite_errorcode", 0) & LOW_BYTE
        words = _WORDS.get(primary, "cannot be used: {reason}").format(reason=error)
        kind = NotWritableError if primary == sqlite3.SQLITE_READONLY else LedgerError
        raise kind(f"{file}: {words}") from error
