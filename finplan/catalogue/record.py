"""What all records share: a title, and the source of every value."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, Field, model_validator

from finplan.problems import did_you_mean
from finplan.reading import Form, Name, Reads, Record, Title, fail

Rests = Literal["published", "practice", "memory"]


class SourceRecord(Record):
    """What a value rests on: a publication, common trade practice, or memory that nobody has checked."""

    title: Title
    """Author, name and year of what was published, or what else it is."""
    rests: Rests
    """Whether it was published, is common practice, or is memory that nobody has checked."""
    section: Title | None = None
    """Where in it: section, table, page; and whose quotation was seen."""
    verified: bool = False
    """Whether the printed figure itself was seen, not a quotation of it."""


class Sourced(Record):
    """A record whose every value has a source: that of its field in ``sources``, else ``basis``.

    A field inside a group is written with a dot: ``spread-rate.first``.
    """

    title: Title
    """What a person calls it."""
    basis: Name
    """The source of every value that has none of its own, a key of sources.yaml."""
    sources: dict[str, Name] = Field(default_factory=dict)
    """Fields that have a source of their own, each with its key of sources.yaml."""
    notes: tuple[Title, ...] = ()
    """What else has to be said."""

    @model_validator(mode="after")
    def _sources_name_fields(self) -> Self:
        for path in self.sources:
            held: Any = self
            for step in path.split("."):
                known = values_by_name(held)
                if step not in known:
                    expected = did_you_mean(step, known)
                    fail(f"'{path}' is no field of this record", expected, ("sources", path), at_key=True)
                held = known[step]
        return self

    def source_of(self, field: str) -> str:
        """Return the key of the source of a field, named as in the file: ``recoat``, ``spread-rate.first``."""
        group = field.partition(".")[0]
        return self.sources.get(field) or self.sources.get(group, self.basis)

    def source_keys(self) -> set[str]:
        """Return the keys of all sources that the record names."""
        return {self.basis, *self.sources.values()}


def values_by_name(held: object) -> dict[str, Any]:
    """Return the values of a record or a table by their names in a file; nothing else has any."""
    if isinstance(held, BaseModel):
        return {info.alias or name: getattr(held, name) for name, info in type(held).model_fields.items()}
    return dict(held) if isinstance(held, Mapping) else {}


def _grit(value: object) -> str:
    text = f"P{value}" if isinstance(value, int) and not isinstance(value, bool) else value
    if not isinstance(text, str) or not text.startswith("P") or not text[1:].isdigit():
        fail(f"'{str(value)[:20]}' is not a grade", "expected a P-grade such as P180")
    return text


Grit = Annotated[str, Reads(_grit), Form("a P-grade: P180")]
