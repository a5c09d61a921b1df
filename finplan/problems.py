"""What an error is: a value that says where, what is wrong and what is expected."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Literal

Severity = Literal["error", "warning"]
FindingKind = Literal["missing", "unknown", "other"]
"""A field is missing; a field is unknown; anything else. Whoever asks what a finding is asks this, never its words."""
Where = tuple[str | int, ...]
"""A path inside a file: names of fields and positions in lists."""


def show_path(path: Where) -> str:
    """Return *path* as a person reads it.

    >>> show_path(("parts", "leg", "elements", 2, "bead"))
    'parts.leg.elements[2].bead'
    """
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{_short(step)}" if text else _short(step)
    return text or "the file"


_MAX_STEP = 60


def _short(text: str) -> str:
    return text if len(text) <= _MAX_STEP else f"{text[: _MAX_STEP - 3]}..."


_MAX_QUOTED = 40
"""Characters of what a file says that a problem quotes."""


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
    text = str(getattr(value, "written", value))  # a number as it stands in its file: 1e3, not 1000.0
    return f"'{text[: _MAX_QUOTED - 3]}...'" if len(text) > _MAX_QUOTED else f"'{text}'"


_MAX_HINTS = 200
"""So often the nearest name is looked for in the problems of one file. Who has more of them reads the first."""
_LEAST_TITLED = 3
"""Letters of what is looked for in titles: fewer are in too many."""
_MAX_LISTED = 60
"""Names that a hint lists."""
_hints_left = _MAX_HINTS


def hints_anew() -> None:
    """Begin to count hints anew, as the reader of a file does."""
    global _hints_left
    _hints_left = _MAX_HINTS


def nearest(name: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """Return the known name that is most like a misspelt one. The one door for such a search, which is slow.

    Parameters
    ----------
    name
        What is written; a very long one is like none
    known
        What it may have been
    cutoff
        How like it has to be, from 0 to 1
    """
    global _hints_left
    if len(name) > _MAX_QUOTED or _hints_left <= 0:
        return None
    _hints_left -= 1
    return next(iter(get_close_matches(name.lower(), known, n=1, cutoff=cutoff)), None)


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Return the hint for a misspelt *name*: the nearest known one, or those that are known where none is near.

    >>> did_you_mean("ahs", ["ash", "beech"])
    "did you mean 'ash'?"
    >>> did_you_mean("oak", ["ash", "red-oak", "white-oak"])
    "did you mean 'red-oak' or 'white-oak'?"
    >>> did_you_mean("zzz", ["ash", "beech"])
    'known: ash, beech'
    """
    names = list(known)
    return hint(likely(name, names), names)


def likely(name: str, known: Sequence[str]) -> tuple[str, ...]:
    """Return what may be meant by a misspelt *name*: all sorts of it that are known, else the nearest name, else none.

    >>> likely("oak", ["ash", "red-oak", "white-oak"]), likely("ahs", ["ash", "beech"]), likely("zzz", ["ash"])
    (('red-oak', 'white-oak'), ('ash',), ())
    """
    # One word or several, so long as they stand whole behind another: 'linseed-oil' in 'boiled-linseed-oil'.
    sorts = tuple(sort for sort in known if f"-{name.lower()}-" in f"{sort}-")
    if sorts:
        return sorts
    near = nearest(name, known)
    return () if near is None else (near,)


def titled_so(name: str, titles: Mapping[str, str]) -> tuple[str, ...]:
    """Return the known names whose titles hold what is written, from the beginning of a word on.

    >>> titled_so("tulipwood", {"poplar": "Yellow-poplar (tulipwood)", "lime": "Lime (linden)"})
    ('poplar',)
    """
    begun = re.compile(rf"\b{re.escape(name[:_MAX_QUOTED])}", re.IGNORECASE)
    return tuple(known for known, title in titles.items() if len(name) > _LEAST_TITLED and begun.search(title))


