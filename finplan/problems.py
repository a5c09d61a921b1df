"""What an error is: a value that says where, what is wrong and what is expected."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Literal

Severity = Literal["error", "warning"]
Where = tuple[str | int, ...]
"""A path inside a file: names of fields and positions in lists."""


def show_path(path: Where) -> str:
    """Return *path* as a person reads it.

    >>> show_path(("parts", "leg", "elements", 2, "bead"))
    'parts.leg.elements[2].bead'
    """
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text or "the file"


def shown(value: object) -> str:
    """Return *value* as a problem quotes it: plain data of a file, shortened where it is long.

    >>> shown("ahs"), shown(None), shown([1, 2]), shown({"a": 1})
    ("'ahs'", 'nothing', 'a list', 'a group of fields')
    """
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (list, tuple)):
        return "a list"
    if isinstance(value, dict):
        return "a group of fields"
    text = str(value)
    return f"'{text[:37]}...'" if len(text) > 40 else f"'{text}'"


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Return the hint for a misspelt *name*: the nearest known one, or all of them where none is near.

    >>> did_you_mean("ahs", ["ash", "beech"])
    "did you mean 'ash'?"
    >>> did_you_mean("oak", ["ash", "red-oak", "white-oak"])
    "did you mean 'red-oak' or 'white-oak'?"
    >>> did_you_mean("zzz", ["ash", "beech"])
    'known: ash, beech'
    """
    names = list(known)
    sorts = [one for one in names if name.lower() in one.split("-")[1:]]
    if sorts:
        return f"did you mean {' or '.join(repr(one) for one in sorts)}?"
    near = get_close_matches(name.lower(), names, n=1, cutoff=0.6)
    if near:
        return f"did you mean '{near[0]}'?"
    return f"known: {', '.join(names)}" if names else "none is known here"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to say about one place in a file, before it is known which line that is."""

    path: Where
    wrong: str
    expected: str
    severity: Severity = "error"
    at_key: bool = False
    """The name of the field is meant, not its value."""

    def within(self, *prefix: str | int) -> Finding:
        """Return the same finding, seen from further up the file."""
        return Finding((*prefix, *self.path), self.wrong, self.expected, self.severity, self.at_key)


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """A finding with its file, line and column (both counted from 1)."""

    file: Path
    line: int
    column: int
    where: str
    wrong: str
    expected: str
    severity: Severity = "error"

    def __str__(self) -> str:
        mark = "warning: " if self.severity == "warning" else ""
        said = f"{self.file}:{self.line}:{self.column}: {mark}{self.where}: {self.wrong}; {self.expected}"
        # What a file quotes may break the line or command the terminal.
        return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in said)


class FinplanError(Exception):
    """Everything that finplan raises on purpose.

    - ``RefusedError``: a file cannot be used; carries every problem found
    - ``NotPossibleError``: the input is right, but the thing asked for cannot be had
    """

    exit_code = 2


class RefusedError(FinplanError):
    """Files that cannot be used, with every problem found in them."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class FindingsError(FinplanError):
    """Findings of a room that does not know about lines; whoever read the file turns them into ``RefusedError``."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("; ".join(f"{show_path(f.path)}: {f.wrong}; {f.expected}" for f in self.findings))


class NotPossibleError(FinplanError):
    """The input is right, but what was asked for cannot be had here; the text says what to do."""
