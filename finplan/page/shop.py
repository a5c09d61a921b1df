"""The workshop of the folder, read once and kept until one of its files changes."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from finplan.page.folder import Folder, text_digest
from finplan.place import SHOP
from finplan.planning import Workshop, workshop_and_problems
from finplan.problems import Problem

_MAX_FILES = 500


class KeptWorkshop:
    """The workshop of a folder, and what is wrong with it."""

    def __init__(self, folder: Folder) -> None:
        self._folder = folder
        self._state: list[tuple[object, ...]] | None = None
        self._found: tuple[Workshop | None, tuple[Problem, ...]] = (None, ())

    def __call__(self) -> tuple[Workshop | None, tuple[Problem, ...]]:
        """Return the workshop, None where it cannot be used, and its problems."""
        state = self._look()
        if state != self._state:
            workshop, _, problems = workshop_and_problems(self._folder.shop)
            self._found = (None if problems else workshop), problems
            self._state = state
        return self._found

    def digest(self) -> str:
        """Return what tells the workshop as its files are now from the same with others."""
        return text_digest(repr(self._look()))

    def _look(self) -> list[tuple[object, ...]]:
        """Return what tells whether a file that a shop may name was changed: beside it, or in a folder beside it."""
        try:
            beside = list(self._folder.path.iterdir())
        except OSError:  # the folder is gone: whoever lists its pieces says so
            return []
        files = [file for file in beside if file.name == SHOP or file.suffix == ".csv"]
        for inner in beside:
            if inner.is_dir() and not inner.is_symlink() and not inner.name.startswith("."):
                with suppress(OSError):  # that may not be looked into
                    files += [file for file in list(inner.iterdir())[:_MAX_FILES] if file.suffix == ".yaml"]
        return sorted(_state(file) for file in files[:_MAX_FILES])


def _state(file: Path) -> tuple[object, ...]:
    try:
        status = file.stat()
    except OSError:
        return str(file), 0, 0, 0
    return str(file), status.st_mtime_ns, status.st_size, status.st_ino
