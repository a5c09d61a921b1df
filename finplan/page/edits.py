"""Edits of a piece file: small named operations on its text, of which all that they do not touch stays as it is.

An edit takes out the characters of one value and puts others in their place, so comments, order and spelling of all
else survive byte for byte. What comes of it is read once more and held against what was meant: where a text cannot be
edited so, it is refused and left to the maker's own hand.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from finplan.page.meant import renamed, with_value, without
from finplan.page.places import TextPlace, places
from finplan.page.written import flow_text, same, scalar_text
from finplan.problems import FinplanError, RefusedError, Where, show_path, shown
from finplan.reading import document_of, wrong_with_name

MAX_TEXT = 2000
"""Characters of one value that is put in."""
PlaceStep = Annotated[str, Field(max_length=200)] | Annotated[int, Field(ge=0, le=100_000)]
Path_ = Annotated[tuple[PlaceStep, ...], Field(min_length=1, max_length=20)]


class EditError(FinplanError):
    """An edit that cannot be made on this text; says why."""


class _Edit(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SetValue(_Edit):
    """A value is what is typed; where it is not in the file yet, it is put in."""

    do: Literal["set"] = "set"
    path: Path_
    value: Annotated[str, Field(max_length=MAX_TEXT)]


class AddItem(_Edit):
    """Something is added to the end of a list, as it would be written in the file: ``2 x 100 x 22``, ``{side: 70}``."""

    do: Literal["add"] = "add"
    path: Path_
    value: Annotated[str, Field(max_length=MAX_TEXT)]


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


Edit = Annotated[SetValue | AddItem | RemoveValue | RenamePart | AddPart, Field(discriminator="do")]


def edited(text: str, edit: SetValue | AddItem | RemoveValue | RenamePart | AddPart) -> str:
    """Return the text with an edit made on it.

    Raises
    ------
    EditError
        The edit cannot be made on this text.
    RefusedError
        The text, or what would come of it, is not YAML.
    """
    tree = places(text)
    data = _read(text)
    newline = "\r\n" if "\r\n" in text else "\n"
    match edit:
        case SetValue():
            meant: Any = _typed(edit.value)
            found = _set(text, tree, edit.path, scalar_text(edit.value, flow=_in_flow(tree, edit.path)), newline)
            wanted = with_value(data, edit.path, meant)
        case AddItem():
            value, written = _fragment(edit.value)
            found = _add(text, tree, edit.path, written, newline)
            there = tree.at(edit.path)
            length = len(there.items) if there is not None else 0
            wanted = with_value(data, (*edit.path, length), value)
        case RemoveValue():
            path = _goes(tree, edit.path)
            found, wanted = _removed(text, tree, path), without(data, path)
        case RenamePart():
            found, wanted = _renamed(text, tree, edit.part, edit.to), renamed(data, edit.part, edit.to)
        case AddPart():
            read = {name: _fragment(value) for name, value in edit.fields.items()}
            fields = {name: written for name, (_, written) in read.items()}
            found = _with_part(text, tree, edit.part, fields, newline)
            wanted = with_value(data, ("parts", edit.part), {name: value for name, (value, _) in read.items()})
    if not same(_read(found), wanted):
        msg = "this cannot be put into the file so; write it in the file itself"
        raise EditError(msg)
    return found


def _read(text: str) -> dict[str, Any]:
    return document_of(text, Path("piece.yaml")).data


def _typed(value: str) -> Any:
    """Return what a value means that is typed into a field: what it would mean in a file, else the words themselves."""
    return _read(f"value: {scalar_text(value)}\n")["value"]


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


def _in_flow(tree: TextPlace, path: Where) -> bool:
    here: TextPlace | None = tree
    for length in range(len(path)):
        here = tree.at(path[:length])
        if here is None or here.flow:
            return True  # what is not there yet is put in with brackets
    return False


def _set(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    there = tree.at(path)
    if there is None:
        return _inserted(text, tree, path, written, newline)
    if there.kind != "scalar":
        msg = f"{show_path(path)} is a {there.kind} of values; write it in the file itself"
        raise EditError(msg)
    if there.start == there.end:  # nothing stands behind the name
        return (
            text[: there.start]
            + (" " if text[there.start - 1 : there.start] == ":" else "")
            + written
            + text[there.end :]
        )
    tail = newline if there.style in ("|", ">") and text[there.start : there.end].endswith("\n") else ""
    return text[: there.start] + written + tail + text[there.end :]


def _inserted(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    """Return the text with a value at a path where there is none."""
    parent, name = tree.at(path[:-1]), path[-1]
    if isinstance(name, int):
        msg = f"{show_path(path)} is not in the file"
        raise EditError(msg)
    entry = f"{scalar_text(name, flow=True)}: {written}"
    if parent is None:
        return _inserted(text, tree, path[:-1], f"{{{entry}}}", newline)
    if parent.kind == "scalar" and parent.start == parent.end:
        return _set(text, tree, path[:-1], f"{{{entry}}}", newline)
    if parent.kind != "group":
        msg = f"{show_path(path[:-1])} is written as one value; write it as a group in the file itself"
        raise EditError(msg)
    if parent.flow:
        if not parent.fields:
            return text[: parent.end - 1] + entry + text[parent.end - 1 :]
        last = max(max(parent.keys[one][1], place.end) for one, place in parent.fields.items())
        return f"{text[:last]}, {entry}{text[last:]}"
    return _new_line(text, parent.end, f"{' ' * parent.column}{entry}", newline)


def _new_line(text: str, behind: int, line: str, newline: str) -> str:
    """Return the text with a line after the one in which something ends; a comment behind that stays with it."""
    if text[behind - 1 : behind] == "\n":
        return f"{text[:behind]}{line}{newline}{text[behind:]}"
    end = text.find("\n", behind)
    if end < 0:
        return f"{text}{newline}{line}{newline}"
    return f"{text[: end + 1]}{line}{newline}{text[end + 1 :]}"


def _add(text: str, tree: TextPlace, path: Where, written: str, newline: str) -> str:
    there = tree.at(path)
    if there is None:
        return _inserted(text, tree, path, f"[{written}]", newline)
    if there.kind == "scalar" and there.start == there.end:
        return _set(text, tree, path, f"[{written}]", newline)
    if there.kind != "list":
        msg = f"{show_path(path)} is no list; write it in the file itself"
        raise EditError(msg)
    if there.flow:
        if not there.items:
            return text[: there.end - 1] + written + text[there.end - 1 :]
        last = there.items[-1].end
        return f"{text[:last]}, {written}{text[last:]}"
    one_field = there.items[0].kind == "group" and not there.items[0].flow
    own_line = written[1:-1] if one_field and written.startswith("{") else written
    return _new_line(text, there.end, f"{' ' * there.column}- {own_line}", newline)


def _goes(tree: TextPlace, path: Where) -> Where:
    """Return what is taken out in the end: with what is in it alone, the group or list around it."""
    if tree.at(path) is None:
        msg = f"{show_path(path)} is not in the file"
        raise EditError(msg)
    while len(path) > 1:
        around = tree.at(path[:-1])
        if around is None or len(around.fields) + len(around.items) > 1:
            break
        path = path[:-1]
    if path == ("parts",):
        msg = "this is the only part, and a piece has at least one"
        raise EditError(msg)
    return path


def _removed(text: str, tree: TextPlace, path: Where) -> str:
    around, there, name = tree.at(path[:-1]), tree.at(path), path[-1]
    if around is None or there is None:  # pragma: no cover - asked before
        raise EditError(show_path(path))
    starts = [place[0] for place in around.keys.values()] or [one.start for one in around.items]
    start = around.keys[name][0] if isinstance(name, str) else there.start
    end = max(there.end, around.keys[name][1] + 1 if isinstance(name, str) else 0)
    at = starts.index(start)
    if around.flow:
        if at + 1 < len(starts):
            return text[:start] + text[starts[at + 1] :]
        before = around.items[at - 1].end if around.items else list(around.fields.values())[at - 1].end
        return text[: before if at else start] + text[end:]
    line = text.rfind("\n", 0, start) + 1
    if isinstance(name, int):
        dash = text.rfind("-", line, start)
        start = dash if dash >= 0 else start
    if text[line:start].strip():  # behind the dash of a list
        if at + 1 < len(starts) and isinstance(name, str):
            return text[:start] + text[starts[at + 1] :]
        msg = f"{show_path(path)} stands in one line with others; take it out in the file itself"
        raise EditError(msg)
    if text[end - 1 : end] != "\n":
        found = text.find("\n", end)
        end = len(text) if found < 0 else found + 1
    return text[:line] + text[end:]


def _renamed(text: str, tree: TextPlace, part: str, to: str) -> str:
    _named(tree, to)
    parts = tree.at(("parts",))
    if parts is None or part not in parts.fields:
        msg = f"there is no part {shown(part)}"
        raise EditError(msg)
    spans = [(*parts.keys[part], parts.flow)]
    groups = tree.at(("assemblies",))
    for name in groups.fields if groups is not None else ():
        listed = tree.at(("assemblies", name, "parts"))
        spans += [(one.start, one.end, True) for one in (listed.items if listed else ()) if _says(text, one, part)]
    joints = tree.at(("joints",))
    for joint in joints.items if joints is not None else ():
        ends = [joint.fields[end] for end in ("from", "to") if end in joint.fields]
        spans += [(one.start, one.end, True) for one in ends if _says(text, one, part)]
    for start, end, flow in sorted(spans, reverse=True):
        text = text[:start] + scalar_text(to, flow=flow, name=True) + text[end:]
    return text


def _says(text: str, place: TextPlace, name: str) -> bool:
    if place.kind != "scalar":
        return False
    return str(_read(f"value: {text[place.start : place.end]}\n")["value"]) == name


def _named(tree: TextPlace, name: str) -> None:
    """Refuse what is no name for a new part."""
    wrong = wrong_with_name(name)
    if wrong is not None:
        msg = "; ".join(wrong)
        raise EditError(msg)
    for group, what in (("parts", "part"), ("assemblies", "assembly")):
        named = tree.at((group,))
        if named is not None and name in named.fields:
            msg = f"there is a{'n' if what == 'assembly' else ''} {what} {shown(name)} already; expected another name"
            raise EditError(msg)


def _with_part(text: str, tree: TextPlace, part: str, fields: dict[str, str], newline: str) -> str:
    _named(tree, part)
    parts = tree.at(("parts",))
    name = scalar_text(part, flow=parts is not None and parts.flow, name=True)
    whole = "{" + ", ".join(f"{one}: {value}" for one, value in fields.items()) + "}"
    if parts is None:
        indent, head = 2, f"parts:{newline}"
        behind = tree.end
    elif parts.kind != "group" or parts.flow:
        return _inserted(text, tree, ("parts", part), whole, newline)
    else:
        indent, head, behind = parts.column, "", parts.end
    lines = [f"{' ' * indent}{name}:", *(f"{' ' * (2 * indent)}{one}: {value}" for one, value in fields.items())]
    return _new_line(text, behind, head + newline.join(lines), newline)
