"""All fields as a page of the guide, in Markdown: ``python -m tests.fields.page`` makes it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import finplan
from finplan.fields.topics import Described, Topic, described, edges_picture, faces_of, shape_picture, topics

PAGE = Path(finplan.__file__).parent / "guide" / "fields.md"
_HEAD = """\
# Every field of a piece file and a shop file

Made from the program's own models: `finplan fields` shows the same in the terminal, `finplan fields disc` one shape,
`finplan fields circumference` where a field of that name stands. An editor that knows JSON Schema completes these and
warns of what is no field: `finplan schema piece > piece.schema.json`, and as the first line of a file
`# yaml-language-server: $schema=piece.schema.json`. Of a shop's own records: `finplan catalogue --fields finishes`.
"""
_SECTIONS = (
    ("file", "Files"),
    ("group", "Groups of fields in a piece file"),
    ("shape", "Shapes of parts"),
    ("element", "Elements of turned parts"),
)


def fields_page() -> str:
    """Return the page."""
    lines = [_HEAD]
    for kind, title in _SECTIONS:
        lines += [f"## {title}", ""]
        for topic in topics():
            if topic.kind == kind:
                lines += _topic(topic)
        if kind == "shape":
            lines += ["### Profiles of an edge", "", *_fenced(edges_picture())]
    return "\n".join(lines).rstrip() + "\n"


def _topic(topic: Topic) -> Iterator[str]:
    yield from (f"### `{topic.name}`", "", topic.about, "")
    drawn = shape_picture(topic)
    if drawn is not None:
        yield from _fenced(drawn)
    yield from ("| field | what it is | example | |", "|---|---|---|---|")
    for field in described(topic):
        about = _cell(f"{field.about} ({field.form})")
        yield f"| `{field.name}` | {about} | {_code(field.example)} | {_needed(field)} |"
    yield ""
    faces = faces_of(topic)
    if topic.kind == "shape" and faces:
        told = ", ".join(f"`{name}`" if exposure == "show" else f"`{name}` ({exposure})" for name, exposure in faces)
        yield from (f"Faces: {told}.", "")


def _needed(field: Described) -> str:
    return "required" if field.required else f"else {_code(field.default)}" if field.default else ""


def _code(text: str | None) -> str:
    return f"`{_cell(text)}`" if text else ""


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _fenced(text: str) -> list[str]:
    return ["```text", text, "```", ""]


if __name__ == "__main__":
    PAGE.write_text(fields_page(), encoding="utf-8")
