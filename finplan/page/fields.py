"""The fields of a piece file as a page shows them: each value with its path, its name in words, and what is wrong."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any
from urllib.parse import quote

from finplan.catalogue import Catalogue
from finplan.inputs import Piece
from finplan.inputs.shapes import SHAPES
from finplan.page.asked_fields import ASKED, AskedSteps, asked_steps
from finplan.page.field import Choice, Field, NotTakenFields, id_of, value_at, within
from finplan.page.labels import field_words
from finplan.page.lists import ListItem, ListShown, lists_of
from finplan.page.reckoned import Reckoned
from finplan.page.starting import starting_value
from finplan.problems import Problem, Where, show_path
from finplan.reading import as_written, file_name

EXPOSURES = ("show", "secondary", "covered")
_CHOICES: dict[str, tuple[str, ...]] = {
    "exposure": EXPOSURES,
    "grain": ("length", "width"),
    "front": ("open", "closed"),
    "units": ("metric", "us"),
}


@dataclass(frozen=True, slots=True)
class Beginning:
    """A field that is not there yet, and what it is begun with."""

    name: str
    path: str
    value: str


@dataclass(frozen=True, slots=True)
class ItemFields:
    """One of a list, with those of its fields that stand in no drawing."""

    item: ListItem
    path: str
    id: str
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class ListFields:
    """A list of a part, which can be added to and taken from."""

    shown: ListShown
    path: str
    id: str
    items: tuple[ItemFields, ...]


@dataclass(frozen=True, slots=True)
class PartFields:
    """All of one part that can be changed."""

    name: str
    id: str
    shape: str
    count: Field
    faces: tuple[Field, ...]
    others: tuple[Field, ...]
    """What does not stand in the drawing."""
    lists: tuple[ListFields, ...]
    addable: tuple[str, ...]
    begun: tuple[Beginning, ...]
    """Fields that can be put in with a button."""
    of_faces: tuple[Beginning, ...]
    """Likewise of single faces."""
    path: str
    problems: tuple[Problem, ...] = ()
    """Of the part as a whole, and of what is no field."""
    asked: tuple[AskedSteps, ...] = ()
    """Steps beside the coats that it gets in the place of the piece's."""
    drawing: tuple[Any, ...] = field(default=())


class Fields:
    """Makes the fields of one text; *typed* are values that were not taken, by path, with what is wrong with them."""

    def __init__(
        self,
        reckoned: Reckoned,
        catalogue: Catalogue,
        typed: NotTakenFields | None = None,
    ) -> None:
        self._reckoned = reckoned
        self._catalogue = catalogue
        self._typed = typed or {}

    def of(self, path: Where, label: str) -> Field:
        """Return the field at a path, whether it stands in the file or not."""
        value = value_at(self._reckoned.data, path)
        text = "" if value is None or isinstance(value, dict | list) else _text(value)
        problems = tuple(self._reckoned.at(show_path(path)))
        if path in self._typed:
            text, problems = self._typed[path]
        return Field(path, label, text, self._choices(path, text), problems)

    def _choices(self, path: Where, value: str) -> tuple[Choice, ...]:
        name = str(path[-1])
        if name in _CHOICES:
            choices = [Choice(choice, choice) for choice in _CHOICES[name]]
        elif name == "timber":
            choices = [Choice(choice, record.title) for choice, record in self._catalogue.timbers.items()]
        elif name == "system":
            choices = [Choice(choice, record.title) for choice, record in self._catalogue.systems.items()]
        elif name == "surface":
            choices = [Choice(choice, record.title) for choice, record in self._catalogue.surfaces.items()]
        else:
            return ()
        known = {choice.value for choice in choices}
        first = [] if value in known else [Choice(value, value or "not chosen yet")]
        return (*first, *choices)

    def chosen(self, path: Where, label: str, known: Iterable[str]) -> Field:
        """Return the field at a path that is one of the names that are *known*, or whatever stands there."""
        chosen = self.of(path, label)
        names = list(known)
        first = [] if chosen.value in names else [chosen.value]
        choices = tuple(Choice(choice, choice or "not chosen yet") for choice in [*first, *names])
        return replace(chosen, choices=choices)

    def asked(self, around: Where, of: str) -> tuple[AskedSteps, ...]:
        """Return the steps beside the coats of the piece, an assembly or a part, by its path and what it is called."""
        reckoned, steps = self._reckoned, self._catalogue.extra_steps
        return asked_steps(value_at(reckoned.data, around), around, of, steps, reckoned.problems, self._typed)

    def in_part(self, path: Where) -> Iterator[Field]:
        """Give a field for every value below a path of a part that stands in the file."""
        value = value_at(self._reckoned.data, path)
        if isinstance(value, dict):
            for name in value:
                yield from self.in_part((*path, str(name)))
        elif isinstance(value, list):
            for number in range(len(value)):
                yield from self.in_part((*path, number))
        else:
            yield self.of(path, part_label(path))

    def part(self, name: str, drawn: Collection[Where]) -> PartFields:
        """Return the fields of a part; those that are *drawn* stand in its drawing."""
        here: Where = ("parts", name)
        data = value_at(self._reckoned.data, here)
        written: Mapping[str, Any] = data if isinstance(data, dict) else {}
        shape = str(written.get("shape", ""))
        piece = self._reckoned.piece
        faces = _faces(piece, name)
        listed = [
            field_
            for key in written
            if key not in ("shape", "count", "faces", *ASKED)
            for field_ in self.in_part((*here, str(key)))
            if field_.path not in drawn
        ]
        rules = [
            field_
            for field_ in self.in_part((*here, "faces"))
            if field_.path[-1] != "exposure" or str(field_.path[3]) not in faces
        ]
        lengths = self._reckoned.data.get("lengths")
        of_file = lengths if isinstance(lengths, str) else None
        others = (*listed, *(rules if "faces" in written else []))
        with_lists = {key: value for key, value in written.items() if key not in ASKED}
        lists = _in_lists(here, tuple(lists_of(with_lists, of_file)), others)
        in_lists = {field_.path for each in lists for item in each.items for field_ in item.fields}
        return PartFields(
            name=name,
            id="part." + quote(name),
            shape=shape,
            count=self.of((*here, "count"), f"{name}, count"),
            faces=tuple(self._face(name, face, exposure) for face, exposure in faces.items()),
            others=tuple(field_ for field_ in others if field_.path not in in_lists),
            lists=lists,
            addable=_addable(shape, written),
            begun=tuple(self._begun(here, shape, written, of_file)),
            of_faces=tuple(_of_faces(faces, of_file)),
            path=json.dumps(here),
            problems=self._left_over(here, [*listed, *rules], drawn),
            asked=self.asked(here, name),
        )

    def _begun(self, here: Where, shape: str, written: Mapping[str, Any], lengths: str | None) -> Iterator[Beginning]:
        """Give the fields that can be put into a part with a button, each with what it is begun with."""
        own = {"timber": self._reckoned.data.get("timber"), "system": self._reckoned.data.get("system")}
        for name in _addable(shape, written):
            value = own.get(name) if name in own else starting_value(name, lengths, shape)
            if value and _makes_sense(name, shape, written):
                yield Beginning(name, json.dumps((*here, name)), str(value))

    def face(self, part: str, face: str) -> Field:
        """Return the field of how a face is exposed, by its name."""
        return self._face(part, face, _faces(self._reckoned.piece, part).get(face, "show"))

    def _face(self, part: str, face: str, exposure: str) -> Field:
        path: Where = ("parts", part, "faces", face, "exposure")
        problems = tuple(self._reckoned.at(show_path(path)))
        return Field(path, f"{part}, {face}", exposure, tuple(Choice(choice, choice) for choice in EXPOSURES), problems)

    def _left_over(self, here: Where, listed: Sequence[Field], drawn: Collection[Where]) -> tuple[Problem, ...]:
        """Return the problems of a part that stand at none of its fields."""
        at_fields = {show_path(field_.path) for field_ in listed} | {show_path(path) for path in drawn}
        at_fields |= {show_path((*here, "count"))}
        asked = {problem for when in ASKED for problem in within((*here, when), self._reckoned.problems)}
        problems = within(here, self._reckoned.problems)
        return tuple(problem for problem in problems if problem.where not in at_fields and problem not in asked)


