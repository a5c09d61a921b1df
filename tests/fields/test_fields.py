"""Every field that a piece file or a shop file may have is explained, with an example that can be read."""

from __future__ import annotations

import json
import re

import pytest

from finplan.fields import described, shape_picture, topic_named, topics, topics_with
from finplan.inputs.shapes import SHAPES
from tests.conftest import Cli
from tests.each import each
from tests.fields.page import PAGE, fields_page

FIELDS = [
    pytest.param(topic, field, id=f"{topic.name}/{field.name}") for topic in topics() for field in described(topic)
]


@each(("topic", "field"), FIELDS)
def test_every_field_says_what_it_is_and_how_it_is_written(topic: object, field: object) -> None:
    assert field.about.endswith((".", "…}.")), field  # type: ignore[attr-defined]
    assert 5 <= len(field.about) <= 180, field  # type: ignore[attr-defined]
    assert field.example, field  # type: ignore[attr-defined]
    for inner in ("Annotated", "class", "typing", "Range(", "None", "object at", "Edge("):
        assert inner not in f"{field.form} {field.default or ''} {field.example}", field  # type: ignore[attr-defined]


def test_every_shape_has_a_picture_that_fits_a_terminal_and_names_its_faces() -> None:
    for name in SHAPES:
        topic = topic_named(name)
        assert topic is not None
        drawn = shape_picture(topic)
        assert drawn is not None, name
        assert drawn.isascii(), name
        assert all(len(line) <= 96 for line in drawn.splitlines()), name
        sizes = {field.name for field in described(topic) if field.required and "." not in field.name}
        sizes -= {"shape", "elements"}
        words = set(re.findall(r"[a-z-]+", drawn))
        if name not in ("polygon", "carcase", "drawer"):
            assert sizes <= words | {"file", "unit"}, (name, sizes - words)


@pytest.mark.parametrize(
    ("field", "where"),
    [
        ("circumference", {"disc", "rod", "cylinder"}),
        ("length", {"turned", "board"}),
        ("log", {"shop"}),
        ("records", {"shop"}),
        ("radius", {"disc", "board"}),
        ("lead-test", {"piece"}),
        ("points", {"outline", "curve"}),
    ],
)
def test_a_field_is_found_by_its_name(field: str, where: set[str], cli: Cli) -> None:
    assert where <= {topic.name for topic, _ in topics_with(field)}
    ended = cli("fields", field)
    assert (ended.status, ended.err) == (0, "")
    assert all(f"{name}: " in ended.out for name in where)


def test_what_is_misspelt_is_told_with_the_nearest(cli: Cli) -> None:
    ended = cli("fields", "circumferense")
    assert (ended.status, ended.out) == (2, "")
    assert "did you mean 'circumference'?" in ended.err


@pytest.mark.parametrize("name", ["", "shapes", *(topic.name for topic in topics())])
def test_the_terminal_has_room_for_it(name: str, cli: Cli) -> None:
    ended = cli("fields", *([name] if name else []))
    assert (ended.status, ended.err) == (0, "")
    assert all(len(line) <= 120 and line == line.rstrip() for line in ended.out.splitlines())
    told = json.loads(cli("fields", *([name] if name else []), "--json").out)
    assert told["format"] == "finplan-fields/1"
    assert all(topic["fields"] for topic in told["topics"])


def test_the_page_of_the_guide_is_made_from_the_models() -> None:
    """If it is not: ``python -m tests.fields.page``."""
    assert PAGE.read_text(encoding="utf-8") == fields_page()
