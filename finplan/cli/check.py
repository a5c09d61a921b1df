"""What there is to say of a piece file."""

from __future__ import annotations

from pathlib import Path

from finplan.inputs import concerns_of
from finplan.listing import number_of
from finplan.planning import Checked, read_workshop
from finplan.problems import printable, problem_lines


def check_lines(file: Path, checked: Checked) -> list[str]:
    """Return every problem, and a summary."""
    lines = problem_lines(checked.problems)
    errors = sum(problem.severity == "error" for problem in checked.problems)
    warnings = len(lines) - errors
    name = printable(str(file))
    if errors:
        lines.append(f"{name}: {number_of(errors, 'problem')} to put right before it can be planned")
    elif checked.piece is not None:
        parts = sum(part.count for part in checked.piece.parts.values())
        of_set = f" in each of {checked.piece.alike}" if checked.piece.alike > 1 else ""
        said = f", {number_of(warnings, 'thing')} to look at" if warnings else ""
        lines.append(f"{name}: in order: {checked.piece.name}, {number_of(parts, 'part')}{of_set}{said}")
        if warnings:
            names = dict.fromkeys(problem.name for problem in checked.problems)
            lines.append(f"What is meant so is not told again with a line in the file: accept: [{', '.join(names)}]")
    return lines


def warning_lines(shop: Path | None) -> list[str]:
    """Return all warnings that there are, by name, with what each says."""
    concerns = concerns_of(read_workshop(shop).catalogue)
    width = max(map(len, concerns))
    return [f"{name.ljust(width)}  {said}" for name, said in sorted(concerns.items())]
