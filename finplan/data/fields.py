"""The fields of piece and shop files."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from finplan.data.row import row, row_of, rows_of
from finplan.fields import Described, Topic


@row
class FieldRow:
    """Field."""

    name: str
    """As in the file; a field of a group with a dot."""
    form: str
    """How it is written: what it is, with bounds and unit."""
    example: str
    """An example, as it stands in a file; empty where a name of one's own stands there."""
    required: bool
    """Whether it has to be there."""
    default: str | None
    """What it is where nothing is said; null where there is nothing then."""
    about: str
    """What it means."""


@row
class TopicRow:
    """Fields of a file, a shape or a group."""

    topic: str
    """Its name, as `finplan fields` takes it."""
    kind: Literal["file", "shape", "element", "group"]
    """What it is: a file, the shape of a part, an element of a turned part, or a group of fields."""
    about: str
    """What it is, in words."""
    fields: tuple[FieldRow, ...]
    """Its fields; of a shape those of every part are under `part`."""


@row
class FieldsRow:
    """Fields."""

    format: Literal["finplan-fields/1"]
    """Says what this is."""
    topics: tuple[TopicRow, ...]
    """What was asked for."""


def fields_data(topics: Iterable[tuple[Topic, Sequence[Described]]]) -> FieldsRow:
    """Return topics with their fields."""
    rows = [row_of(TopicRow, topic, topic=topic.name, fields=rows_of(FieldRow, fields)) for topic, fields in topics]
    return FieldsRow(format="finplan-fields/1", topics=tuple(rows))
