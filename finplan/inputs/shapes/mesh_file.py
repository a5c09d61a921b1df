"""Which file a mesh is read from, and what is known of it afterwards.

A piece file and its meshes may come from a stranger: a mesh is a plain file beside the piece file, of bounded size.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

from finplan.problems import shown
from finplan.reading import UnreadableError, beside, fail, read_bytes

SUFFIXES = (".stl", ".obj", ".ply")
MAX_BYTES = 200_000_000

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class MeshFigures:
    """What a mesh comes to. In mm and mm²."""

    triangles: int
    area_mm2: float
    end_grain: float
    """The mean over the surface of |n·g|."""
    extents_mm: Vector


def refuse_mesh(wrong: str, expected: str) -> NoReturn:
    """Raise an error about the mesh file for a pydantic validator."""
    fail(wrong, expected, ("file",))


def mesh_bytes(name: str, folder: Path | None) -> bytes:
    """Return the file that a piece file in *folder* means by *name*; anything but a plain file there is an error."""
    quoted = shown(name)
    expected = f"expected the name of a {', '.join(SUFFIXES)} file beside the piece file"
    if Path(name).suffix.lower() not in SUFFIXES:
        refuse_mesh(f"{quoted} is not a mesh file", expected)
    if folder is None:
        refuse_mesh(f"{quoted} cannot be looked for", "meshes are read beside the piece file that names them")
    try:
        return read_bytes(beside(folder, name), MAX_BYTES)
    except UnreadableError as error:
        refuse_mesh(f"{quoted} {error.wrong}", expected)
