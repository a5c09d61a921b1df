"""Pieces that are finished together in one shop: what tells their ids and their names apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import count
from pathlib import Path

from finplan.planning.piece import PlannedPiece
from finplan.planning.source import Source
from finplan.problems import Problem, RefusedError

_KEY_LETTERS = 60


def together(sources: Sequence[Source]) -> tuple[PlannedPiece, ...]:
    """Return pieces of one shop, shown in the units of the first; nothing is reckoned of them yet."""
    keys = _keys(sources)
    names = [source.piece.name for source in sources]
    return tuple(
        PlannedPiece(
            source=replace(source, units=sources[0].units),
            name=name if names.count(name) == 1 else f"{name} ({key.rstrip('/')})",
            key=key,
        )
        for source, name, key in zip(sources, names, keys, strict=True)
    )


def sound_pieces(sources: Sequence[Source]) -> tuple[PlannedPiece, ...]:
    """Return pieces of one shop of which none is refused; raises as ``refuse``."""
    pieces = together(sources)
    refuse(pieces)
    return pieces


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


def _keys(sources: Sequence[Source]) -> list[str]:
    """Return what goes before the ids of each piece: the name of its file, where there are several pieces.

    Two files of one name are told apart by a number, which no other file has in its own.
    """
    if len(sources) == 1:
        return [""]
    stems = [_key(source.piece_file.document.file) for source in sources]
    taken = {stem for stem in stems if stems.count(stem) == 1}
    keys: list[str] = []
    for number, stem in enumerate(stems, start=1):
        key = stem
        if stem not in taken:
            key = next(one for at in count(number) if (one := f"{stem}-{at}") not in taken)
            taken.add(key)
        keys.append(f"{key}/")
    return keys


def _key(file: Path) -> str:
    """Return the name of a file as a part of an id: of bounded length, and without what an id is read by."""
    return "".join(
        letter if letter.isprintable() and letter not in "=/" else "-" for letter in file.stem[:_KEY_LETTERS]
    )
