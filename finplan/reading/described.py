"""What the fields of a model are, for a person: how each is written, whether it is needed, what it means."""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from finplan.reading.fields import Form

_PLAIN = {bool: "true or false", int: "a whole number", float: "a number", str: "text"}
_SIGNS = {"gt": "above", "ge": "from", "lt": "below", "le": "to"}

Target = Callable[[str, str], str]
"""Says of a path and a field, where it names something, of what: `` of timbers.yaml``."""


@dataclass(frozen=True, slots=True)
class FieldOf:
    """One field of a model as a person writes it."""

    name: str
    """As in the file; a field of a group with a dot: ``spread-rate.first``."""
    form: str
    """What it is, its bounds with it; behind a colon an example."""
    required: bool
    about: str
    """What it means."""
    hint: Any
    """The type that reads it, with what is noted beside it."""
    default: Any = None
    """What it is where nothing is said."""


def fields_of(model: type[BaseModel], target: Target | None = None, *, within: str = "") -> Iterator[FieldOf]:
    """Give the fields of a *model*, those of groups after their group.

    Parameters
    ----------
    model
        The class that reads them
    target
        Says whose names a field holds
    within
        The group that the model is, with its dot
    """
    hints = get_type_hints(model, include_extras=True)
    said = abouts(model)
    for field, info in model.model_fields.items():
        name = f"{within}{info.alias or field}"
        form = form_words(hints[field], target(name, field) if target else "") + _bounds(info)
        about = said.get(field) or info.description or ""
        default = None if info.is_required() else info.get_default(call_default_factory=True, validated_data={})
        yield FieldOf(name, form, info.is_required(), about, hints[field], default)
        inner = group_of(hints[field])
        if inner is not None:
            yield from fields_of(inner, target, within=f"{name}.")


def group_of(hint: Any) -> type[BaseModel] | None:
    """Return the model of a group of fields, also of a list or table of such groups."""
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return hint
    if any(isinstance(note, Form) for note in getattr(hint, "__metadata__", ())):
        return None
    return next((group for arg in get_args(hint) if (group := group_of(arg)) is not None), None)


def form_of(hint: Any) -> Form | None:
    """Return what is noted beside a type of how it is written; None where nothing is."""
    return next((note for note in getattr(hint, "__metadata__", ()) if isinstance(note, Form)), None)


def form_words(hint: Any, target: str = "") -> str:
    """Return how a field is written; *target* says whose name it is, where it names something."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        form = form_of(hint)
        return f"{form.words}{target}" if form else form_words(inner[0], target)
    if origin in (Union, UnionType):
        return " or ".join(form_words(choice, target) for choice in inner if choice is not NoneType)
    if origin is Literal:
        return f"one of {', '.join(str(word) for word in inner)}" if len(inner) > 1 else f"the word {inner[0]}"
    if origin is tuple:
        return f"a list, each {form_words(inner[0], target)}"
    if origin is dict:
        return f"names{target}, each with {form_words(inner[1])}"
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return "a group of fields"
    return _PLAIN.get(hint, str(hint))


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
def abouts(model: type[BaseModel]) -> dict[str, str]:
    """Return the text under each field in the source of a model and of what it is based on."""
    said: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if issubclass(base, BaseModel) and base is not BaseModel:
            said |= _said_in(base.__module__)[base.__name__]
    return said


@cache
def _said_in(module: str) -> dict[str, dict[str, str]]:
    """Return the text under each field of every class in the source of a module, which is parsed once."""
    source = ast.parse(inspect.getsource(sys.modules[module]))
    return {node.name: dict(_said_under(node)) for node in ast.walk(source) if isinstance(node, ast.ClassDef)}


def _said_under(node: ast.ClassDef) -> Iterator[tuple[str, str]]:
    for field, text in pairwise(node.body):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
            said = text.value.value if isinstance(text, ast.Expr) and isinstance(text.value, ast.Constant) else None
            if isinstance(said, str):
                yield field.target.id, " ".join(said.split())
