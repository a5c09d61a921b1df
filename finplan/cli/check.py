"""What there is to say of a piece file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finplan.inputs import Piece, concerns_of, not_accepted
from finplan.listing import number_of
from finplan.planning import (
    checked_piece,
    missing_for_plan,
    read_source,
    read_workshop,
    together,
    unaccepted,
    workshop_and_problems,
)
from finplan.problems import Problem, RefusedError, told


@dataclass(frozen=True, slots=True)
class Checked:
    """What was found in a piece file and in its shop file."""

    problems: tuple[Problem, ...]
    """All but the warnings that are accepted."""
    piece: Piece | None = None
    """Where all of it could be read."""
    accepted: tuple[str, ...] = ()
    """The warnings that hold and are accepted, by name."""


def found_in(file: Path, shop: Path | None, start: datetime) -> Checked:
    """Return everything that is found in the files; of dates and of the air as from *start* on."""
    try:
        source = read_source(file, shop)
    except RefusedError as error:
        return Checked(tuple(sorted({*error.problems, *_warnings(file, shop)})))
    document = source.piece_file.document
    missing = [document.problem(finding) for finding in missing_for_plan(source.piece)]
    (piece,) = together([source])
    found = {*source.piece_file.problems, *source.shop_file.doubts, *missing, *piece.clashes_anywhere}
    found.update(source.doubtful_on(start.astimezone(source.shop.time_zone).date()))
    if piece.possible:
        from finplan.planning import wood_risks

        found.update(wood_risks([piece], start))
    problems = unaccepted([piece], sorted(found))
    accepted = {problem.name for problem in found} - {problem.name for problem in problems}
    return Checked(problems, source.piece, tuple(sorted(accepted)))


def _warnings(file: Path, shop: Path | None) -> tuple[Problem, ...]:
    """Return what else there is to say of a piece that is refused, or stands in a shop that is."""
    workshop, catalogue, _ = workshop_and_problems(shop)
    try:
        found, _ = checked_piece(file, catalogue)
    except RefusedError:
        return ()
    accepted = {*found.piece.accepted, *(workshop.shop.accept if workshop else ())}
    return not_accepted((*found.problems, *(workshop.shop_file.doubts if workshop else ())), accepted)


def check_lines(file: Path, found: Checked) -> list[str]:
    """Return every problem, and a summary."""
    lines = told(found.problems)
    errors = sum(problem.severity == "error" for problem in found.problems)
    warnings = len(lines) - errors
    if errors:
        lines.append(f"{file}: {number_of(errors, 'problem')} to put right before it can be planned")
    elif found.piece is not None:
        parts = sum(part.count for part in found.piece.parts.values())
        of_set = f" in each of {found.piece.alike}" if found.piece.alike > 1 else ""
        said = f", {number_of(warnings, 'thing')} to look at" if warnings else ""
        lines.append(f"{file}: in order: {found.piece.name}, {number_of(parts, 'part')}{of_set}{said}")
        if warnings:
            names = dict.fromkeys(problem.name for problem in found.problems)
            lines.append(f"What is meant so is not told again with a line in the file: accept: [{', '.join(names)}]")
    return lines


def warning_lines(shop: Path | None) -> list[str]:
    """Return all warnings that there are, by name, with what each says."""
    concerns = concerns_of(read_workshop(shop).catalogue)
    width = max(map(len, concerns))
    return [f"{name.ljust(width)}  {said}" for name, said in sorted(concerns.items())]
