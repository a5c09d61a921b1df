"""What forms of the page send, as edits."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Annotated

from pydantic import Field, TypeAdapter, ValidationError

from finplan.page.edits import MAX_EDITS, AddPart, Edit, EditError, RemoveValue, SetValue
from finplan.page.helps import Writes
from finplan.page.starting import starting_fields
from finplan.page.written import flow_text, scalar_text
from finplan.problems import shown

_EDIT: TypeAdapter[Edit] = TypeAdapter(Edit)
_JOINED = "join."
_EDITS: TypeAdapter[list[Edit]] = TypeAdapter(Annotated[list[Edit], Field(max_length=MAX_EDITS)])


def edit_of(form: Mapping[str, str], *, there: bool, lengths: str | None) -> Edit:
    """Return the edit that a form asks for.

    Parameters
    ----------
    form
        Its fields
    there
        Whether the field that it sets is in the file
    lengths
        The unit of the file's bare numbers

    Raises
    ------
    EditError
        It asks for no edit that there is.
    """
    do = form.get("do", "set")
    if do == "add-shape":
        return _part(form.get("part", ""), form.get("shape", ""), lengths)
    if do == "join":
        return _assembly(form)
    if do == "glue":
        return _joint(form)
    if do == "number":
        return _counted(form)
    if do == "sample":
        return _sample(form)
    if do == "of-face":
        field, _, value = form.get("gets", "").partition("=")
        return _valid(
            {"do": "put", "path": [*_path(form.get("path", "")), "faces", form.get("face", ""), field], "value": value}
        )
    fields: dict[str, object] = {"do": do}
    if do == "add" and form.get("before", "").isdigit():
        fields["before"] = int(form["before"][:7])
    if do in ("set", "put", "add", "remove"):
        path = _path(form.get("path", ""))
        if do in ("set", "put") and form.get("field"):
            path = [*path, *form["field"].strip().split(".")]
        if do == "set" and not form.get("value", "").strip() and there:
            return _valid({"do": "remove", "path": path})
        fields["path"] = path
    if do in ("set", "put", "add"):
        fields["value"] = form.get("value", "").strip()
    if do == "rename":
        fields |= {"part": form.get("part", ""), "to": form.get("to", "").strip()}
    return _valid(fields)


def writes_of_form(form: Mapping[str, str]) -> Writes:
    """Return the edits of the piece file and of the shop file that a form carries; raises as ``edit_of``."""
    try:
        return Writes(*(tuple(_EDITS.validate_json(form.get(name) or "[]")) for name in ("piece", "shop")))
    except ValidationError as error:
        msg = f"this is no edit: {error.errors()[0]['msg']}"
        raise EditError(msg) from None


def path_of(form: Mapping[str, str]) -> tuple[str | int, ...]:
    """Return the path of the field that a form sets; raises as ``edit_of``."""
    return tuple(_path(form.get("path", "[]")))


def _path(text: str) -> list[str | int]:
    try:
        steps = json.loads(text)
    except (ValueError, RecursionError):
        steps = None
    if not isinstance(steps, list) or not all(
        isinstance(step, str | int) and not isinstance(step, bool) for step in steps
    ):
        msg = f"{shown(text)} is no path of a field"
        raise EditError(msg)
    return steps


def _valid(fields: Mapping[str, object]) -> Edit:
    try:
        return _EDIT.validate_python(fields)
    except ValidationError as error:
        msg = f"this is no edit: {error.errors()[0]['msg']}"
        raise EditError(msg) from None


def _assembly(form: Mapping[str, str]) -> Edit:
    parts = [name.removeprefix(_JOINED) for name, value in form.items() if name.startswith(_JOINED) and value]
    name = form.get("name", "").strip()
    if not name or not parts:
        msg = "an assembly has a name, and parts that are joined in it; expected both"
        raise EditError(msg)
    return _valid({"do": "put", "path": ["assemblies", name], "value": flow_text({"parts": parts})})


def _counted(form: Mapping[str, str]) -> Edit:
    """Return the edit by which a step is asked for with a number; of no number, for each part."""
    name, number = form.get("name", ""), form.get("value", "").strip()
    written = f"{{{scalar_text(name)}: {scalar_text(number)}}}" if number else flow_text(name)
    return _valid({"do": "put", "path": _path(form.get("path", "")), "value": written})


def _sample(form: Mapping[str, str]) -> Edit:
    what, by = form.get("what", ""), form.get("by", "")
    path = _path(form.get("path", ""))
    return _valid({"do": "set", "path": path, "value": f"{what} {by}"} if what else {"do": "remove", "path": path})


def _joint(form: Mapping[str, str]) -> Edit:
    (part, face), (on_part, on) = (_pair_of(form.get(name, "")) for name in ("one", "other"))
    return _valid(
        {"do": "add", "path": ["joints"], "value": flow_text({"from": part, "face": face, "to": on_part, "on": on})}
    )


def _pair_of(text: str) -> tuple[str, str]:
    pair = _path(text)
    if len(pair) != 2:
        msg = f"{shown(text)} is no face of a part"
        raise EditError(msg)
    return str(pair[0]), str(pair[1])


def _part(name: str, shape: str, lengths: str | None) -> AddPart:
    try:
        fields = starting_fields(shape, lengths)
    except KeyError:
        msg = f"{shown(shape)} is no shape that a part can be begun with"
        raise EditError(msg) from None
    if len(name) > 200:
        msg = f"{shown(name)} is too long for a name"
        raise EditError(msg)
    return AddPart(part=name.strip() or shape, fields=fields)


__all__ = ["RemoveValue", "SetValue", "edit_of", "path_of"]
