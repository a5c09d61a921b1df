"""Everything that there is to say of a piece file, right or wrong."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finplan.inputs import Piece, not_accepted
from finplan.planning.piece import PlannedPiece
from finplan.planning.several import together, unaccepted
from finplan.planning.source import checked_piece, missing_for_plan, read_source
from finplan.planning.wood import wood_risks
from finplan.planning.workshop import workshop_and_problems
from finplan.problems import Problem, RefusedError


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
    piece, *_ = together([source])
    said = said_of(piece, start)
    problems = unaccepted([piece], sorted(said))
    accepted = {problem.name for problem in said} - {problem.name for problem in problems}
    return Checked(problems, source.piece, tuple(sorted(accepted)))


def said_of(piece: PlannedPiece, start: datetime) -> set[Problem]:
    """Return all there is to say of a piece that could be read, and of its shop; arguments as for ``found_in``."""
    source = piece.source
    document = source.piece_file.document
    missing = [document.problem(finding) for finding in missing_for_plan(source.piece)]
    problems = {*source.piece_file.problems, *source.shop_file.doubts, *missing, *piece.clashes_anywhere}
    problems.update(source.doubtful_on(start.astimezone(source.shop.time_zone).date()))
    if piece.possible:
        problems.update(wood_risks([piece], start))
    return problems


def _warnings(file: Path, shop: Path | None) -> tuple[Problem, ...]:
    """Return what else there is to say of a piece that is refused, or stands in a shop that is."""
    workshop, catalogue, _ = workshop_and_problems(shop)
    try:
        piece_file, _ = checked_piece(file, catalogue)
    except RefusedError:
        return ()
    accepted = {*piece_file.piece.accepted, *(workshop.shop.accept if workshop else ())}
    return not_accepted((*piece_file.problems, *(workshop.shop_file.doubts if workshop else ())), accepted)
