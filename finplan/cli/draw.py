"""Writing the drawings of a piece's parts."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path

from finplan.drawing import OURS, piece_drawings
from finplan.inputs import Piece
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.whole_file import refuse_input, write_whole

_MAX_NAME = 40
_HEAD = 400
_RESERVED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})
# Names that stand for devices on some systems, whatever ending they have.


def write_drawings(
    piece: Piece, folder: Path, units: Units | None = None, inputs: Sequence[Path | None] = ()
) -> list[str]:
    """Write one SVG file for each part of a piece into a folder, and return what was written.

    Earlier drawings of the same names are replaced. A file that is no drawing of ours is never touched.

    Parameters
    ----------
    piece
        As the file describes it
    folder
        Where to write; it is made where it is missing
    units
        How sizes are shown; without them as the piece says
    inputs
        What the piece was read from

    Raises
    ------
    FindingsError
        Something is wrong with a part or a joint; nothing is written.
    NotPossibleError
        The folder cannot be written to, or a file there is not ours; nothing is written.
    """
    drawings = piece_drawings(piece, units)
    targets = dict(zip(drawings, (folder / name for name in file_names(drawings)), strict=True))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for target in targets.values():
            _check(target)
            refuse_input(target, inputs)
        for name, target in targets.items():
            write_whole(drawings[name].encode("utf-8"), target)
    except OSError as error:
        msg = f"{folder}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from None
    return [f"{target}: {name}" for name, target in targets.items()]


def file_names(parts: Iterable[str]) -> list[str]:
    """Return a file name for each part: plain, different from all others, and none that leads elsewhere.

    >>> file_names(["Left leg", "left/leg", "../..", "ножка", "nul"])
    ['left-leg.svg', 'left-leg-2.svg', 'part.svg', 'ножка.svg', 'part-nul.svg']
    """
    taken: set[str] = set()
    names: list[str] = []
    for part in parts:
        plain = _plain(part)
        name, number = plain, 2
        while name in taken:
            name, number = f"{plain}-{number}", number + 1
        taken.add(name)
        names.append(f"{name}.svg")
    return names


def _plain(part: str) -> str:
    """Return a part's name in small letters and digits of any alphabet, joined by hyphens."""
    # Compatibility forms fold: two names that some file system takes for one are one here too.
    folded = unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", part).casefold())
    spaced = "".join(character if character.isalnum() else " " for character in folded)
    plain = "-".join(spaced.split())[:_MAX_NAME].strip("-")
    if plain in _RESERVED:
        return f"part-{plain}"
    return plain or "part"


def _check(target: Path) -> None:
    """Raise an error where a file is there that is no drawing of ours."""
    if not target.exists() and not target.is_symlink():
        return
    head = ""
    if target.is_file() and not target.is_symlink():
        with target.open(encoding="utf-8", errors="replace") as file:
            head = file.read(_HEAD)
    if OURS not in head:
        msg = f"{target}: is there, and is no drawing of finplan; move it, or choose another folder"
        raise NotPossibleError(msg)
