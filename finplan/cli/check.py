"""What there is to say of a piece file."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from finplan.inputs import Piece
from finplan.listing import number_of
from finplan.planning import checked_piece, missing_for_plan, read_source, together, workshop_and_problems
from finplan.problems import Problem, RefusedError, told


def found_in(file: Path, shop: Path | None, start: datetime) -> tuple[tuple[Problem, ...], Piece | None]:
    """Return every problem of the files, and the piece where all of it could be read; of the air as from *start* on."""
    try:
        source = read_source(file, shop)
    except RefusedError as error:
        warnings = _warnings(file, shop)
        return tuple(sorted({*error.problems, *warnings})), None
    document = source.piece_file.document
    missing = [document.problem(finding) for finding in missing_for_plan(source.piece)]
    (piece,) = together([source])
    found = {*source.piece_file.problems, *missing, *piece.clashes_anywhere}
    if piece.possible:
        from finplan.planning import wood_risks

        found.update(wood_risks([piece], start))
    return tuple(sorted(found)), source.piece


def _warnings(file: Path, shop: Path | None) -> tuple[Problem, ...]:
    _, catalogue, _ = workshop_and_problems(shop)
    try:
        found, _ = checked_piece(file, catalogue)
    except RefusedError:
        return ()
    return found.problems


def check_lines(file: Path, problems: tuple[Problem, ...], piece: Piece | None) -> list[str]:
    """Return every problem, and a summary."""
    lines = told(problems)
    errors = sum(problem.severity == "error" for problem in problems)
    warnings = len(problems) - errors
    if errors:
        lines.append(f"{file}: {number_of(errors, 'problem')} to put right before it can be planned")
    elif piece is not None:
        parts = sum(part.count for part in piece.parts.values())
        said = f", {number_of(warnings, 'thing')} to look at" if warnings else ""
        lines.append(f"{file}: in order: {piece.name}, {number_of(parts, 'part')}{said}")
    return lines
