"""Fields looked up: a file's, a shape's, or where one of a name stands."""

from __future__ import annotations

from finplan.cli.demo import program_name
from finplan.fields import (
    Described,
    Topic,
    described,
    field_topic_lines,
    shape_picture,
    topic_named,
    topics,
    topics_lines,
    topics_with,
)
from finplan.problems import NotPossibleError, did_you_mean

SHAPES = "shapes"


def fields_lines(name: str | None) -> list[str]:
    """Return what there is to look up, or what is asked for.

    Raises
    ------
    NotPossibleError
        There is no such topic and no such field.
    """
    program = program_name()
    if name is None:
        return topics_lines(program)
    if name == SHAPES:
        drawn = [(topic, shape_picture(topic)) for topic in topics() if topic.kind == "shape"]
        return [
            line
            for topic, lines in drawn
            for line in (f"{topic.name}: {topic.about}", "", *(lines or "").splitlines(), "")
        ]
    topic = topic_named(name)
    if topic is not None:
        return field_topic_lines(topic, program)
    lines: list[str] = []
    for topic, field in _found(name):
        lines += [f"{topic.name}: {field.name}: {field.form}", f"    {field.about}"]
        lines += [f"    {name}: {field.example}"] if field.example else []
    return lines


def _found(name: str) -> list[tuple[Topic, Described]]:
    found = topics_with(name)
    if not found:
        known = [SHAPES, *(topic.name for topic in topics())]
        fields = {field.name.rpartition(".")[2] for topic in topics() for field in described(topic)}
        msg = f"'{name[:40]}' is no file, shape or field; {did_you_mean(name, [*known, *sorted(fields)])}"
        raise NotPossibleError(msg)
    return found


def looked_up(name: str | None) -> list[tuple[Topic, list[Described]]]:
    """Return the same as topics with their fields; raises likewise."""
    if name is None or name == SHAPES:
        wanted = [topic for topic in topics() if name is None or topic.kind == "shape"]
        return [(topic, described(topic)) for topic in wanted]
    topic = topic_named(name)
    if topic is not None:
        return [(topic, described(topic))]
    return [(topic, [field]) for topic, field in _found(name)]
