"""JSON Schema of piece and shop files, from the models that read them: what editors complete from and warn by.

A schema knows what fields there are and how each is written. What hangs together, such as sizes that fit one another,
names of the catalogue and dates, is for ``check``.
"""

from __future__ import annotations

import re
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel

from finplan import quantity
from finplan.fields.topics import described, topics
from finplan.inputs import Assembly, Head, Joint, Shop
from finplan.inputs.shapes import ELEMENTS, OPENINGS, SHAPES, Door, MeasuredFace, MeasuredPart
from finplan.quantity import Kind
from finplan.reading import abouts, form_of

Schema = dict[str, Any]
_DRAFT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER = r"(\d+[ -]+\d+\s*/\s*\d+|\d+\s*/\s*\d+|(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?|(\d+[ -]*)?[½⅓⅔¼¾⅕⅛⅜⅝⅞])"


def piece_schema() -> Schema:
    """Return the schema of a piece file (draft 2020-12)."""
    defs = _Definitions()
    head = defs.group(Head)
    parts = {"type": "object", "minProperties": 1, "additionalProperties": {"$ref": "#/$defs/part"}}
    own: Schema = {
        "parts": {**parts, "description": "The parts, under names of your own."},
        "assemblies": {"type": "object", "additionalProperties": defs.reference(Assembly)},
        "joints": {"type": "array", "items": defs.reference(Joint)},
    }
    shapes = [
        {"if": {"properties": {"shape": {"const": name}}, "required": ["shape"]}, "then": defs.reference(model)}
        for name, model in SHAPES.items()
    ]
    defs.made["part"] = {
        "type": "object",
        "required": ["shape"],
        "properties": {"shape": {"enum": [*SHAPES], "description": "What it is: the other fields depend on it."}},
        "allOf": shapes,
    }
    return _document(
        "piece", head | {"properties": {**head["properties"], **own}, "required": ["piece", "parts"]}, defs
    )


def shop_schema() -> Schema:
    """Return the schema of a shop file; what it leaves out the default shop gives."""
    defs = _Definitions()
    return _document("shop", defs.group(Shop) | {"required": ["shop"]}, defs)


def _document(name: str, root: Schema, defs: _Definitions) -> Schema:
    return {
        "$schema": _DRAFT,
        "$id": f"urn:finplan:{name}-file:1",
        "title": f"A {name} file of finplan",
        **root,
        "$defs": dict(sorted(defs.made.items())),
    }


