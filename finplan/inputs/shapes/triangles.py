"""Measuring a triangle mesh: its area, its end grain and its size, or what is wrong with it.

Materials and textures that a mesh names are never looked for, and nothing is repaired or guessed. That a surface runs
through itself is not looked for either.
"""

from __future__ import annotations

import io
import logging
import warnings
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import trimesh

from finplan.inputs.shapes.mesh_file import MeshFigures, Vector, refuse_mesh
from finplan.reading import MAX_LENGTH_MM, MIN_LENGTH_MM

# What it says of a broken file would otherwise reach the screen; our own words are enough.
logging.getLogger("trimesh").addHandler(logging.NullHandler())

Floats = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]

_FLAT = 1e-14
"""A triangle with less than this share of the largest one's area has none but for rounding."""


def mesh_figures(raw: bytes, name: str, unit_mm: float, grain: Vector) -> MeshFigures:
    """Return what a mesh comes to; *name* is how the piece file names it.

    Parameters
    ----------
    raw
        The file, from ``mesh_bytes``
    name
        Its ending says what it is; for the text of errors
    unit_mm
        The length of one unit of the mesh. [mm]
    grain
        The direction of the grain, of length 1
    """
    vertices, faces = _triangles(raw, name)
    _check_numbers(vertices, faces, name)
    extents = _extents(vertices, unit_mm, name)
    vertices, faces = _merged(vertices, faces)
    _check_closed(faces, len(vertices), name)
    corners = vertices[faces]
    crosses = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    doubled = np.sqrt((crosses**2).sum(axis=1))
    _check_shape(corners, crosses, doubled, name)
    turned = np.abs(crosses @ np.array(grain))
    return MeshFigures(
        triangles=len(faces),
        area_mm2=float(doubled.sum()) / 2 * unit_mm**2,
        end_grain=min(1.0, float(turned.sum() / doubled.sum())),
        extents_mm=(float(extents[0]), float(extents[1]), float(extents[2])),
    )


def _triangles(raw: bytes, name: str) -> tuple[Floats, Whole]:
    """Return the corners and the triangles as they stand in the file."""
    kind = Path(name).suffix.lower().removeprefix(".")
    try:
        if kind == "obj":
            raw = _without_groups(raw)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            # numpy only warns where numbers turn into something else half way through a file.
            warnings.filterwarnings("error", message=".*could not be read.*")
            loaded: Any = trimesh.load_scene(io.BytesIO(raw), file_type=kind, process=False, skip_materials=True)
            mesh: Any = loaded.to_mesh()
        vertices, faces = np.asarray(mesh.vertices, np.float64), np.asarray(mesh.faces, np.int64)
    except Exception:  # whatever a broken file makes the reader stumble over
        refuse_mesh(f"'{name}' is not a sound {kind.upper()} file", "expected a file that its program can open again")
    return vertices, faces


def _without_groups(raw: bytes) -> bytes:
    """Return the corners and faces of an OBJ file alone: each group of it would be read as a mesh of its own."""
    return b"\n".join(line for line in raw.splitlines() if line.split(None, 1)[:1] in ([b"v"], [b"f"]))


def _check_numbers(vertices: Floats, faces: Whole, name: str) -> None:
    if faces.ndim != 2 or faces.shape[1] != 3 or not len(faces) or not len(vertices):
        refuse_mesh(f"'{name}' holds no triangles", "expected a closed surface")
    if int(faces.min()) < 0 or int(faces.max()) >= len(vertices):
        refuse_mesh(f"'{name}' has triangles with corners that it does not give", "expected the file as it was written")
    wrong = int((~np.isfinite(vertices)).any(axis=1).sum())
    if wrong:
        refuse_mesh(f"'{name}' has {wrong} of {len(vertices)} corners without finite coordinates", "expected numbers")


def _extents(vertices: Floats, unit_mm: float, name: str) -> Floats:
    """Return how far the mesh reaches each way. [mm]"""
    with np.errstate(over="ignore"):
        extents: Floats = (vertices.max(axis=0) - vertices.min(axis=0)) * unit_mm
    largest = float(extents.max())
    if not MIN_LENGTH_MM <= largest <= MAX_LENGTH_MM:
        refuse_mesh(f"'{name}' is {largest:.4g} mm across", "check the unit of the mesh")
    return extents


def _merged(vertices: Floats, faces: Whole) -> tuple[Floats, Whole]:
    """Return the mesh with corners of equal coordinates made one: an STL file gives each triangle its own."""
    order = np.lexsort((vertices[:, 2], vertices[:, 1], vertices[:, 0]))
    ordered = vertices[order]
    fresh = np.ones(len(order), bool)
    fresh[1:] = (ordered[1:] != ordered[:-1]).any(axis=1)
    number = np.empty(len(order), np.int64)
    number[order] = np.cumsum(fresh) - 1
    return ordered[fresh], number[faces]


def _check_closed(faces: Whole, corners: int, name: str) -> None:
    """Every edge must be shared by two triangles that go along it in opposite ways."""
    flat = int(((faces[:, 0] == faces[:, 1]) | (faces[:, 1] == faces[:, 2]) | (faces[:, 2] == faces[:, 0])).sum())
    if flat:
        refuse_mesh(
            f"'{name}' has {flat} of {len(faces)} triangles without area", "remove them in the program that wrote it"
        )
    start, end = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    edges = np.minimum(start, end) * corners + np.maximum(start, end)
    _, which, uses = np.unique(edges, return_inverse=True, return_counts=True)
    balance = np.bincount(which, weights=np.where(start < end, 1.0, -1.0))
    single, crowded = int((uses == 1).sum()), int((uses > 2).sum())
    if single or crowded:
        parts = [f"{single} edges with a triangle on one side only"] if single else []
        parts += [f"{crowded} edges shared by more than two"] if crowded else []
        refuse_mesh(
            f"'{name}' is not closed: {' and '.join(parts)} of {len(uses)}", "close it in the program that wrote it"
        )
    turned = int((balance != 0).sum())
    if turned:
        refuse_mesh(
            f"'{name}' has triangles that face different ways, at {turned} of {len(uses)} edges",
            "make all of them face outwards in the program that wrote it",
        )


def _refuse_flat(count: int, of: int, name: str) -> None:
    if count:
        refuse_mesh(f"'{name}' has {count} of {of} triangles without area", "remove them in the program that wrote it")


def _check_shape(corners: Floats, crosses: Floats, doubled: Floats, name: str) -> None:
    _refuse_flat(int((doubled <= _FLAT * doubled.max()).sum()), len(doubled), name)
    volume = float((corners[:, 0] * crosses).sum()) / 6
    if volume <= 0:
        refuse_mesh(
            f"'{name}' is inside out: its volume is {volume:.4g} cubic units", "turn its triangles to face outwards"
        )