def part_label(path: Where) -> str:
    """Return what a field of a part is called, its part first; the path is that in the file."""
    return f"{path[1]}, {field_words(path[2:])}"


def _in_lists(here: Where, lists: tuple[ListShown, ...], fields: Sequence[Field]) -> tuple[ListFields, ...]:
    """Return lists with their fields, each at the innermost item that it is of."""
    owners = sorted(((*here, *item.path) for list_shown in lists for item in list_shown.items), key=len, reverse=True)
    owned: dict[Where, list[Field]] = {}
    for shown in fields:
        owner = next((path for path in owners if shown.path[: len(path)] == path), None)
        if owner is not None:
            owned.setdefault(owner, []).append(shown)
    return tuple(
        ListFields(
            list_shown,
            json.dumps((*here, *list_shown.path)),
            id_of("l.", (*here, *list_shown.path)),
            tuple(
                ItemFields(
                    item,
                    json.dumps((*here, *item.path)),
                    id_of("i.", (*here, *item.path)),
                    tuple(owned.get((*here, *item.path), ())),
                )
                for item in list_shown.items
            ),
        )
        for list_shown in lists
    )


def _of_faces(faces: Mapping[str, str], lengths: str | None) -> Iterator[Beginning]:
    """Give what can be said of a face in general; the face is chosen beside it."""
    for name in ("less", "coats", "surface", "start-grit", "stop-grit", "veneer"):
        value = starting_value(name, lengths)
        if faces and value:
            yield Beginning("patch" if name == "less" else name, name, value)


def _text(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else as_written(value)


def _faces(piece: Piece | None, part: str) -> dict[str, str]:
    if piece is None or part not in piece.parts:
        return {}
    shape = piece.parts[part]
    return {face: shape.exposure(face) for face in shape.face_names()}


def _makes_sense(name: str, shape: str, written: Mapping[str, Any]) -> bool:
    """Return whether a field may be put into a part of a shape as it is."""
    return SHAPES[shape].HAS_WIDTH if name == "grain" else name != "smooth" or "points" in written


def _addable(shape: str, written: Mapping[str, Any]) -> tuple[str, ...]:
    model = SHAPES.get(shape)
    if model is None:
        return ()
    names = (info.alias or file_name(name) for name, info in model.model_fields.items())
    return tuple(name for name in names if name not in written and name not in ("shape", "faces", "count", *ASKED))
