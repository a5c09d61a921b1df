"""The JSON interface as a page to be read: told from its own OpenAPI description, with nothing from outside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import FastAPI

from finplan.typesetting import rendered

_METHODS = ("get", "put", "post", "delete")


@dataclass(frozen=True, slots=True)
class FieldTold:
    """A field of what is sent or answered, or a parameter."""

    name: str
    kind: str
    about: str
    required: bool


@dataclass(frozen=True, slots=True)
class ShapeTold:
    """What is sent or answered: a named group of fields."""

    name: str
    about: str
    fields: tuple[FieldTold, ...]


@dataclass(frozen=True, slots=True)
class OperationTold:
    """What may be asked."""

    method: str
    path: str
    summary: str
    about: str
    parameters: tuple[FieldTold, ...]
    sent: str
    answers: tuple[tuple[str, str, str], ...]
    """Status, what it means, and the name of what is answered."""


def api_page(app: FastAPI) -> str:
    """Return the page."""
    told = app.openapi()
    return rendered(
        "page/api.html",
        title=told["info"]["title"],
        about=told["info"]["description"],
        operations=tuple(_operations(told)),
        shapes=tuple(_shapes(told)),
    )


def _operations(told: Mapping[str, Any]) -> Iterator[OperationTold]:
    for path, methods in told["paths"].items():
        for method in _METHODS:
            if method not in methods:
                continue
            operation = methods[method]
            body = operation.get("requestBody", {}).get("content", {}).get("application/json", {}).get("schema", {})
            yield OperationTold(
                method.upper(),
                path,
                operation.get("summary", ""),
                operation.get("description", ""),
                tuple(
                    FieldTold(
                        field["name"],
                        _kind(field["schema"]),
                        field.get("description", ""),
                        field.get("required", False),
                    )
                    for field in operation.get("parameters", ())
                ),
                _kind(body) if body else "",
                tuple(
                    (status, answer["description"], _kind(schema) if schema else "")
                    for status, answer in operation["responses"].items()
                    for schema in [answer.get("content", {}).get("application/json", {}).get("schema", {})]
                ),
            )


def _shapes(told: Mapping[str, Any]) -> Iterator[ShapeTold]:
    for name, schema in sorted(told["components"]["schemas"].items()):
        fields = tuple(
            FieldTold(field, _kind(inner), inner.get("description", ""), field in schema.get("required", ()))
            for field, inner in schema.get("properties", {}).items()
        )
        yield ShapeTold(name, " ".join(schema.get("description", "").split()), fields)


def _kind(schema: Mapping[str, Any]) -> str:
    """Return what a value is, in words."""
    if "$ref" in schema:
        return str(schema["$ref"]).rpartition("/")[2]
    if "const" in schema:
        return f"the word {schema['const']}"
    if "enum" in schema:
        return f"one of {', '.join(map(str, schema['enum']))}"
    for of_several in ("anyOf", "oneOf"):
        if of_several in schema:
            return " or ".join(map(_kind, schema[of_several]))
    if schema.get("type") == "array":
        return f"a list of {_kind(schema['items'])}" if "items" in schema else "a list"
    if isinstance(schema.get("additionalProperties"), dict):
        return f"names, each with {_kind(schema['additionalProperties'])}"
    most = f", at most {schema['maxLength']:,} characters" if "maxLength" in schema else ""
    words = {
        "string": "text",
        "integer": "a whole number",
        "boolean": "true or false",
        "null": "null",
        "number": "a number",
    }
    return words.get(str(schema.get("type")), "an object") + most
