"""What is open: the pieces of a folder, their texts before and after, and what is known of each."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finplan.forms import usual_shop, write_shop
from finplan.inputs import holidays_by_zone
from finplan.page.edits import AddPart, AnyEdit, PutValue, RemoveValue, RenamePart, SetValue, all_edited
from finplan.page.field import value_at
from finplan.page.folder import Folder, NewerTextError, Text, newer_words, text_digest
from finplan.page.helps import Writes
from finplan.page.history import History, ShopTexts
from finplan.page.reckoned import Reckoned, reckon
from finplan.page.shop import KeptWorkshop
from finplan.page.written import flow_text
from finplan.place import SHOP
from finplan.planning import workshop_and_problems
from finplan.problems import FinplanError, Problem, Where, show_path
from finplan.quantity import Units
from finplan.reading import Written

_KEPT = 48
"""Texts of which what is known is kept."""


class NotTakenError(FinplanError):
    """An edit that would bring a mistake into the very field that it sets."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{problem.wrong}; {problem.expected}" for problem in problems))


@dataclass(frozen=True, slots=True)
class View:
    """A piece as it is now."""

    text: Text
    state: str
    """What tells this text in this shop from all others."""
    shop: str | None
    """The digest of the shop file; None where there is none."""
    reckoned: Reckoned
    before: Reckoned | None
    """Before the last edit; None where there was none."""
    can_undo: bool
    can_redo: bool


