"""The schemas of what is printed as JSON, made from the types of rows: a key is a field, its meaning the text under it.

One is of the plan and its parts, one of what all other commands answer.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from pydantic import ConfigDict, TypeAdapter

import finplan
from finplan.data import (
    BegunRow,
    BuyRow,
    CheckRow,
    DoneRow,
    FaultsRow,
    FieldsRow,
    FormsRow,
    LearntRow,
    LedgerRow,
    PlanRow,
    QuoteRow,
    RepairRow,
    ReviewRow,
    StockRow,
    SystemsRow,
)

Schema = dict[str, Any]

FILE = Path(finplan.__file__).parent / "guide" / "plan.schema.json"
ANSWERS = FILE.with_name("answers.schema.json")
_WIDTH = 118
_CONFIG = ConfigDict(extra="forbid", use_attribute_docstrings=True)
_OWN = {
    "date-time": {
        "title": "Time",
        "type": "string",
        "pattern": r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}[+-]\d{2}:\d{2}$",
        "description": "ISO 8601, to the minute, with its offset from universal time: `2027-03-02T08:00+00:00`.",
    },
    "date": {
        "title": "Day",
        "type": "string",
        "pattern": r"^\d{4}-\d{2}-\d{2}$",
        "description": "A day on the shop's calendar: `2027-03-02`.",
    },
}
"""Texts of a form of their own, by the format that stands for them."""
_NAMES = {"date-time": "time", "date": "day"}
_RANGE = {"title": "Range", "description": "What is uncertain, in the unit of the name that it stands under."}
"""The one row that is none: the range of values that the whole program reckons with."""


def schema() -> Schema:
    """Return the schema of the plan: closed objects, and one definition for every row."""
    defs = _definitions(tuple[PlanRow])
    return _document("urn:finplan:plan:1", defs.pop("plan"), defs)


def answers_schema() -> Schema:
    """Return the schema of what is answered by commands that print no part of a plan: one of several documents."""
    kinds = (
        CheckRow,
        SystemsRow,
        QuoteRow,
        BuyRow,
        DoneRow,
        FaultsRow,
        RepairRow,
        StockRow,
        LearntRow,
        ReviewRow,
        LedgerRow,
        FormsRow,
        BegunRow,
        FieldsRow,
    )
    documents = {"oneOf": [_reference(_name(kind.__name__)) for kind in kinds]}
    return _document("urn:finplan:answers:1", documents, _definitions(tuple[kinds]))  # type: ignore[valid-type]


def _document(name: str, root: Schema, defs: Schema) -> Schema:
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": name,
        **root,
        "$defs": dict(sorted(defs.items())),
    }


def _definitions(kinds: Any) -> Schema:
    """Return what every row is that rows of some kinds hold, by its name, those kinds with them."""
    made = TypeAdapter(kinds, config=_CONFIG).json_schema(mode="serialization")["$defs"]
    rows = {name: _object(node) for name, node in made.items()}
    rows["Range"].update(_RANGE)
    defs = {_name(name): node for name, node in rows.items()}
    return defs | {_NAMES[key]: node for key, node in _OWN.items()}


def schema_text(found: Schema) -> str:
    """Return a schema as its file holds it."""
    return _written(found) + "\n"


def _written(value: Any, indent: str = "") -> str:
    """Return JSON, on one line what fits there."""
    line = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, dict | list) or len(indent) + len(line) <= _WIDTH:
        return line
    inner = f"{indent}  "
    if isinstance(value, list):
        lines, (first, last) = [_written(one, inner) for one in value], "[]"
    else:
        lines, (first, last) = [f"{json.dumps(key)}: {_written(one, inner)}" for key, one in value.items()], "{}"
    return f"{first}\n{inner}" + f",\n{inner}".join(lines) + f"\n{indent}{last}"


def _object(node: Schema) -> Schema:
    """Return a row: its title is the first line of what its type says of itself, what is below it its description."""
    title, _, more = node.get("description", "").partition("\n\n")
    told = {"title": title.rstrip("."), "description": " ".join(more.split())}
    return {
        **{key: words for key, words in told.items() if words},
        "type": "object",
        "additionalProperties": False,
        "required": [key.rstrip("_") for key in node["required"]],
        "properties": {key.rstrip("_"): _key(form) for key, form in node["properties"].items()},
    }


def _key(form: Schema) -> Schema:
    return {**_form(form), "description": " ".join(form["description"].split())}


def _form(form: Schema) -> Schema:
    """Return what a value has to be, as short as can be said."""
    if form.get("format") in _OWN:
        return _reference(_NAMES[form["format"]])
    if "$ref" in form:
        return _reference(_name(form["$ref"].rpartition("/")[2]))
    if "const" in form:
        return {"const": form["const"]}
    if "enum" in form:
        return {"enum": form["enum"]}
    if "anyOf" in form:
        return _either([_form(one) for one in form["anyOf"]])
    kept = {key: value for key, value in form.items() if key not in ("title", "default", "description")}
    for key in ("items", "additionalProperties"):
        if isinstance(kept.get(key), dict):
            kept[key] = _form(kept[key])
    return kept


def _either(forms: list[Schema]) -> Schema:
    """Return that one of several forms is met; of a plain one and null, as one form of two types."""
    first, *others = forms
    if others == [{"type": "null"}] and first.get("type") in ("string", "number", "integer", "boolean"):
        return {**first, "type": [first["type"], "null"]}
    return {"anyOf": forms}


def _reference(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _name(kind: str) -> str:
    """Return the name of a definition.

    >>> _name("StepFacesRow"), _name("Range")
    ('step-faces', 'range')
    """
    return re.sub(r"(?<!^)(?=[A-Z])", "-", kind.removesuffix("Row")).lower()
