"""Where everything stands in the text of a piece file: what an edit takes out and puts in its place."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

import yaml

from finplan.problems import RefusedError, Where
from finplan.reading import document_of

PlaceKind = Literal["scalar", "group", "list"]


@dataclass(frozen=True, slots=True)
class TextPlace:
    """A value in a text: from which character to which, and what is in it."""

    kind: PlaceKind
    start: int
    end: int
    """Behind its last character; of a group or list in lines, behind the last value in it."""
    column: int
    """Of its first character, counted from 0."""
    flow: bool = False
    """Whether a group or list is written in brackets."""
    style: str = ""
    """How a scalar is quoted: nothing, a quotation mark, or that of a block of text."""
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)
    """Where the names of a group stand."""
    fields: dict[str, TextPlace] = field(default_factory=dict)
    items: tuple[TextPlace, ...] = ()

    def at(self, path: Where) -> TextPlace | None:
        """Return what stands at a path from here; None where nothing does."""
        here: TextPlace | None = self
        for step in path:
            if here is None:
                return None
            if isinstance(step, int):
                here = here.items[step] if 0 <= step < len(here.items) else None
            else:
                here = here.fields.get(step)
        return here


def text_places(text: str) -> TextPlace:
    """Return where everything stands in a text.

    Raises
    ------
    RefusedError
        It is no piece file's text: not YAML, too long, too deep.
    """
    document_of(text, Path("piece.yaml"))  # bounded and of the kind that is read, before a tree of it is made
    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    node = yaml.compose(text, Loader=loader)
    if node is None:  # pragma: no cover - an empty text is refused above
        raise RefusedError([])
    return _place(node)


def _place(node: Any) -> TextPlace:
    start, end, column = node.start_mark.index, node.end_mark.index, node.start_mark.column
    if isinstance(node, yaml.MappingNode):
        fields = {key.value: _place(value) for key, value in node.value}
        keys = {key.value: (key.start_mark.index, key.end_mark.index) for key, _ in node.value}
        flow = bool(node.flow_style)
        last = end if flow else max((max(keys[name][1] + 1, value.end) for name, value in fields.items()), default=end)
        return TextPlace("group", start, last, column, flow, keys=keys, fields=fields)
    if isinstance(node, yaml.SequenceNode):
        items = tuple(_place(item) for item in node.value)
        flow = bool(node.flow_style)
        return TextPlace("list", start, end if flow else max(place.end for place in items), column, flow, items=items)
    return TextPlace("scalar", start, end, column, style=node.style or "")
