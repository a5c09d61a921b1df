"""The fields of a piece file as a page shows them: each value with its path, its name in words, and what is wrong."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

from finplan.catalogue import Catalogue
from finplan.inputs import Piece
from finplan.inputs.shapes import SHAPES
from finplan.page.reckoned import Reckoned
from finplan.problems import Problem, Where, show_path
from finplan.reading import as_written, file_name

NotTakenFields = Mapping[Where, tuple[str, tuple[Problem, ...]]]
"""Values that were typed and not taken, by path, each with what is wrong with it."""
EXPOSURES = ("show", "secondary", "covered")
_CHOICES: dict[str, tuple[str, ...]] = {
    "exposure": EXPOSURES,
    "grain": ("length", "width"),
    "front": ("open", "closed"),
    "units": ("metric", "us"),
}


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the values that a field may have."""

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Field:
    """A value of the file that can be changed."""

    path: Where
    label: str
    """What it is, in words: ``top, diameter``."""
    value: str
    """As it stands in the file; empty where it does not."""
    choices: tuple[Choice, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def id(self) -> str:
        """What tells it from all others of the page."""
        return "f." + quote(".".join(map(str, self.path)), safe=".")

    @property
    def json_path(self) -> str:
        """Its path, as an edit names it."""
        return json.dumps(self.path)

    @property
    def short(self) -> str:
        """What it is within its part."""
        return self.label.partition(", ")[2] or self.label


@dataclass(frozen=True, slots=True)
class Addable:
    """A field that a part does not have yet."""

    name: str


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
    addable: tuple[str, ...]
    path: str
    problems: tuple[Problem, ...] = ()
    """Of the part as a whole, and of what is no field."""
    drawing: tuple[Any, ...] = field(default=())


class Fields:
    """Makes the fields of one text; *typed* are values that were not taken, by path, with what is wrong with them."""

    def __init__(
        self,
        found: Reckoned,
        catalogue: Catalogue,
        typed: NotTakenFields | None = None,
    ) -> None:
        self._found = found
        self._catalogue = catalogue
        self._typed = typed or {}

    def of(self, path: Where, label: str) -> Field:
        """Return the field at a path, whether it stands in the file or not."""
        value = value_at(self._found.data, path)
        text = "" if value is None or isinstance(value, dict | list) else _text(value)
        problems = tuple(self._found.at(show_path(path)))
        if path in self._typed:
            text, problems = self._typed[path]
        return Field(path, label, text, self._choices(path, text), problems)

    def _choices(self, path: Where, value: str) -> tuple[Choice, ...]:
        name = str(path[-1])
        if name in _CHOICES:
            found = [Choice(one, one) for one in _CHOICES[name]]
        elif name == "timber":
            found = [Choice(one, record.title) for one, record in self._catalogue.timbers.items()]
        elif name == "system":
            found = [Choice(one, record.title) for one, record in self._catalogue.systems.items()]
        elif name == "surface":
            found = [Choice(one, record.title) for one, record in self._catalogue.surfaces.items()]
        else:
            return ()
        known = {one.value for one in found}
        first = [] if value in known else [Choice(value, value or "not chosen yet")]
        return (*first, *found)

    def in_file(self, path: Where, label: str) -> Iterator[Field]:
        """Give a field for every value below a path that stands in the file."""
        value = value_at(self._found.data, path)
        if isinstance(value, dict):
            for name in value:
                yield from self.in_file((*path, str(name)), f"{label} {name}")
        elif isinstance(value, list):
            for number in range(len(value)):
                yield from self.in_file((*path, number), f"{label} {number + 1}")
        else:
            yield self.of(path, label)

    def part(self, name: str, drawn: Collection[Where]) -> PartFields:
        """Return the fields of a part; those that are *drawn* stand in its drawing."""
        here: Where = ("parts", name)
        data = value_at(self._found.data, here)
        written: Mapping[str, Any] = data if isinstance(data, dict) else {}
        shape = str(written.get("shape", ""))
        piece = self._found.piece
        faces = _faces(piece, name)
        listed = [
            one
            for key in written
            if key not in ("shape", "count", "faces")
            for one in self.in_file((*here, str(key)), f"{name}, {key}")
            if one.path not in drawn
        ]
        rules = [
            one
            for one in self.in_file((*here, "faces"), f"{name}, face")
            if one.path[-1] != "exposure" or str(one.path[3]) not in faces
        ]
        return PartFields(
            name=name,
            id="part." + quote(name),
            shape=shape,
            count=self.of((*here, "count"), f"{name}, count"),
            faces=tuple(self._face(name, face, exposure) for face, exposure in faces.items()),
            others=(*listed, *(rules if "faces" in written else [])),
            addable=_addable(shape, written),
            path=json.dumps(here),
            problems=self._left_over(here, [*listed, *rules], drawn),
        )

    def face(self, part: str, face: str) -> Field:
        """Return the field of how a face is exposed, by its name."""
        return self._face(part, face, _faces(self._found.piece, part).get(face, "show"))

    def _face(self, part: str, face: str, exposure: str) -> Field:
        path: Where = ("parts", part, "faces", face, "exposure")
        problems = tuple(self._found.at(show_path(path)))
        return Field(path, f"{part}, {face}", exposure, tuple(Choice(one, one) for one in EXPOSURES), problems)

    def _left_over(self, here: Where, listed: Sequence[Field], drawn: Collection[Where]) -> tuple[Problem, ...]:
        """Return the problems of a part that stand at none of its fields."""
        at_fields = {show_path(one.path) for one in listed} | {show_path(path) for path in drawn}
        at_fields |= {show_path((*here, "count"))}
        prefix = show_path(here)
        return tuple(
            one
            for one in self._found.problems
            if (one.where == prefix or one.where.startswith((f"{prefix}.", f"{prefix}[")))
            and one.where not in at_fields
        )


def value_at(data: Any, path: Where) -> Any:
    """Return what stands at a path of a file's data; None where nothing does."""
    for step in path:
        if isinstance(step, int) and isinstance(data, list) and step < len(data):
            data = data[step]
        elif isinstance(step, str) and isinstance(data, dict):
            data = data.get(step)
        else:
            return None
    return data


def written_path(data: Any, path: Where) -> Where | None:
    """Return where a field of a drawing stands in a file: ``*`` is the one name that is there, a short form is its own.

    None where it stands nowhere as one value.
    """
    found: list[str | int] = []
    for step in path:
        if isinstance(data, dict) and step == "*" and len(data) == 1:
            step = next(iter(data))
        if not isinstance(data, dict | list):
            break
        data = value_at(data, (step,))
        found.append(step)
    return None if data is None or isinstance(data, dict | list) else tuple(found)


def _text(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else as_written(value)


def _faces(piece: Piece | None, part: str) -> dict[str, str]:
    if piece is None or part not in piece.parts:
        return {}
    found = piece.parts[part]
    return {face: found.exposure(face) for face in found.face_names()}


def _addable(shape: str, written: Mapping[str, Any]) -> tuple[str, ...]:
    model = SHAPES.get(shape)
    if model is None:
        return ()
    names = (info.alias or file_name(name) for name, info in model.model_fields.items())
    return tuple(name for name in names if name not in written and name not in ("shape", "faces", "count"))
