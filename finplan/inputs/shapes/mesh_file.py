"""Which file a mesh is read from, and what is known of it afterwards.

A piece file and its meshes may come from a stranger: a mesh is a plain file beside the piece file, of bounded size.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

from finplan.reading import fail

SUFFIXES = (".stl", ".obj", ".ply")
MAX_BYTES = 200_000_000
_MAX_NAME = 120

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class MeshFigures:
    """What a mesh comes to. In mm and mm²."""

    triangles: int
    area_mm2: float
    end_grain: float
    """The mean over the surface of |n·g|."""
    extents_mm: Vector


def refuse(wrong: str, expected: str) -> NoReturn:
    """Raise an error about the mesh file for a pydantic validator."""
    fail(wrong, expected, ("file",))


def mesh_path(name: str, folder: Path | None) -> Path:
    """Return the file that a piece file in *folder* means by *name*; anything but a plain file there is an error."""
    shown = f"'{name[:60]}'"
    expected = f"expected the name of a {', '.join(SUFFIXES)} file beside the piece file"
    if not name or len(name) > _MAX_NAME or not name.isprintable() or re.search(r"[/\\:]", name):
        refuse(f"{shown} is not a plain file name", expected)
    suffix = Path(name).suffix.lower()
    if suffix not in SUFFIXES:
        refuse(f"{shown} is not a mesh file", expected)
    if folder is None:
        refuse(f"{shown} cannot be looked for", "meshes are read beside the piece file that names them")
    try:
        inside = folder.resolve()
        path = (inside / name).resolve()
        there, size = path.is_file(), path.stat().st_size if path.is_file() else 0
    except (OSError, RuntimeError):
        refuse(f"{shown} cannot be read", expected)
    if path.parent != inside:
        refuse(f"{shown} is a link that leads out of the piece file's folder", expected)
    if not there:
        refuse(f"there is no file {shown}", expected)
    if size > MAX_BYTES:
        refuse(f"{shown} is {size / 1e6:.0f} MB long", f"expected at most {MAX_BYTES / 1e6:.0f} MB")
    return path
