"""Writing a file: whether it may be written, and then whole or not at all."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from finplan.problems import NotPossibleError

_HOW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
"""What is written beside the target is new: nobody can have put a link there that leads elsewhere."""


def check_output(output: Path, endings: tuple[str, ...], what: str, inputs: Iterable[Path | None]) -> None:
    """Refuse a file that could not be written, before anything is planned for it.

    Parameters
    ----------
    output
        The file to be written
    endings
        How it may end
    what
        It is, in words
    inputs
        What was read for it

    Raises
    ------
    NotPossibleError
        It is none of those that are meant, there is no such folder, or it is what was read.
    """
    if output.suffix.lower() not in endings:
        msg = f"{output}: {what} is written as {' or '.join(endings)}, not '{output.suffix}'"
        raise NotPossibleError(msg)
    if not output.parent.is_dir():
        msg = f"{output}: there is no folder {output.parent}"
        raise NotPossibleError(msg)
    refuse_input(output, inputs)


def refuse_input(output: Path, inputs: Iterable[Path | None]) -> None:
    """Refuse to write over what was read, under whatever name it is given.

    Raises
    ------
    NotPossibleError
        They are the same file.
    """
    for read in inputs:
        with suppress(OSError):
            if read is not None and output.samefile(read):
                msg = f"{output}: is what is read, and would be written over; choose another name for the output"
                raise NotPossibleError(msg)


def write_whole(data: bytes, target: Path) -> None:
    """Write *data* beside *target* and then put it in its place; a file that is there is replaced.

    Raises
    ------
    NotPossibleError
        *target* cannot be written.
    """
    with _said(target), _written_beside(data, target) as part:
        part.replace(target)


def write_new(data: bytes, target: Path) -> bool:
    """Write *data* beside *target* and then give it that name, unless somebody else was sooner; return whether it was.

    Raises
    ------
    NotPossibleError
        *target* cannot be written.
    """
    with _said(target), _written_beside(data, target) as part:
        try:
            os.link(part, target)  # a second name: refused, where renaming would take the place of what is there
        except FileExistsError:
            return False
        return True


@contextmanager
def _said(target: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        msg = f"{target}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from error


@contextmanager
def _written_beside(data: bytes, target: Path) -> Iterator[Path]:
    """Give a file beside *target* that holds *data*, and is gone afterwards unless it was renamed."""
    part = target.with_name(f".{target.name[:40]}-{secrets.token_hex(6)}.part")
    try:
        with os.fdopen(os.open(part, _HOW, 0o666), "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())  # before the name is its own: a name without what it stands for is half a file
        yield part
    finally:
        part.unlink(missing_ok=True)
