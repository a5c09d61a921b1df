"""Edits of a piece file, or of a shop file: small named operations on its text, of which all else stays as it is.

An edit takes out the characters of one value and puts others in their place, so comments, order and spelling of all
else survive byte for byte. What comes of it is read once more and held against what was meant: where a text cannot be
edited so, it is refused and left to the maker's own hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from finplan.page.in_text import (
    EditError,
    goes,
    in_flow,
    with_any,
    with_item,
    with_part,
    with_part_renamed,
    with_scalar,
    without_value,
)
from finplan.page.meant import renamed, with_item_at, with_value, without
from finplan.page.places import text_places
from finplan.page.written import flow_text, same, scalar_text
from finplan.problems import RefusedError, shown
from finplan.reading import document_of

MAX_TEXT = 2000
"""Characters of one value that is put in."""
MAX_EDITS = 400
"""That are made in one go."""
PlaceStep = Annotated[str, Field(max_length=200)] | Annotated[int, Field(ge=0, le=100_000)]
Path_ = Annotated[tuple[PlaceStep, ...], Field(min_length=1, max_length=20)]


class _Edit(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SetValue(_Edit):
    """A value is what is typed; where it is not in the file yet, it is put in."""

    do: Literal["set"] = "set"
    path: Path_
    value: Annotated[str, Field(max_length=MAX_TEXT)]


class PutValue(_Edit):
    """A value of any kind is put in the place of another, or where there is none: ``{mon-fri: 8:00-16:00}``."""

    do: Literal["put"] = "put"
    path: Path_
    value: Annotated[str, Field(max_length=MAX_TEXT)]


class AddItem(_Edit):
    """Something is added to a list, as it would be written in the file: ``2 x 100 x 22``, ``{side: 70}``."""

    do: Literal["add"] = "add"
    path: Path_
    value: Annotated[str, Field(max_length=MAX_TEXT)]
    before: Annotated[int, Field(ge=0, le=100_000)] | None = None
    """Before which in the list, counted from 0; None for its end."""


class RemoveValue(_Edit):
    """A field, a part or something in a list is taken out; a group that would be left empty goes with it."""

    do: Literal["remove"] = "remove"
    path: Path_


class RenamePart(_Edit):
    """A part gets another name, wherever the file speaks of it."""

    do: Literal["rename"] = "rename"
    part: Annotated[str, Field(max_length=200)]
    to: Annotated[str, Field(max_length=200)]


class AddPart(_Edit):
    """A part comes to the end of the parts, with its fields as they are written in a file."""

    do: Literal["add-part"] = "add-part"
    part: Annotated[str, Field(max_length=200)]
    fields: Annotated[dict[str, Annotated[str, Field(max_length=MAX_TEXT)]], Field(min_length=1, max_length=20)]


AnyEdit = SetValue | PutValue | AddItem | RemoveValue | RenamePart | AddPart
Edit = Annotated[AnyEdit, Field(discriminator="do")]


def all_edited(text: str, edits: Iterable[AnyEdit]) -> str:
    """Return the text with edits made on it, one after the other; raises as ``edited``."""
    for edit in edits:
        text = edited(text, edit)
    return text


def edited(text: str, edit: AnyEdit) -> str:
    """Return the text with an edit made on it.

    Raises
    ------
    EditError
        The edit cannot be made on this text.
    RefusedError
        The text, or what would come of it, is not YAML.
    """
    tree = text_places(text)
    data = _read(text)
    newline = "\r\n" if "\r\n" in text else "\n"
    match edit:
        case SetValue():
            meant: Any = _typed(edit.value)
            changed = with_scalar(
                text, tree, edit.path, scalar_text(edit.value, flow=in_flow(tree, edit.path)), newline
            )
            wanted = with_value(data, edit.path, meant)
        case PutValue():
            value, written = _fragment(edit.value)
            changed, wanted = with_any(text, tree, edit.path, written, newline), with_value(data, edit.path, value)
        case AddItem():
            value, written = _fragment(edit.value)
            there = tree.at(edit.path)
            length = len(there.items) if there is not None else 0
            at = length if edit.before is None else min(edit.before, length)
            changed = with_item(text, tree, edit.path, written, newline, at)
            wanted = with_item_at(data, edit.path, at, value)
        case RemoveValue():
            path = goes(tree, edit.path)
            changed, wanted = without_value(text, tree, path), without(data, path)
        case RenamePart():
            changed, wanted = with_part_renamed(text, tree, edit.part, edit.to), renamed(data, edit.part, edit.to)
        case AddPart():
            read = {name: _fragment(value) for name, value in edit.fields.items()}
            fields = {name: written for name, (_, written) in read.items()}
            changed = with_part(text, tree, edit.part, fields, newline)
            wanted = with_value(data, ("parts", edit.part), {name: value for name, (value, _) in read.items()})
    if not same(_read(changed), wanted):
        msg = "this cannot be put into the file so; write it in the file itself"
        raise EditError(msg)
    return changed


def _read(text: str) -> dict[str, Any]:
    return document_of(text, Path("piece.yaml")).data


def _typed(value: str) -> Any:
    """Return what a value means that is typed into a field: what it would mean in a file, else the words themselves."""
    return _read(f"value: {scalar_text(value, flow=False)}\n")["value"]


def _fragment(text: str) -> tuple[Any, str]:
    """Return what is written of a value of any kind, and the one line of it that can stand anywhere.

    Raises
    ------
    EditError
        It is not YAML.
    """
    one_line = " ".join(text.split())
    try:
        value = _read(f"value: [{one_line}]\n")["value"] if one_line else []
    except RefusedError:
        value = []
    if len(value) != 1:
        msg = f"{shown(text)} cannot be read; expected a value as it stands in a file"
        raise EditError(msg)
    return value[0], flow_text(value[0])


__all__ = [
    "MAX_EDITS",
    "AddItem",
    "AddPart",
    "AnyEdit",
    "Edit",
    "EditError",
    "PutValue",
    "RemoveValue",
    "RenamePart",
    "SetValue",
    "all_edited",
    "edited",
]
