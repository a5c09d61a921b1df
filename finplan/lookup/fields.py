"""The fields of each kind of record for a person, read from the models: name, form, whether required, what it is."""

from __future__ import annotations

import inspect
import textwrap

from finplan.catalogue import MODELS, RECORD_NAMES
from finplan.reading import FieldOf, fields_of

WIDTH = 110
"""Characters in a line."""


def fields_of_kind(kind: str) -> list[FieldOf]:
    """Return the fields of the records of a *kind*, those of groups after their group."""

    def target(path: str, field: str) -> str:
        of = "sources" if field == "basis" else RECORD_NAMES.get(kind, {}).get(path)
        return f" of {of}.yaml" if of else ""

    return list(fields_of(MODELS[kind], target))


def kind_lines(kind: str) -> list[str]:
    """Return the fields of a *kind* as lines for a person.

    >>> print(kind_lines("caps")[2])
      title           required  a few words
    """
    fields = fields_of_kind(kind)
    width = max(len(field.name) for field in fields)
    about = " ".join((inspect.getdoc(MODELS[kind]) or "").split())
    lines = [*textwrap.wrap(f"{kind}.yaml: {about}", WIDTH), ""]
    for field in fields:
        head = f"  {field.name:<{width}}  {'required' if field.required else '        '}  "
        lines += textwrap.wrap(field.form, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))
        lines += textwrap.wrap(field.about, WIDTH, initial_indent=" " * len(head), subsequent_indent=" " * len(head))
    return lines
