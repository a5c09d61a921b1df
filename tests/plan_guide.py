"""The guides to what is printed as JSON, made from the schemas: what a key means is written once, under its field.

Run as a program, it writes schemas and guides anew; the tests compare.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from tests.plan_schema import ANSWERS, FILE, Schema, answers_schema, schema, schema_text

GUIDE = FILE.with_name("plan-json.md")
ANSWERS_GUIDE = FILE.with_name("answers-json.md")
_EVERYWHERE = ("time", "day", "range", "amount")
"""Definitions that stand in so many places that naming them helps nobody."""
_KINDS = {
    "string": "text",
    "number": "number",
    "integer": "whole number",
    "boolean": "`true` or `false`",
    "null": "null",
}
_HEAD = """\
# The plan as JSON

`finplan plan FILE… -o plan.json` writes everything that is planned of one or several pieces, for other programs. Each
part is what a command of its own prints: `areas --json`, `sanding --json`, `materials --json`, `timetable --json` and
`safety --json`. [plan.schema.json](plan.schema.json) describes it to a validator (JSON Schema, draft 2020-12), and what
those commands print under `$defs` there. What stands below is made from it: first the document, then every object in it
with its places, `[]` for each of a list and `{}` for each value under a name.

- Every key is always there, unless it "may be absent". `null` is what is not known, not given, or does not
  apply. Keys that the format gains are added; what a key means does not change under the same `format`.
- The unit of a number stands in square brackets, the same whether a shop shows metric or US units; where there is none,
  it is a count, a share or a ratio. Numbers have their full precision; only what is poured or weighed is rounded to
  what can be measured.
- The same input gives the same bytes. A plan that does not fit says so in `timetable.status`, with its `clashes`; the
  exit status is then 3.
- What commands print that show no part of a plan is in [answers-json.md](answers-json.md).
"""
_ANSWERS_HEAD = """\
# What else is answered as JSON

What commands print with `--json` that show no part of a plan: `check`, `systems`, `quote`, `buy`, `done`, `stock`,
`learnt`, `review`, `new`, `fields`, and what `ledger export` writes. `replan` prints what `timetable` does, and the
commands that show a part of a plan print it as it is in [the plan](plan-json.md).
[answers.schema.json](answers.schema.json) describes these to a validator (JSON Schema, draft 2020-12); `format` says
which of them a document is. What stands below is made of it.

- Every key is always there, unless it "may be absent". `null` is what is not known, not given, or does not
  apply. Keys that the format gains are added; what a key means does not change under the same `format`.
- The unit of a number stands in square brackets, the same whether a shop shows metric or US units; where there is none,
  it is a count, a share or a ratio.
"""


def read_schema(file: Path = FILE) -> Schema:
    """Return a schema as it is committed."""
    found: Schema = json.loads(file.read_text(encoding="utf-8"))
    return found


def documents(schema: Schema) -> list[Schema]:
    """Return what a document may be as a whole."""
    return [schema["$defs"][_name(one)] for one in schema["oneOf"]] if "oneOf" in schema else [schema]


def places(schema: Schema) -> dict[str, list[str]]:
    """Return the places of every definition in the documents, in the order in which a reader meets them."""
    found: dict[str, list[str]] = {}

    def visit(node: Schema, at: str) -> None:
        for key, form in node.get("properties", {}).items():
            for name, suffix in _references(form):
                place = f"{at}.{key}{suffix}" if at else f"{key}{suffix}"
                found.setdefault(name, []).append(place)
                visit(schema["$defs"][name], place)

    for document in documents(schema):
        visit(document, "")
    return found


def _references(form: Schema) -> Iterator[tuple[str, str]]:
    """Give the definitions that a form names, each with what it adds to the place of its key."""
    if "$ref" in form:
        yield _name(form), ""
    for key, suffix in (("items", "[]"), ("additionalProperties", "{}")):
        if isinstance(form.get(key), dict):
            yield from ((name, f"{suffix}{more}") for name, more in _references(form[key]))
    for one in _choices(form):
        yield from _references(one)


def _name(form: Schema) -> str:
    return str(form["$ref"]).rpartition("/")[2]


def _choices(form: Schema) -> list[Schema]:
    return [*form.get("anyOf", ()), *form.get("oneOf", ())]


def guide(schema: Schema) -> str:
    """Return the guide to a schema: each document, then every definition in them."""
    roots = documents(schema)
    sections = [_HEAD if roots == [schema] else _ANSWERS_HEAD, *(_section(schema, node, []) for node in roots)]
    for name, where in places(schema).items():
        sections.append(_section(schema, schema["$defs"][name], [] if name in _EVERYWHERE else where))
    return "\n".join(sections)


def _section(schema: Schema, node: Schema, where: list[str]) -> str:
    lines = [f"## {node['title']}", ""]
    if "description" in node:
        lines += [node["description"], ""]
    if where:
        lines += [f"At {', '.join(f'`{place}`' for place in where)}.", ""]
    if "properties" in node:
        lines += ["| key | form | meaning |", "|---|---|---|"]
        for key, form in node["properties"].items():
            absent = "" if key in node["required"] else ", may be absent"
            lines.append(f"| `{key}` | {_form(schema, form)}{absent} | {form['description']} |")
        lines.append("")
    return "\n".join(lines)


def _form(schema: Schema, form: Schema) -> str:
    """Return how a value is written, in words."""
    if "const" in form:
        return f"`{form['const']}`"
    if "enum" in form:
        return _or([f"`{value}`" for value in form["enum"]])
    if "$ref" in form:
        title = schema["$defs"][_name(form)]["title"].lower()
        return f"[{title}](#{title.replace(' ', '-')})"
    if choices := _choices(form):
        return _or([_form(schema, one) for one in choices])
    if form["type"] == "array":
        return f"list: {_form(schema, form['items'])}"
    if form["type"] == "object":
        return f"by name: {_form(schema, form['additionalProperties'])}"
    kinds = form["type"] if isinstance(form["type"], list) else [form["type"]]
    return _or([_KINDS[kind] for kind in kinds])


def _or(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


if __name__ == "__main__":
    for file, page, made in ((FILE, GUIDE, schema()), (ANSWERS, ANSWERS_GUIDE, answers_schema())):
        file.write_text(schema_text(made), encoding="utf-8")
        page.write_text(guide(made), encoding="utf-8")
