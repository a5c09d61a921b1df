"""Fields for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from finplan.fields.topics import Described, Topic, described, edges_picture, faces_of, shape_picture, topics

WIDTH = 100
_KINDS = (
    ("file", "Files"),
    ("group", "Groups of fields in a piece file"),
    ("shape", "Shapes of parts"),
    ("element", "Elements of turned parts"),
)


def topics_lines(program: str) -> list[str]:
    """Return all there is to look up."""
    width = max(len(topic.name) for topic in topics())
    lines: list[str] = []
    for kind, title in _KINDS:
        lines += [title, ""]
        for topic in topics():
            if topic.kind == kind:
                lines += _wrapped(f"  {topic.name:<{width}}  ", topic.about)
        lines.append("")
    return [
        *lines,
        f"'{program} fields NAME' explains the fields of one of these, or tells where a field of that name stands.",
        f"'{program} fields shapes' shows a picture of each shape. Records of your own, in the folder that records:",
        f"names in the shop file, are explained by '{program} catalogue --fields finishes'.",
    ]


def field_topic_lines(topic: Topic, program: str) -> list[str]:
    """Return the fields of one topic, with its picture."""
    lines = textwrap.wrap(f"{topic.name}: {topic.about}", WIDTH)
    drawn = shape_picture(topic)
    if drawn is not None:
        lines += ["", *drawn.splitlines()]
    fields = described(topic)
    lines.append("")
    for field in fields:
        lines += list(field_lines(field))
    if any(field.name == "edge" for field in fields):
        lines += ["", "Profiles of an edge:", "", *edges_picture().splitlines()]
    faces = faces_of(topic)
    if topic.kind == "shape":
        if faces:
            told = ", ".join(name if exposure == "show" else f"{name} ({exposure})" for name, exposure in faces)
            lines += ["", *textwrap.wrap(f"Faces: {told}; those without a word show.", WIDTH)]
        lines += ["", f"What every part may have beside these: '{program} fields part'."]
    return lines


def field_lines(field: Described) -> Iterator[str]:
    """Give what there is to say of a field."""
    needed = "required" if field.required else f"else {field.default}" if field.default else "may be left out"
    yield from textwrap.wrap(f"  {field.name}: {field.form}; {needed}", WIDTH, subsequent_indent="      ")
    yield from _wrapped("      ", field.about)
    if field.example:
        name = field.name.rpartition(".")[2]
        yield f"      {name}: {field.example}"


def _wrapped(head: str, text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=head, subsequent_indent=" " * len(head), break_on_hyphens=False)
