"""A field of a file as a page shows it: its path, its name in words, what it may be, and what is wrong with it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from finplan.problems import Problem, Where, show_path

NotTakenFields = Mapping[Where, tuple[str, tuple[Problem, ...]]]
"""Values that were typed and not taken, by path, each with what is wrong with it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the values that a field may have."""

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Field:
    """A value of the file that can be changed."""

    path: Where
    label: str
    """What it is, in words: ``top, diameter``."""
    value: str
    """As it stands in the file; empty where it does not."""
    choices: tuple[Choice, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def id(self) -> str:
        """What tells it from all others of the page."""
        return id_of("f.", self.path)

    @property
    def json_path(self) -> str:
        """Its path, as an edit names it."""
        return json.dumps(self.path)

    @property
    def short(self) -> str:
        """What it is within its part."""
        return self.label.partition(", ")[2] or self.label

    @property
    def last(self) -> str:
        """What it is within one of a list."""
        return self.label.rpartition(", ")[2]


def within(path: Where, problems: Iterable[Problem]) -> Iterator[Problem]:
    """Give the problems of what stands at a path, and of all that is in it."""
    prefix = show_path(path)
    return (
        problem
        for problem in problems
        if problem.where == prefix or problem.where.startswith((f"{prefix}.", f"{prefix}["))
    )


def id_of(before: str, path: Where) -> str:
    """Return an id of what stands at a path of the file."""
    return before + quote(".".join(map(str, path)), safe=".")


def value_at(data: Any, path: Where) -> Any:
    """Return what stands at a path of a file's data; None where nothing does."""
    for step in path:
        if isinstance(step, int) and isinstance(data, list) and step < len(data):
            data = data[step]
        elif isinstance(step, str) and isinstance(data, dict):
            data = data.get(step)
        else:
            return None
    return data


def written_path(data: Any, path: Where) -> Where | None:
    """Return where a field of a drawing stands in a file: ``*`` is the one name that is there, a short form is its own.

    None where it stands nowhere as one value.
    """
    reached: list[str | int] = []
    for step in path:
        if isinstance(data, dict) and step == "*" and len(data) == 1:
            step = next(iter(data))
        if not isinstance(data, dict | list):
            break
        data = value_at(data, (step,))
        reached.append(step)
    return None if data is None or isinstance(data, dict | list) else tuple(reached)
