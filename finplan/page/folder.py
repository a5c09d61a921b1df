"""The folder of a workshop: what the page reads and writes, and nothing outside it."""

from __future__ import annotations

import hashlib
import os
import threading
from dataclasses import dataclass
from pathlib import Path

from finplan.place import LEDGER, SHOP
from finplan.problems import FinplanError, NotPossibleError, shown
from finplan.reading import UnreadableError, beside, read_bytes
from finplan.whole_file import write_new, write_whole

MAX_BYTES = 1_000_000
MAX_PIECES = 500
ENDINGS = (".yaml", ".yml")
_BOM = "\ufeff"


class NoSuchPieceError(FinplanError):
    """There is no piece of this name in the folder."""


class NewerTextError(FinplanError):
    """The file is no longer what an edit was made on."""


@dataclass(frozen=True, slots=True)
class Text:
    """What a file says, and the digest by which an edit names what it was made on."""

    name: str
    words: str
    digest: str
    changed: float
    """When the file was last changed, in seconds as the machine counts them."""


def newer_words(name: str, made: str = "this edit") -> str:
    """Return why what was made on an older text is not written."""
    return f"{name} was changed meanwhile: {made} was made on an older text and is not written over it"


def text_digest(words: str) -> str:
    """Return the digest of a text."""
    return hashlib.sha256(words.encode("utf-8", "surrogatepass")).hexdigest()[:16]


class Folder:
    """Piece files of one folder, by their names. Links that lead out of it are not followed."""

    def __init__(self, path: Path) -> None:
        self.path = path.resolve()
        self._writing = threading.Lock()

    @property
    def shop(self) -> Path | None:
        """The shop file, where there is one."""
        file = self._inside(SHOP)
        return file if file is not None and file.is_file() else None

    @property
    def has_shop(self) -> bool:
        """Whether anything is called as the shop file is, be it right or wrong."""
        return os.path.lexists(self.path / SHOP)

    @property
    def ledger(self) -> Path:
        """The record, whether it is there or not."""
        return self.path / LEDGER

    def names(self) -> list[str]:
        """Return the names of all piece files, in their order; raises ``NotPossibleError`` where the folder is gone."""
        names: list[str] = []
        try:
            files = sorted(self.path.iterdir())
        except OSError as error:
            msg = f"the folder {self.path.name} cannot be read: {(error.strerror or str(error)).lower()}"
            raise NotPossibleError(msg) from None
        for file in files:
            if file.suffix.lower() in ENDINGS and file.name != SHOP and not file.name.startswith("."):
                inside = self._inside(file.name)
                if inside is not None and inside.is_file() and _is_piece(inside):
                    names.append(file.name)
            if len(names) == MAX_PIECES:
                break
        return names

    def file(self, name: str) -> Path:
        """Return the file of a piece.

        Raises
        ------
        NoSuchPieceError
            It is no piece of this folder.
        """
        inside = self._inside(name)
        if inside is None or inside.suffix.lower() not in ENDINGS or name == SHOP or not inside.is_file():
            msg = f"there is no piece {shown(name)} in this folder"
            raise NoSuchPieceError(msg)
        return inside

    def text(self, name: str) -> Text:
        """Return what a piece file says.

        Raises
        ------
        NoSuchPieceError
            There is none of this name.
        NotPossibleError
            It cannot be read, or is no text.
        """
        return _read(self.file(name), name)

    def shop_text(self) -> Text | None:
        """Return what the shop file says; None where there is none. Raises ``NotPossibleError`` as ``text``."""
        file = self.shop
        return None if file is None else _read(file, SHOP)

    def put_shop(self, words: str | None, made_on: str | None) -> None:
        """Write the shop file whole, begin it, or take it away; all where it is what this was made on.

        Parameters
        ----------
        words
            Its new text; None for no file
        made_on
            The digest of the text that it was made from; None where there was no file

        Raises
        ------
        NewerTextError
            It says something else by now.
        NotPossibleError
            It cannot be written.
        """
        file = self._inside(SHOP)
        if file is None:
            msg = f"{SHOP} leads out of this folder, and is not written"
            raise NotPossibleError(msg)
        with self._writing:
            now = self.shop_text()
            if (None if now is None else now.digest) != made_on:
                raise NewerTextError(newer_words(SHOP, "this"))
            if words is None:
                _take_away(file)
            elif now is None:
                if not write_new(_bytes(words, SHOP), file):
                    msg = f"there is a {SHOP} already that is no plain file"
                    raise NotPossibleError(msg)
            elif words != now.words:
                write_whole(_bytes(words, SHOP), file)

    def save(self, name: str, words: str, made_on: str) -> Text:
        """Write a text in the place of the one that it was made on, whole or not at all.

        Parameters
        ----------
        name
            Of the piece file
        words
            Its new text
        made_on
            The digest of the text that it was made from

        Raises
        ------
        NewerTextError
            The file says something else by now.
        NotPossibleError
            It cannot be written.
        """
        with self._writing:
            now = self.text(name)
            if now.digest != made_on:
                raise NewerTextError(newer_words(name))
            if words != now.words:
                write_whole(_bytes(words, name), self.file(name))
            return self.text(name)

    def create(self, name: str, words: str) -> Text:
        """Write a new piece file; never in the place of one that is there.

        Raises
        ------
        NotPossibleError
            There is one of this name, it is no name for a file, or it cannot be written.
        """
        file = self._inside(name)
        if file is None or file.suffix not in ENDINGS or name == SHOP or name.startswith("."):
            msg = f"{shown(name)} is no name for a piece file; expected one such as round-table.yaml"
            raise NotPossibleError(msg)
        with self._writing:
            if not write_new(_bytes(words, name), file):
                msg = f"there is a file {name} already; expected another name"
                raise NotPossibleError(msg)
        return self.text(name)

    def _inside(self, name: str) -> Path | None:
        try:
            return beside(self.path, name)
        except UnreadableError:
            return None


def _read(file: Path, name: str) -> Text:
    try:
        raw = read_bytes(file, MAX_BYTES)
        words = raw.decode("utf-8")
        changed = file.stat().st_mtime
    except UnreadableError as error:
        msg = f"{name}: {error}"
        raise NotPossibleError(msg) from None
    except (UnicodeDecodeError, OSError):
        msg = f"{name}: is not text in UTF-8; expected a text file saved as UTF-8"
        raise NotPossibleError(msg) from None
    words = words.removeprefix(_BOM)
    return Text(name, words, text_digest(words), changed)


def _take_away(file: Path) -> None:
    try:
        file.unlink(missing_ok=True)
    except OSError as error:
        msg = f"{file.name}: cannot be taken away: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from None


def _bytes(words: str, name: str) -> bytes:
    try:
        raw = words.encode("utf-8")
    except UnicodeEncodeError:
        msg = f"{name}: is not text in UTF-8; expected whole characters"
        raise NotPossibleError(msg) from None
    if len(raw) > MAX_BYTES:
        msg = f"{name}: is longer than {MAX_BYTES:,} bytes; expected a shorter one"
        raise NotPossibleError(msg)
    return raw


def _is_piece(file: Path) -> bool:
    """Return whether a file looks like a piece: a field of it, at the beginning of a line, is one of a piece's own."""
    try:
        text = read_bytes(file, MAX_BYTES).decode("utf-8-sig", "replace")
    except UnreadableError:
        return False
    return any(line.startswith(("piece:", "parts:")) for line in text.splitlines())
