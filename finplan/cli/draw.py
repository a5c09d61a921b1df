"""Writing the drawings of the parts of pieces."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.sax.saxutils import quoteattr

from finplan.drawing import OURS, piece_drawings, xml_text
from finplan.inputs import Piece
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.whole_file import refuse_input, write_whole

_MAX_NAME, _MAX_STEM = 60, 24
"""Letters of the name of a file, and of what tells the piece in it."""
_HEAD = 2000
"""Letters from the beginning of a file in which it says what it is; a name of a piece may be long."""
_RESERVED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})
# Names that stand for devices on some systems, whatever ending they have.


def write_drawings(
    pieces: Sequence[tuple[str, Piece]],
    folder: Path,
    units: Units | None = None,
    inputs: Sequence[Path | None] = (),
) -> list[str]:
    """Write one SVG file for each part of each piece into a folder, and return what was written.

    A file is named by its piece and its part. Earlier drawings of the same piece are replaced; any other file, also a
    drawing of another piece, is never touched.

    Parameters
    ----------
    pieces
        Each as its file describes it, with the name of that file
    folder
        Where to write; it is made where it is missing
    units
        How sizes are shown; without them as the piece says
    inputs
        What the pieces were read from

    Raises
    ------
    FindingsError
        Something is wrong with a part or a joint; nothing is written.
    NotPossibleError
        The folder cannot be written to, or a file there is another; nothing is written.
    """
    drawn = [
        (stem, piece.name, part, drawing)
        for stem, piece in pieces
        for part, drawing in piece_drawings(piece, units).items()
    ]
    targets = [folder / name for name in file_names(f"{stem[:_MAX_STEM]} {part}" for stem, _, part, _ in drawn)]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for target, (_, piece_name, _, _) in zip(targets, drawn, strict=True):
            _check(target, piece_name)
            refuse_input(target, inputs)
        for target, (_, piece_name, _, drawing) in zip(targets, drawn, strict=True):
            write_whole(drawing.replace(OURS, _of(piece_name), 1).encode("utf-8"), target)
    except OSError as error:
        msg = f"{folder}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from None
    several = len(pieces) > 1
    return [
        f"{target}: {f'{name}, ' if several else ''}{part}"
        for target, (_, name, part, _) in zip(targets, drawn, strict=True)
    ]


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


def _of(piece_name: str) -> str:
    """Return what tells that a drawing is ours, and of which piece."""
    return f"{OURS} data-piece={quoteattr(xml_text(piece_name))}"


def _check(target: Path, piece_name: str) -> None:
    """Raise an error where a file is there that is no drawing of that piece."""
    if not target.exists() and not target.is_symlink():
        return
    head = ""
    if target.is_file() and not target.is_symlink():
        with target.open(encoding="utf-8", errors="replace") as file:
            head = file.read(_HEAD)
    if OURS not in head:
        msg = f"{target}: is there, and is no drawing of finplan; move it, or choose another folder"
        raise NotPossibleError(msg)
    if _of(piece_name) not in head:
        msg = f"{target}: is there, and is a drawing of another piece; move it, or choose another folder"
        raise NotPossibleError(msg)
