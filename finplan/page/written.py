"""How a value is written into a file: as it was typed where that is read again as what was meant, else in quotes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from finplan.problems import RefusedError
from finplan.reading import as_written, document_of


def scalar_text(typed: str, *, flow: bool = True, name: bool = False) -> str:
    """Return what is typed into a field as one scalar of a file.

    Parameters
    ----------
    typed
        The words
    flow
        Whether it stands within brackets
    name
        Whether it is the name of a field or a part: then it is these letters, whatever a number or a word may mean

    >>> scalar_text("3/4 in"), scalar_text("Table: the second"), scalar_text("yes, please"), scalar_text("")
    ('3/4 in', '"Table: the second"', '"yes, please"', '""')
    """
    words = " ".join(typed.split())
    holder = f"value: [{words}]\n" if flow else f"value: {words}\n"
    if words and not words.startswith(('"', "'", "{", "[", "&", "*", "!", "|", ">", "%", "@", "`")):
        try:
            data = document_of(holder, Path("piece.yaml")).data
        except RefusedError:
            data = {}
        read = data.get("value")
        if flow:
            read = read[0] if isinstance(read, list) and len(read) == 1 else None
        if _text(read) == words and len(data) == 1:
            return words
    return json.dumps(words, ensure_ascii=False)


def flow_text(value: Any) -> str:
    """Return a value of any kind in one line, groups and lists in brackets.

    >>> flow_text({"block": {"side": 70, "length": "1/2 in"}})
    '{block: {side: 70, length: 1/2 in}}'
    """
    if isinstance(value, dict):
        return "{" + ", ".join(f"{scalar_text(str(name))}: {flow_text(one)}" for name, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow_text(one) for one in value) + "]"
    return json.dumps(value) if _is_quoted(value) else scalar_text(_text(value) or "")


def same(one: Any, other: Any) -> bool:
    """Return whether two values mean the same and are written alike; what is no number is like itself."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[name], other[name]) for name in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return isinstance(one, str) == isinstance(other, str) and _text(one) is not None and _text(one) == _text(other)


def _is_quoted(value: Any) -> bool:
    """Return whether a text would be read as something else without quotes."""
    return isinstance(value, str) and not same(_plain(value), value)


def _plain(text: str) -> Any:
    try:
        return document_of(f"value: {scalar_text(text)}\n", Path("piece.yaml")).data["value"]
    except RefusedError:
        return None


def _text(value: Any) -> str | None:
    """Return a scalar as it is written; None for anything else."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return ""
    return as_written(value) if isinstance(value, str | int | float) else None
