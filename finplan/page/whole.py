"""What a file says of the piece as a whole beside its sentence: an old coating, steps beside the coats, a sample."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from finplan.catalogue import Catalogue
from finplan.inputs import STRIPS
from finplan.page.asked_fields import AskedSteps
from finplan.page.edits import AnyEdit, PutValue, RemoveValue
from finplan.page.field import Choice, Field, value_at, within
from finplan.page.fields import Fields
from finplan.page.reckoned import Reckoned
from finplan.problems import Problem, Where
from finplan.safety import CautionLine, of_old_paint

_REFINISH: Where = ("refinish",)
_KEEP: Where = ("refinish", "keep")
_STRIP: Where = ("refinish", "strip")
_TESTS = (
    Choice("", "not tested: old paint may hold lead"),
    Choice("clear", "tested: no layer holds lead"),
    Choice("lead", "tested: a layer holds lead"),
)
_SAMPLE = ("approve by", "approved")


@dataclass(frozen=True, slots=True)
class OldCoating:
    """What becomes of an old coating, and what is known of it."""

    ways: tuple[Choice, ...]
    """What becomes of it; the value of each is what the file says then, as edits."""
    way: str
    built: Field
    lead_test: Field
    cautions: tuple[CautionLine, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class SampleFields:
    """That a sample is approved, or has to be."""

    what: str
    """Empty where none is asked for."""
    choices: tuple[Choice, ...]
    date: str
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class WholeFields:
    """All of it."""

    old: OldCoating
    asked: tuple[AskedSteps, ...]
    sample: SampleFields
    alike: Field
    units: Field

    @property
    def says_something(self) -> bool:
        """Whether the file says anything of it."""
        said = (self.old.way, self.old.built.value, self.old.lead_test.value, self.sample.what, self.alike.value)
        return any(said) or any(asked_steps.own for asked_steps in self.asked)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that are shown with it."""
        fields = (self.old.built, self.old.lead_test, self.alike, self.units)
        own = [self.old.problems, self.sample.problems, *(asked_steps.all_problems for asked_steps in self.asked)]
        return tuple(problem for listed in (*own, *(field.problems for field in fields)) for problem in listed)


def whole_fields(reckoned: Reckoned, fields: Fields, catalogue: Catalogue) -> WholeFields:
    """Return what a text says of the whole piece."""
    return WholeFields(
        old=_old_coating(reckoned, fields, catalogue),
        asked=fields.asked((), ""),
        sample=_sample(fields.of(("sample",), "sample")),
        alike=fields.of(("set",), "number of alike pieces"),
        units=_units(fields),
    )


def _units(fields: Fields) -> Field:
    field = fields.of(("units",), "units of what is shown")
    known = [choice for choice in field.choices if choice.value]
    return replace(field, choices=(Choice("", "as in the shop"), *known))


def _old_coating(reckoned: Reckoned, fields: Fields, catalogue: Catalogue) -> OldCoating:
    built = fields.of((*_REFINISH, "built"), "year in which it was built")
    lead_test = replace(fields.of((*_REFINISH, "lead-test"), "test of the old coating for lead"), choices=_TESTS)
    shown = {id(problem) for field in (built, lead_test) for problem in field.problems}
    strip = value_at(reckoned.data, _STRIP)
    way = f"strip {strip}" if strip is not None else "keep" if value_at(reckoned.data, _KEEP) is True else ""
    return OldCoating(
        ways=tuple(_ways(reckoned.data, way, catalogue)),
        way=way,
        built=built,
        lead_test=lead_test,
        cautions=of_old_paint(reckoned.cautions, catalogue),
        problems=tuple(problem for problem in within(_REFINISH, reckoned.problems) if id(problem) not in shown),
    )


def _ways(data: Mapping[str, Any], now: str, catalogue: Catalogue) -> Iterator[Choice]:
    """Give what may become of an old coating, first what is so now; each with the edits that write it."""
    known = {"": "None, or off already"}
    for name, step in catalogue.extra_steps.items():
        if name.startswith(STRIPS):
            known[f"strip {name.removeprefix(STRIPS)}"] = step.title
    known["keep"] = "Old coating kept: cleaned, dulled and coated once more"
    for way, words in {now: now, **known}.items():
        yield Choice(json.dumps([edit.model_dump() for edit in _edits(data, way)]) if way != now else "[]", words)


def _edits(data: Mapping[str, Any], way: str) -> Iterator[AnyEdit]:
    """Give the edits by which an old coating is treated so; what is new is put in before what was is taken out."""
    if way == "keep":
        yield PutValue(path=_KEEP, value="true")
    elif way:
        yield PutValue(path=_STRIP, value=way.partition(" ")[2])
    for path, stays in ((_STRIP, way.startswith("strip")), (_KEEP, way == "keep")):
        if not stays and value_at(data, path) is not None:
            yield RemoveValue(path=path)


def _sample(field: Field) -> SampleFields:
    text = field.value
    way = next((choice for choice in _SAMPLE if text.startswith(choice)), text)
    known = {way: way, "": "none", "approve by": "made, and to be approved by", "approved": "approved on"}
    choices = tuple(Choice(value, words) for value, words in known.items())
    return SampleFields(way, choices, text.removeprefix(way).strip(), field.problems)
