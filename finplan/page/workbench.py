"""What is open: the pieces of a folder, their texts before and after, and what is known of each."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finplan.page.edits import Edit, SetValue, edited
from finplan.page.folder import Folder, NewerTextError, Text, digest_of
from finplan.page.history import History
from finplan.page.reckoned import Reckoned, reckon
from finplan.page.shop import KeptWorkshop
from finplan.problems import FinplanError, Problem, show_path

_KEPT = 48
"""Texts of which what is known is kept."""


class NotTakenError(FinplanError):
    """An edit that would bring a mistake into the very field that it sets."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{one.wrong}; {one.expected}" for one in problems))


@dataclass(frozen=True, slots=True)
class View:
    """A piece as it is now."""

    text: Text
    found: Reckoned
    before: Reckoned | None
    """Before the last edit; None where there was none."""
    can_undo: bool
    can_redo: bool


class Workbench:
    """The pieces of one folder; one call at a time."""

    def __init__(self, folder: Path, now: Callable[[], datetime]) -> None:
        self.folder = Folder(folder)
        self.workshop = KeptWorkshop(self.folder)
        self.now = now
        self._histories: dict[str, History] = {}
        self._known: OrderedDict[tuple[object, ...], Reckoned] = OrderedDict()
        self._one = threading.RLock()

    def view(self, name: str) -> View:
        """Return a piece as its file says it now; raises as ``Folder.text``."""
        with self._one:
            text = self.folder.text(name)
            history = self._history(text)
            before = history.before_last
            return View(
                text,
                self.reckoned(name, text.words),
                None if before is None else self.reckoned(name, before),
                history.step(-1) is not None,
                history.step(1) is not None,
            )

    def reckoned(self, name: str, words: str) -> Reckoned:
        """Return what is known at once of a text of a piece."""
        with self._one:
            shop = self.workshop()
            key = (name, digest_of(words), id(shop[0]), self._record())
            found = self._known.get(key)
            if found is None:
                found = reckon(words, self.folder.path / name, shop, self.now())
                self._known[key] = found
                while len(self._known) > _KEPT:
                    self._known.popitem(last=False)
            self._known.move_to_end(key)
            return found

    def known(self, name: str, digest: str) -> Reckoned | None:
        """Return what is known of a text that a piece has had; None where it is not kept."""
        with self._one:
            history = self._histories.get(name)
            words = None if history is None else history.knows(digest)
            return None if words is None else self.reckoned(name, words)

    def tried(self, name: str, edit: Edit, made_on: str) -> Reckoned:
        """Return what would come of an edit; nothing is written. Raises as ``take``."""
        with self._one:
            return self.reckoned(name, self._edited(name, edit, made_on))

    def take(self, name: str, edit: Edit, made_on: str) -> View:
        """Make an edit and write the file.

        Raises
        ------
        NewerTextError
            The file says something else than what the edit was made on.
        NotTakenError
            What it sets would be a mistake.
        EditError
            It cannot be made on this text.
        RefusedError
            The text is not YAML.
        NoSuchPieceError, NotPossibleError
            As ``Folder``.
        """
        with self._one:
            words = self._edited(name, edit, made_on)
            if isinstance(edit, SetValue):
                self._refuse_mistake(name, words, edit)
            return self._write(name, words, made_on)

    def write(self, name: str, words: str, made_on: str) -> View:
        """Write a whole text, right or wrong, in the place of the one it was made on; raises as ``Folder.save``."""
        with self._one:
            return self._write(name, words, made_on)

    def create(self, name: str, words: str) -> View:
        """Write a new piece file; raises as ``Folder.create``."""
        with self._one:
            self.folder.create(name, words)
            return self.view(name)

    def step(self, name: str, by: int, made_on: str) -> View:
        """Undo (-1) or redo (1) the last edit; raises as ``Folder.save``."""
        with self._one:
            history = self._history(self.folder.text(name))
            words = history.step(by)
            if words is None:
                return self.view(name)
            self.folder.save(name, words, made_on)
            history.move(by)
            return self.view(name)

    def _write(self, name: str, words: str, made_on: str) -> View:
        history = self._history(self.folder.text(name))
        self.folder.save(name, words, made_on)
        history.wrote(words)
        return self.view(name)

    def _edited(self, name: str, edit: Edit, made_on: str) -> str:
        text = self.folder.text(name)
        if text.digest != made_on:
            msg = f"{name} was changed meanwhile: this edit was made on an older text and is not written over it"
            raise NewerTextError(msg)
        return edited(text.words, edit)

    def _refuse_mistake(self, name: str, words: str, edit: SetValue) -> None:
        there = self.reckoned(name, words).at(show_path(edit.path))
        errors = tuple(one for one in there if one.severity == "error")
        if errors:
            raise NotTakenError(errors)

    def _record(self) -> tuple[object, ...]:
        """Return what tells whether something was written into the record: in its file, or in the log before it."""
        ledger = self.folder.ledger
        return tuple(_state(file) for file in (ledger, ledger.with_name(f"{ledger.name}-wal")))

    def _history(self, text: Text) -> History:
        history = self._histories.setdefault(text.name, History())
        history.seen(text.words, time.monotonic())
        return history


def _state(file: Path) -> tuple[int, int]:
    try:
        found = file.stat()
    except OSError:
        return 0, 0
    return found.st_mtime_ns, found.st_size