class Workbench:
    """The pieces of one folder; one call at a time."""

    def __init__(self, folder: Path, now: Callable[[], datetime], zone: str = "UTC") -> None:
        self.folder = Folder(folder)
        self.zone = zone
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
            shop = self._shop_digest()
            return View(
                text,
                self._state(text),
                shop,
                self.reckoned(name, text.words),
                None if before is None else self.reckoned(name, before),
                history.step(-1) is not None,
                history.step(1) is not None,
            )

    def state(self, name: str) -> str:
        """Return what tells the text of a piece in this shop from all others; raises as ``Folder.text``."""
        with self._one:
            return self._state(self.folder.text(name))

    def _state(self, text: Text) -> str:
        return f"{text.digest}-{self.workshop.digest()}"

    def reckoned(self, name: str, words: str) -> Reckoned:
        """Return what is known at once of a text of a piece."""
        with self._one:
            shop = self.workshop()
            key = (name, text_digest(words), id(shop[0]), self._record())
            known = self._known.get(key)
            if known is None:
                known = reckon(words, self.folder.path / name, shop, self.now())
                self._known[key] = known
                while len(self._known) > _KEPT:
                    self._known.popitem(last=False)
            self._known.move_to_end(key)
            return known

    def known(self, name: str, state: str) -> Reckoned | None:
        """Return what is known of a text that a piece has had, in the shop as it is; None where it is not kept."""
        with self._one:
            history = self._histories.get(name)
            words = None if history is None else history.knows(state.partition("-")[0])
            return None if words is None else self.reckoned(name, words)

    def tried(self, name: str, edit: AnyEdit, made_on: str) -> Reckoned:
        """Return what would come of an edit; nothing is written. Raises as ``take``."""
        with self._one:
            return self.reckoned(name, self._edited(name, (edit,), made_on))

    def take(self, name: str, edit: AnyEdit, made_on: str) -> View:
        """Make an edit and write the file; raises as ``take_all``."""
        with self._one:
            return self.take_all(name, Writes(piece=(*self._area_first(name, edit), edit)), made_on, None)

    def _area_first(self, name: str, edit: AnyEdit) -> tuple[AnyEdit, ...]:
        """Return the edit that writes a measured face, of which only the area is said, so that more can be."""
        if not isinstance(edit, SetValue | PutValue) or len(edit.path) != 5 or edit.path[2] != "faces":
            return ()
        area = value_at(self.view(name).reckoned.data, edit.path[:4])
        written = flow_text({"area": area}) if isinstance(area, str | int | float) else ""
        return (PutValue(path=edit.path[:4], value=written),) if written else ()

    def take_all(self, name: str, writes: Writes, made_on: str, shop_made_on: str | None) -> View:
        """Make edits of a piece and of the shop file, and write both; either all of them, or none.

        Parameters
        ----------
        name
            Of the piece file
        writes
            The edits
        made_on
            The digest of the piece's text
        shop_made_on
            The digest of the text of the shop file, where that is edited too

        Raises
        ------
        NewerTextError
            A file says something else than what the edits were made on.
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
            before = self.folder.text(name).words
            words = self._edited(name, writes.piece, made_on)
            self._refuse_mistake(name, before, words, writes.piece)
            if not writes.shop:
                return self._write(name, words, made_on)
            return self._write_both(name, words, made_on, self._shop_edited(writes.shop, shop_made_on))

    def begin_shop(self, name: str, made_on: str) -> View:
        """Write a shop file as it is begun with usual answers, as a step of a piece; raises as ``take_all``."""
        with self._one:
            words = self._edited(name, (), made_on)
            units = self.reckoned(name, words).units
            return self._write_both(name, words, made_on, ShopTexts(None, self.usual_shop(units)))

    def usual_shop(self, units: Units) -> str:
        """Return the text of a shop file of which nobody has said more than the units."""
        return write_shop(usual_shop(units, self.zone, holidays_by_zone(self.zone)))

    def write(self, name: str, words: str, made_on: str) -> View:
        """Write a whole text, right or wrong, in the place of the one it was made on; raises as ``Folder.save``."""
        with self._one:
            return self._write(name, words, made_on)

    def create(self, name: str, words: str) -> View:
        """Write a new piece file; raises as ``Folder.create``."""
        with self._one:
            self.folder.create(name, words)
            return self.view(name)

    def create_with_shop(self, name: str, words: str, units: Units) -> tuple[View, bool]:
        """Write a new piece file, and a shop file beside it where there is none: both, or none.

        Returns what it is, and whether the shop file was begun; raises as ``Folder.create``.
        """
        with self._one:
            if self.folder.has_shop:
                return self.create(name, words), False
            shop = self.usual_shop(units)
            self.folder.put_shop(shop, None)
            try:
                return self.create(name, words), True
            except FinplanError:
                self.folder.put_shop(None, text_digest(shop))
                raise

    def shop_problems(self) -> tuple[Problem, ...]:
        """Return what is wrong or unlikely in the shop file."""
        with self._one:
            workshop, problems = self.workshop()
            return problems if workshop is None else workshop.shop_file.doubts

    def step(self, name: str, by: int, made_on: str) -> View:
        """Undo (-1) or redo (1) the last edit; raises as ``Folder.save``."""
        with self._one:
            history = self._history(self.folder.text(name))
            step = history.step(by)
            if step is None:
                return self.view(name)
            if self.folder.text(name).digest != made_on:
                raise NewerTextError(newer_words(name))
            if step.shop is None:
                self.folder.save(name, step.words, made_on)
            else:
                self._save_both(name, step.words, made_on, step.shop)
            history.move(by)
            return self.view(name)

    def _write(self, name: str, words: str, made_on: str) -> View:
        history = self._history(self.folder.text(name))
        self.folder.save(name, words, made_on)
        history.wrote(words)
        return self.view(name)

    def _write_both(self, name: str, words: str, made_on: str, shop: ShopTexts) -> View:
        history = self._history(self.folder.text(name))
        self._save_both(name, words, made_on, shop)
        history.wrote(words, shop)
        return self.view(name)

    def _save_both(self, name: str, words: str, made_on: str, shop: ShopTexts) -> None:
        """Write the shop file and then the piece; where that cannot be written, the shop file is as it was."""
        self.folder.put_shop(shop.after, _digest(shop.before))
        try:
            self.folder.save(name, words, made_on)
        except FinplanError:
            self.folder.put_shop(shop.before, _digest(shop.after))
            raise

    def _edited(self, name: str, edits: Sequence[AnyEdit], made_on: str) -> str:
        text = self.folder.text(name)
        if text.digest != made_on:
            raise NewerTextError(newer_words(name))
        return all_edited(text.words, edits)

    def _shop_edited(self, edits: Sequence[AnyEdit], made_on: str | None) -> ShopTexts:
        """Return the texts of the shop file before and after edits, which bring no mistake into it."""
        text = self.folder.shop_text()
        if text is None or text.digest != made_on:
            raise NewerTextError(newer_words(SHOP))
        words = all_edited(text.words, edits)
        _, _, problems = workshop_and_problems(Written(Path(SHOP), words, self.folder.path))
        if problems:
            raise NotTakenError(problems)
        return ShopTexts(text.words, words)

    def _refuse_mistake(self, name: str, before: str, words: str, edits: Sequence[AnyEdit]) -> None:
        """Refuse what would be a mistake of its own: at what is written, or that what is taken out is missed."""
        there = self.reckoned(name, words).problems
        known = {(problem.where, problem.wrong) for problem in self.reckoned(name, before).problems} if edits else set()
        errors = []
        for edit in edits:
            if isinstance(edit, RenamePart | AddPart):
                continue
            new = isinstance(edit, SetValue)
            places = _places(edit.path, around=isinstance(edit, RemoveValue))
            errors += [
                problem
                for problem in there
                if problem.severity == "error"
                and (new or (problem.where, problem.wrong) not in known)
                and (
                    problem.where in places
                    or (not new and problem.where.startswith((f"{places[0]}.", f"{places[0]}[")))
                )
            ]
        if errors:
            raise NotTakenError(tuple(dict.fromkeys(errors)))

    def _shop_digest(self) -> str | None:
        text = self.folder.shop_text()
        return None if text is None else text.digest

    def _record(self) -> tuple[object, ...]:
        """Return what tells whether something was written into the record: in its file, or in the log before it."""
        ledger = self.folder.ledger
        return tuple(_looked(file) for file in (ledger, ledger.with_name(f"{ledger.name}-wal")))

    def _history(self, text: Text) -> History:
        history = self._histories.setdefault(text.name, History())
        history.seen(text.words, time.monotonic())
        return history


def _places(path: Where, *, around: bool) -> list[str]:
    return [show_path(path), *([show_path(path[:-1])] if around and len(path) > 1 else [])]


def _digest(words: str | None) -> str | None:
    return None if words is None else text_digest(words)


def _looked(file: Path) -> tuple[int, int]:
    try:
        status = file.stat()
    except OSError:
        return 0, 0
    return status.st_mtime_ns, status.st_size
