"""The fields of each kind of record for a person, read from the models: name, form, whether required, what it is."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from finplan.catalogue import MODELS, RECORD_NAMES
from finplan.reading import Form

WIDTH = 110
"""Characters in a line."""

_PLAIN = {bool: "true or false", int: "a whole number", float: "a number", str: "text"}


@dataclass(frozen=True, slots=True)
class FieldOf:
    """One field of a record as a person writes it."""

    name: str
    """As in the file; a field of a group with a dot: ``spread-rate.first``."""
    form: str
    required: bool
    about: str


def fields_of_kind(kind: str) -> list[FieldOf]:
    """Return the fields of the records of a *kind*, those of groups after their group."""
    return list(_fields(MODELS[kind], kind))


def field_lines(kind: str) -> list[str]:
    """Return the fields of a *kind* as lines for a person.

    >>> print(field_lines("caps")[2])
      title           required  a few words
    """
    found = fields_of_kind(kind)
    width = max(len(field.name) for field in found)
    about = " ".join((inspect.getdoc(MODELS[kind]) or "").split())
    lines = [*textwrap.wrap(f"{kind}.yaml: {about}", WIDTH), ""]
    for field in found:
        head = f"  {field.name:<{width}}  {'required' if field.required else '        '}  "
        lines += textwrap.wrap(field.form, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))
        lines += textwrap.wrap(field.about, WIDTH, initial_indent=" " * len(head), subsequent_indent=" " * len(head))
    return lines


def _fields(model: type[BaseModel], kind: str, group: str = "") -> Iterator[FieldOf]:
    hints = get_type_hints(model, include_extras=True)
    abouts = _abouts(model)
    for field, info in model.model_fields.items():
        name = f"{group}{info.alias or field}"
        inner = _group(hints[field])
        form = _form(hints[field], _target(kind, name, field)) + _bounds(info)
        yield FieldOf(name, form, info.is_required(), abouts.get(field, ""))
        if inner is not None:
            yield from _fields(inner, kind, f"{name}.")


def _target(kind: str, path: str, field: str) -> str:
    target = "sources" if field == "basis" else RECORD_NAMES.get(kind, {}).get(path)
    return f" of {target}.yaml" if target else ""


def _group(hint: Any) -> type[BaseModel] | None:
    """Return the model of a group of fields, also of a list or table of such groups."""
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return hint
    if any(isinstance(note, Form) for note in getattr(hint, "__metadata__", ())):
        return None
    return next((found for one in get_args(hint) if (found := _group(one)) is not None), None)


def _form(hint: Any, target: str = "") -> str:
    """Return how a field is written; *target* says whose name it is, where it names a record."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        words = next((note.words for note in hint.__metadata__ if isinstance(note, Form)), None)
        return f"{words}{target}" if words else _form(inner[0], target)
    if origin in (Union, UnionType):
        return " or ".join(_form(one, target) for one in inner if one is not NoneType)
    if origin is Literal:
        return f"one of {', '.join(str(one) for one in inner)}"
    if origin is tuple:
        return f"a list, each {_form(inner[0], target)}"
    if origin is dict:
        return f"names{target}, each with {_form(inner[1])}"
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return "a group of fields"
    return _PLAIN.get(hint, str(hint))


_SIGNS = {"gt": "above", "ge": "from", "lt": "below", "le": "to"}


def _bounds(info: FieldInfo) -> str:
    """Return the bounds of a number in words."""
    words = [
        f"{word} {getattr(note, sign):g}"
        for note in info.metadata
        for sign, word in _SIGNS.items()
        if isinstance(getattr(note, sign, None), (int, float))
    ]
    return f" {' '.join(words)}" if words else ""


@cache
def _abouts(model: type[BaseModel]) -> dict[str, str]:
    """Return the text under each field in the source of a model and of what it is based on."""
    found: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if not issubclass(base, BaseModel) or base is BaseModel:
            continue
        (body,) = ast.parse(textwrap.dedent(inspect.getsource(base))).body
        statements = body.body if isinstance(body, ast.ClassDef) else []
        for field, text in pairwise(statements):
            if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
                said = text.value.value if isinstance(text, ast.Expr) and isinstance(text.value, ast.Constant) else None
                if isinstance(said, str):
                    found[field.target.id] = " ".join(said.split())
    return found