class _Definitions:
    """What is defined once and referred to: quantities and groups of fields."""

    def __init__(self) -> None:
        self.made: dict[str, Schema] = {"length": _quantity(quantity.LENGTH), "signed-length": _signed_length()}

    def reference(self, model: type[BaseModel]) -> Schema:
        name = re.sub(r"(?<!^)(?=[A-Z])", "-", model.__name__).lower()
        name = f"shape-{name}" if model in SHAPES.values() else name
        if name not in self.made:
            self.made[name] = {}  # a group that holds itself finds it begun
            self.made[name] = self.group(model)
        return {"$ref": f"#/$defs/{name}"}

    def group(self, model: type[BaseModel]) -> Schema:
        """Return an object of the fields of a model, and no other."""
        hints, said = get_type_hints(model, include_extras=True), abouts(model)
        examples = _examples().get(model, {})
        properties: dict[str, Schema] = {}
        for field, info in model.model_fields.items():
            name = info.alias or field
            form = self.special(model, name) or self.form(hints[field])
            for note in info.metadata:
                for key, word in (("min_length", "min"), ("max_length", "max")):
                    if hasattr(note, key) and form.get("type") in ("array", "object"):
                        form[f"{word}{'Items' if form['type'] == 'array' else 'Properties'}"] = getattr(note, key)
            about = said.get(field) or info.description
            properties[name] = {
                **form,
                **({"description": about} if about else {}),
                **({"examples": [examples[name]]} if name in examples else {}),
            }
        return {
            "type": "object",
            "properties": properties,
            "required": [info.alias or name for name, info in model.model_fields.items() if info.is_required()],
            "additionalProperties": False,
        }

    def special(self, model: type[BaseModel], field: str) -> Schema | None:
        """Return the form of what is no plain field: elements by their kind, areas by the name of their face."""
        if field == "elements":
            kinds = {name: self.reference(element) for name, element in ELEMENTS.items()}
            form = {"type": "object", "properties": kinds, "minProperties": 1, "maxProperties": 1}
            return {"type": "array", "minItems": 1, "items": {**form, "additionalProperties": False}}
        if model is MeasuredPart and field == "faces":
            either = {"anyOf": [self.quantity(quantity.AREA), self.reference(MeasuredFace)]}
            return {"type": "object", "minProperties": 1, "additionalProperties": either}
        if model is Door and field == "panel":
            return {"anyOf": [self.form(model.model_fields["panel"].annotation), {"enum": [*OPENINGS]}]}
        if field == "hole":
            return {"anyOf": [{"$ref": "#/$defs/length"}, self.form(model.model_fields["hole"].annotation)]}
        return None

    def form(self, hint: Any) -> Schema:
        """Return what a value has to be."""
        noted = form_of(hint)
        if noted is not None:
            if noted.schema is not None:
                return dict(noted.schema)
            return self.quantity(noted.kind) if noted.kind is not None else _text(hint)
        origin, inner = get_origin(hint), get_args(hint)
        if origin is Annotated:
            return self.form(inner[0])
        if origin in (Union, UnionType):
            forms = [self.form(choice) for choice in inner if choice is not NoneType]
            return forms[0] if len(forms) == 1 else {"anyOf": forms}
        if origin is Literal:
            return {"enum": list(inner)} if len(inner) > 1 else {"const": inner[0]}
        if origin is tuple:
            return {"type": "array", "items": self.form(inner[0])}
        if origin is dict:
            return {"type": "object", "additionalProperties": self.form(inner[1])}
        if isinstance(hint, type) and issubclass(hint, BaseModel):
            return self.reference(hint)
        return {"type": {bool: "boolean", int: "integer", float: "number", str: "string"}[hint]}

    def quantity(self, kind: Kind) -> Schema:
        """Return a reference to a quantity with its unit."""
        name = kind.name.removeprefix("a ").removeprefix("an ").replace(" ", "-")
        self.made.setdefault(name, _quantity(kind))
        return {"$ref": f"#/$defs/{name}"}


def _text(hint: Any) -> Schema:
    """Return what words have to be; a number is taken for the words that it is written as."""
    return {"type": ["string", "number"]}


@cache
def _units(kind: Kind) -> str:
    """Return a pattern of the units of a kind that are in common use."""
    names = sorted(quantity.common_units(kind), key=len, reverse=True)
    return "|".join(re.escape(name).replace("\\ ", r"\s*") for name in names)


def _quantity(kind: Kind) -> Schema:
    """Return a quantity of a kind: a number with its unit; of a length also one without, and feet with inches."""
    unit = f"({_units(kind)})"
    if kind is quantity.LENGTH:
        pattern = f"^\\s*\\+?{_NUMBER}\\s*{unit}?(\\s*-?\\s*{_NUMBER}\\s*{unit})?\\s*$"
        return {
            "type": ["string", "number"],
            "pattern": pattern,
            "exclusiveMinimum": 0,
            "examples": ["28 mm", "1-1/8 in"],
        }
    sign = "[+-]?" if kind is quantity.TEMPERATURE else "\\+?"
    return {
        "type": "string",
        "pattern": f"^\\s*{sign}\\s*{_NUMBER}\\s*{unit}\\s*$",
        "examples": [kind.example.split(" or ")[0]],
    }


def _signed_length() -> Schema:
    length = _quantity(quantity.LENGTH)
    return {"type": ["string", "number"], "pattern": length["pattern"].replace("\\+?", "[+-]?", 1)}


@cache
def _examples() -> dict[type[BaseModel], dict[str, str]]:
    """Return an example of each field of a topic, where it has one."""
    return {
        topic.model: {
            field.name: field.example for field in described(topic) if field.example and field.example[0] not in "[{"
        }
        for topic in topics()
    }
