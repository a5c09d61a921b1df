"""Problems of a file."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from finplan.data.row import WholeNumber, row, row_of
from finplan.problems import Problem, Severity, printable


@row
class ProblemRow:
    """Problem."""

    file: str
    """Where it is."""
    line: WholeNumber
    """In which line, from 1."""
    column: WholeNumber
    """At which character of it, from 1."""
    where: str
    """The place in the file."""
    wrong: str
    """What is wrong."""
    expected: str
    """What was expected."""
    severity: Severity
    """Whether nothing can be planned with it."""
    name: str | None
    """Of a warning: the name by which a file accepts it."""


@row
class CheckRow:
    """Check."""

    format: Literal["finplan-check/1"]
    """Says what this is."""
    file: str
    """What was looked at."""
    sound: bool
    """Whether it can be planned."""
    problems: tuple[ProblemRow, ...]
    """What was found, without what is accepted."""
    accepted: tuple[str, ...]
    """Warnings that hold and that a file accepts, by name."""


def problems_data(file: Path, problems: Iterable[Problem], accepted: Iterable[str] = ()) -> CheckRow:
    """Return everything that was found in a file, and the names of the warnings that hold and are accepted."""
    problem_rows = tuple(
        row_of(
            ProblemRow,
            problem,
            file=str(problem.file),
            where=printable(problem.where),
            wrong=printable(problem.wrong),
            expected=printable(problem.expected),
            name=problem.name or None,
        )
        for problem in problems
    )
    sound = all(problem.severity == "warning" for problem in problem_rows)
    return CheckRow(
        format="finplan-check/1", file=str(file), sound=sound, problems=problem_rows, accepted=tuple(accepted)
    )
