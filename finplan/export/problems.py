"""Problems of a file as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from finplan.problems import Problem, printable


def problems_data(file: Path, problems: Iterable[Problem]) -> dict[str, Any]:
    """Return everything that was found in a file."""
    listed = [
        {
            "file": str(problem.file),
            "line": problem.line,
            "column": problem.column,
            "where": printable(problem.where),
            "wrong": printable(problem.wrong),
            "expected": printable(problem.expected),
            "severity": problem.severity,
        }
        for problem in problems
    ]
    sound = all(problem["severity"] == "warning" for problem in listed)
    return {"format": "finplan-check/1", "file": str(file), "sound": sound, "problems": listed}
