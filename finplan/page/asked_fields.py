"""The steps beside the coats that a file asks for, of the piece, an assembly or a part: chosen by name, not typed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from finplan.catalogue import AFTER, BEFORE, ExtraStep
from finplan.page.field import Choice, NotTakenFields, id_of, within
from finplan.page.written import flow_text
from finplan.problems import Problem, Where
from finplan.showing import capital

WhenAsked = Literal["before", "after"]
ASKED: tuple[WhenAsked, ...] = ("before", "after")
_WORDS: dict[WhenAsked, str] = {"before": "Before the coats", "after": "After the coats"}
_OF_SAMPLE = "approved"
"""A step that a sample brings, for which nobody asks."""


@dataclass(frozen=True, slots=True)
class AskedOne:
    """A step that is asked for."""

    words: str
    path: str
    id: str
    step: str
    """Its name; what stands there where that is no step."""
    value: str
    """As it stands in the file, in one line."""
    choices: tuple[Choice, ...]
    counted: bool
    number: str
    """How many there are of what it is done to; empty where that is not said."""
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class AskedSteps:
    """The steps before the coats, or after them."""

    words: str
    of: str
    path: str
    id: str
    own: bool
    """Whether the file says something of them here, be it that there are none."""
    items: tuple[AskedOne, ...]
    add: tuple[Choice, ...]
    problems: tuple[Problem, ...]
    """Of the list as a whole."""

    @property
    def all_problems(self) -> tuple[Problem, ...]:
        """All that are shown with it."""
        return (*self.problems, *(problem for item in self.items for problem in item.problems))


def asked_steps(
    data: Any,
    around: Where,
    of: str,
    steps: Mapping[str, ExtraStep],
    problems: tuple[Problem, ...],
    typed: NotTakenFields,
) -> tuple[AskedSteps, ...]:
    """Return the steps before the coats and after them, of a piece, an assembly or a part.

    Parameters
    ----------
    data
        What the file says of it
    around
        Its path in the file
    of
        What it is called; empty for the piece
    steps
        The steps of the catalogue
    problems
        All of the file
    typed
        Values that were not taken, by path
    """
    written: Mapping[str, Any] = data if isinstance(data, dict) else {}
    return tuple(_listed(written, around, of, when, steps, problems, typed) for when in ASKED)


def _listed(
    written: Mapping[str, Any],
    around: Where,
    of: str,
    when: WhenAsked,
    steps: Mapping[str, ExtraStep],
    problems: tuple[Problem, ...],
    typed: NotTakenFields,
) -> AskedSteps:
    path: Where = (*around, when)
    asked_here = written.get(when)
    items = tuple(_items(asked_here, path, of, when, steps, problems, typed)) if isinstance(asked_here, list) else ()
    asked = {item.step for item in items}
    shown = {id(problem) for item in items for problem in item.problems}
    return AskedSteps(
        words=_WORDS[when],
        of=of,
        path=json.dumps(path),
        id=id_of("asked.", path),
        own=when in written,
        items=items,
        add=tuple(Choice(name, capital(record.label)) for name, record in _offered(when, steps) if name not in asked),
        problems=tuple(problem for problem in within(path, problems) if id(problem) not in shown),
    )


def _items(
    asked_here: list[Any],
    path: Where,
    of: str,
    when: WhenAsked,
    steps: Mapping[str, ExtraStep],
    problems: tuple[Problem, ...],
    typed: NotTakenFields,
) -> Iterator[AskedOne]:
    for at, item in enumerate(asked_here):
        here: Where = (*path, at)
        counts = isinstance(item, dict) and len(item) == 1
        name, number = next(iter(item.items())) if counts else (item, "")
        text, wrong = typed.get(here, (str(number), tuple(within(here, problems))))
        step = str(name)
        yield AskedOne(
            words=", ".join(filter(None, [of, f"step {at + 1} {when} the coats"])),
            path=json.dumps(here),
            id=id_of("asked.", here),
            step=step,
            value=flow_text(item),
            choices=_choices(step, number, when, steps),
            counted=counts or (step in steps and steps[step].each_h is not None),
            number=text,
            problems=wrong,
        )


def _choices(step: str, number: Any, when: WhenAsked, steps: Mapping[str, ExtraStep]) -> tuple[Choice, ...]:
    """Return what a step can be: each as it is written, with the number that is there where it is counted too."""
    choices = [
        Choice(flow_text({name: number}) if number != "" and record.each_h is not None else name, capital(record.label))
        for name, record in _offered(when, steps)
        if name != step
    ]
    label = capital(steps[step].label) if step in steps else step
    return (Choice(flow_text({step: number}) if number != "" else step, label), *choices)


def _offered(when: WhenAsked, steps: Mapping[str, ExtraStep]) -> Iterator[tuple[str, ExtraStep]]:
    """Give the steps that may be asked for here: none that another brings, and none that an old coating asks for."""
    brought = {name for step in steps.values() for name in step.then}
    phases = BEFORE if when == "before" else AFTER
    for name, record in steps.items():
        if record.when in phases and name not in brought and not record.disturbs_film and name != _OF_SAMPLE:
            yield name, record
