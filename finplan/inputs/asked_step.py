"""Steps beside the coats as a piece file asks for them: by name, of some with how many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

from pydantic_core import PydanticCustomError

from finplan.problems import Finding, shown
from finplan.reading import MAX_COUNT, Form, Reads, fail, fail_each, finding_of, given_name

MAX_ASKED = 40
"""Steps beside the coats of one list."""


@dataclass(frozen=True, slots=True)
class AskedStep:
    """A step beside the coats that is asked for by its name."""

    name: str
    count: int | None = None
    """How many: dents, hinges; None where no number is given."""


def _one(value: object) -> AskedStep:
    if isinstance(value, Mapping):
        if len(value) != 1:
            fail("several steps stand in one line", "expected one name with its number: - steam-dents: 5")
        ((name, count),) = value.items()
        if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MAX_COUNT:
            fail(f"{shown(count)} is not a number of times", f"expected 1 to {MAX_COUNT}", (str(name),))
        return AskedStep(given_name(name), count)
    if not isinstance(value, str):
        fail(
            f"{shown(value)} is no step", "expected a name such as raise-grain, or one with its number: steam-dents: 5"
        )
    return AskedStep(given_name(value))


def _asked(value: object) -> tuple[AskedStep, ...]:
    if not isinstance(value, Sequence) or isinstance(value, str):
        fail(f"{shown(value)} stands where a list belongs", "expected names of steps: [raise-grain, steam-dents: 5]")
    if len(value) > MAX_ASKED:
        fail(f"{len(value)} steps are too many", f"expected at most {MAX_ASKED}")
    steps: list[AskedStep] = []
    wrong: list[Finding] = []
    for index, item in enumerate(value):
        try:
            step = _one(item)
            if any(earlier.name == step.name for earlier in steps):
                fail(f"{shown(step.name)} is asked for twice", "name it once, with how many there are")
            steps.append(step)
        except PydanticCustomError as error:
            wrong.append(finding_of(error).within(index))
    if wrong:
        fail_each(wrong)
    return tuple(steps)


_NAMED = {"type": "string"}
_COUNTED = {
    "type": "object",
    "minProperties": 1,
    "maxProperties": 1,
    "additionalProperties": {"type": "integer", "minimum": 1, "maximum": MAX_COUNT},
}
_SCHEMA = {"type": "array", "items": {"anyOf": [_NAMED, _COUNTED]}, "maxItems": MAX_ASKED}
_WORDS = "names of steps, of some with how many"
BeforeSteps = Annotated[tuple[AskedStep, ...], Reads(_asked), Form(f"{_WORDS}: [steam-dents, raise-grain]", _SCHEMA)]
AfterSteps = Annotated[tuple[AskedStep, ...], Reads(_asked), Form(f"{_WORDS}: [hardware: 6, wrap]", _SCHEMA)]
