"""The one door for files: plain files alone, bounded before they are read, and what a file names only beside it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

_HOW = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
"""A pipe that nobody writes to is opened at once, and then refused, where it would be waited for."""
_MAX_NAME = 120


class UnreadableError(Exception):
    """A file that is not read: what is wrong with it, to stand behind its name, and what is expected."""

    def __init__(self, wrong: str, expected: str) -> None:
        self.wrong = wrong
        self.expected = expected
        super().__init__(f"{wrong}; {expected}")


def read_bytes(file: Path, most: int) -> bytes:
    """Return what a file holds.

    Parameters
    ----------
    file
        A plain file, or a link to one
    most
        How many bytes it may hold

    Raises
    ------
    UnreadableError
        There is no such file, it may not be read, it is no plain file, or it is longer.
    """
    try:
        number = os.open(file, _HOW)
        with os.fdopen(number, "rb") as stream:
            status = os.fstat(number)
            if not stat.S_ISREG(status.st_mode):
                raise UnreadableError(_what(status.st_mode), "expected a file")
            raw = stream.read(most + 1) if status.st_size <= most else b""
    except IsADirectoryError:
        raise UnreadableError(_what(stat.S_IFDIR), "expected a file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no file can have this name"
        wrong = _what(stat.S_IFDIR) if os.path.isdir(file) else f"cannot be read: {reason.lower()}"
        raise UnreadableError(wrong, "expected a file that exists and may be read") from None
    if max(status.st_size, len(raw)) > most:
        raise UnreadableError(f"is longer than {most:,} bytes", "expected a shorter one")
    return raw


def _what(mode: int) -> str:
    return "is a folder" if stat.S_ISDIR(mode) else "is no plain file but a pipe, a socket or a device"


def beside(folder: Path, name: str) -> Path:
    """Return the file that a file in *folder* means by a plain name; whether it is there is asked when it is read.

    Raises
    ------
    UnreadableError
        The name is not plain, or a link leads from it to another folder or back to itself.
    """
    if not (0 < len(name) <= _MAX_NAME and name.isprintable()) or set(name) & set("/\\:") or name in (".", ".."):
        raise UnreadableError("is not a plain name", "expected the name of what lies in the same folder")
    try:
        inside = folder.resolve()
        path = (inside / name).resolve()
        if path.is_symlink():
            raise OSError  # from Python 3.13 on, links that go round are left as they are
    except (OSError, RuntimeError):
        raise UnreadableError("is a link that leads nowhere", "expected the thing itself") from None
    if path.parent != inside:
        raise UnreadableError("is a link that leads out of the folder", "expected what lies in the same folder")
    return path