def hint(meant: Sequence[str], names: Sequence[str]) -> str:
    """Return the hint that names what is likely meant, or all that is known where nothing is."""
    if meant:
        return f"did you mean {' or '.join(repr(name) for name in meant)}?"
    more = f" and {len(names) - _MAX_LISTED} more" if len(names) > _MAX_LISTED else ""
    return f"known: {', '.join(names[:_MAX_LISTED])}{more}" if names else "none is known here"


def printable(text: str) -> str:
    r"""Return a text with what may break its line, turn it about or command a terminal written out.

    >>> print(printable("bell\x07"))
    bell\x07
    """
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to say about one place in a file, before it is known which line that is."""

    path: Where
    wrong: str
    expected: str
    severity: Severity = "error"
    at_key: bool = False
    """The name of the field is meant, not its value."""
    kind: FindingKind = "other"
    meant: str | None = None
    """Of a field that is unknown: the name that was likely meant."""
    name: str = ""
    """Of a warning: the name by which a file accepts it."""

    def within(self, *prefix: str | int) -> Finding:
        """Return the same finding, seen from further up the file."""
        return replace(self, path=(*prefix, *self.path))


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
    name: str = ""
    """Of a warning: the name by which a file accepts it."""

    def __str__(self) -> str:
        return self.with_places(())

    def with_places(self, others: Sequence[Problem]) -> str:
        """Return the problem as it is told, with the places of *others* that say the same elsewhere."""
        mark = "warning: " if self.severity == "warning" else ""
        said = f"{self.file}:{self.line}:{self.column}: {mark}{self.where}: {self.wrong}; {self.expected}"
        if others:
            said += f" (also {_places(others, self.file)})"
        return printable(said + (f" [{self.name}]" if self.name else ""))


class FinplanError(Exception):
    """Everything that finplan raises on purpose.

    - ``RefusedError``: a file cannot be used; carries every problem found
    - ``NotPossibleError``: the input is right, but the thing asked for cannot be had
    - ``WishError``, of the planning: what is wanted cannot be understood or had
    - ``NotFoundYetError``, of the timetable: in the time given no plan was found, and none was proven impossible
    """

    exit_code = 2


_MAX_TOLD = 200
"""Problems that are told; nobody puts more right before looking again."""


_MAX_PLACES = 5
"""Places of one warning that are told beside the first."""


def problem_lines(problems: Sequence[Problem]) -> list[str]:
    """Return a line for each problem; of very many the first, and how many more there are.

    A warning that holds at several places is told once, with the other places.
    """
    said: dict[object, list[Problem]] = {}
    for problem in problems:
        alike = (problem.wrong, problem.expected) if problem.severity == "warning" else problem
        said.setdefault(alike, []).append(problem)
    more = len(said) - _MAX_TOLD
    lines = [first.with_places(others) for first, *others in list(said.values())[:_MAX_TOLD]]
    return [*lines, f"and {more} problem{'' if more == 1 else 's'} more"] if more > 0 else lines


def _places(problems: Sequence[Problem], file: Path) -> str:
    """Return where else something holds: lines of the same file, files with their lines."""
    first = problems[:_MAX_PLACES]
    lines = [str(problem.line) for problem in first if problem.file == file]
    places = [f"{problem.file}:{problem.line}" for problem in first if problem.file != file]
    if lines:
        places.insert(0, f"line{'' if len(lines) == 1 else 's'} {', '.join(lines)}")
    more = len(problems) - _MAX_PLACES
    return ", ".join(places) + (f" and {more} more" if more > 0 else "")


class RefusedError(FinplanError):
    """Files that cannot be used, with every problem found in them."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(problem_lines(self.problems)))


class FindingsError(FinplanError):
    """Findings of a room that does not know about lines; whoever read the file turns them into ``RefusedError``."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("; ".join(f"{show_path(f.path)}: {f.wrong}; {f.expected}" for f in self.findings))


class NotPossibleError(FinplanError):
    """The input is right, but what was asked for cannot be had here; the text says what to do."""
