"""Pieces that are finished together in one shop: what tells their ids and their names apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import count, islice
from pathlib import Path

from finplan.inputs import not_accepted
from finplan.planning.piece import PlannedPiece
from finplan.planning.sample import with_samples
from finplan.planning.source import Source
from finplan.problems import Problem, RefusedError

_KEY_LETTERS = 60


def together(sources: Sequence[Source]) -> tuple[PlannedPiece, ...]:
    """Return pieces of one shop, shown in the units of the first, behind them the sample boards that they wait for.

    Nothing is reckoned of pieces that wait for none.
    """
    stems = _stems(sources)
    names = [source.piece.name for source in sources]
    return with_samples(
        PlannedPiece(
            source=replace(source, units=sources[0].units),
            name=name if names.count(name) == 1 else f"{name} ({stem})",
            called=stem,
        )
        for source, name, stem in zip(sources, names, stems, strict=True)
    )


def refuse(pieces: Iterable[PlannedPiece]) -> None:
    """Refuse pieces that cannot be finished so.

    Raises
    ------
    RefusedError
        Carries every problem of all pieces.
    """
    problems: list[Problem] = []
    for piece in pieces:
        try:
            _ = piece.treatments
        except RefusedError as error:
            problems += error.problems
    if problems:
        raise RefusedError(problems)


def unaccepted(pieces: Sequence[PlannedPiece], problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return problems without the warnings that are accepted: by the shop, by all pieces, or by the one they are of.

    Parameters
    ----------
    pieces
        Of one shop
    problems
        Found in their files and in that of the shop
    """
    by_file = {piece.source.piece_file.document.file: set(piece.source.piece.accepted) for piece in pieces}
    by_all = set.intersection(*by_file.values()) | set(pieces[0].source.shop.accept)
    return tuple(problem for problem in problems if not_accepted([problem], by_all | by_file.get(problem.file, set())))


def _stems(sources: Sequence[Source]) -> list[str]:
    """Return what each piece is called in ids: the name of its file, where there are several pieces.

    Two files of one name are told apart by a number, which no other file has in its own.
    """
    if len(sources) == 1:
        return [""]
    names = [_name(source.piece_file.document.file) for source in sources]
    taken = {name for name in names if names.count(name) == 1}
    stems: list[str] = []
    for number, name in enumerate(names, start=1):
        own = name if name in taken else next(free for at in count(number) if (free := f"{name}-{at}") not in taken)
        taken.add(own)
        stems.append(own)
    return stems


def _name(file: Path) -> str:
    """Return the name of a file as a part of an id: of bounded length, and without what an id is read by."""
    return "".join(
        letter if letter.isprintable() and letter not in "=/" else "-" for letter in islice(file.stem, _KEY_LETTERS)
    )
