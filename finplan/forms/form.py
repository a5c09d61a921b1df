"""What can be begun with, and the main sizes of each: the records of ``templates/forms/forms.yaml``."""

from __future__ import annotations

from functools import cache
from math import isfinite
from typing import Annotated, Self

from pydantic import Field, model_validator

from finplan.forms.filling import written_length
from finplan.problems import RefusedError
from finplan.quantity import Units
from finplan.reading import LAST_YEAR, LengthMm, Name, Record, Sentence, Title, fail, read_document, validate
from finplan.resources import data_dir

_Whole = Annotated[int, Field(ge=0, le=LAST_YEAR)]
"""How many, or a year."""


class Length(Record):
    """What a length is where nobody says, in each system of units, and within which bounds the form holds. In mm."""

    metric_mm: LengthMm
    us_mm: LengthMm
    from_mm: LengthMm
    to_mm: LengthMm


class Number(Record):
    """How many there are where nobody says, and within which bounds the form holds."""

    usual: _Whole
    from_: _Whole
    to: _Whole


class Size(Record):
    """A main size of a form: a length in mm, or how many there are of something."""

    name: Name
    """What it is called in an answer: ``diameter``, ``shelves``."""
    title: Title
    """What it is, in words."""
    length: Length | None = None
    number: Number | None = None

    @model_validator(mode="after")
    def _is_one(self) -> Self:
        if (self.length is None) == (self.number is None):
            fail("it is both a length and a number, or neither", "expected length: or number:")
        return self

    def usual(self, units: Units) -> float:
        """Return the value where nobody says another. [mm, or a number]"""
        if self.length is not None:
            return self.length.metric_mm if units == "metric" else self.length.us_mm
        return float(self._bounds.usual)

    @property
    def least(self) -> float:
        """The least that the form holds for. [mm, or a number]"""
        return self.length.from_mm if self.length is not None else float(self._bounds.from_)

    @property
    def most(self) -> float:
        """The most that the form holds for. [mm, or a number]"""
        return self.length.to_mm if self.length is not None else float(self._bounds.to)

    @property
    def counts(self) -> bool:
        """Whether it says how many, not how long."""
        return self.number is not None

    def shown(self, value: float, units: Units) -> str:
        """Return a value of it for a person: ``1120 mm``, ``43 in``, ``3``."""
        if self.counts:
            return f"{value:g}"
        written = written_length(value, units)
        return written if written.endswith(" mm") else f"{written} {'mm' if units == 'metric' else 'in'}"

    def wrong_with(self, value: float, units: Units) -> tuple[str, str] | None:
        """Return what is wrong with a value, and what is expected; None where nothing is."""
        least, most = (self.shown(bound, units) for bound in (self.least, self.most))
        expected = f"expected {least} to {most}"
        if not self.least <= value <= self.most:  # also where it is no number
            return f"{self.shown(value, units) if isfinite(value) else value} is out of bounds", expected
        if self.counts and value != int(value):
            return f"{value:g} is not a whole number", expected
        return None

    @property
    def _bounds(self) -> Number:
        if self.number is None:
            raise AssertionError(self.name)
        return self.number


class StartingForm(Record):
    """A kind of piece that can be begun with."""

    name: Name
    """What it is called in an answer, and its template: ``round-table``."""
    title: Title
    """What it is, in words."""
    about: Sentence
    """What it is made of."""
    timber: Name = "ash"
    """What stands in the question for the timber until another is chosen."""
    system: Name = "hardwax-oil"
    """Likewise of the coating system."""
    sizes: Annotated[tuple[Size, ...], Field(min_length=1)]
    """The main sizes, in the order in which they are asked for."""

    def size(self, name: str) -> Size | None:
        """Return the size of that name; None where it has none."""
        return next((size for size in self.sizes if size.name == name), None)


@cache
def forms() -> tuple[StartingForm, ...]:
    """Return the forms, in the order in which they are offered.

    Raises
    ------
    RefusedError
        The file of the forms is not as it should be.
    """
    document = read_document(data_dir("templates") / "forms" / "forms.yaml")
    starting_forms: list[StartingForm] = []
    problems = []
    for name, fields in document.data.items():
        form, findings = validate(StartingForm, {"name": name, **fields})
        problems += [document.problem(finding.within(name)) for finding in findings]
        if form is not None:
            starting_forms.append(form)
    if problems:
        raise RefusedError(problems)
    return tuple(starting_forms)
