"""Meshes: shapes whose area is known, and files that are broken or reach for what they may not have."""

import gc
import math
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.inputs import Known, piece_from
from finplan.inputs.shapes import Mesh
from finplan.problems import Finding
from finplan.surface.mesh import mesh_faces

trimesh: Any = pytest.importorskip("trimesh", reason="reading meshes is an extra")

KNOWN = Known(timbers=(), systems=(), surfaces=())


def read(folder: Path, file: str, **fields: Any) -> tuple[Mesh | None, list[Finding]]:
    part = {"shape": "mesh", "file": file, "unit": "mm", **fields}
    piece, findings = piece_from({"piece": "Shell", "parts": {"shell": part}}, KNOWN, folder=folder)
    found = piece.parts.get("shell")
    assert found is None or isinstance(found, Mesh)
    return found, findings


def figures(folder: Path, file: str, **fields: Any) -> tuple[float, float]:
    part, findings = read(folder, file, **fields)
    assert part is not None, findings
    (face,) = mesh_faces(part)
    assert face.face == "surface"
    return face.area_mm2, face.end_grain


def refused(folder: Path, file: str, **fields: Any) -> str:
    part, findings = read(folder, file, **fields)
    assert part is None
    assert len(findings) == 1
    assert findings[0].path[:2] == ("parts", "shell")
    assert str(folder) not in findings[0].wrong + findings[0].expected
    return findings[0].wrong


def saved(folder: Path, mesh: Any, name: str, kind: str | None = None) -> str:
    mesh.export(str(folder / name), file_type=kind)
    return name


@pytest.fixture
def block() -> Any:
    return trimesh.creation.box((20, 30, 50))


@pytest.mark.parametrize(
    ("name", "kind"), [("a.stl", "stl"), ("b.STL", "stl"), ("c.stl", "stl_ascii"), ("d.obj", "obj"), ("e.ply", "ply")]
)
def test_a_block_in_every_format(tmp_path: Path, block: Any, name: str, kind: str) -> None:
    saved(tmp_path, block, name, kind)
    area, end_grain = figures(tmp_path, name)
    assert area == pytest.approx(2 * (20 * 30 + 20 * 50 + 30 * 50))
    assert end_grain == pytest.approx(2 * 30 * 50 / area)


@pytest.mark.parametrize(
    ("grain", "end_mm2", "source"),
    [
        ("x", 2 * 30 * 50, "the two faces across x"),
        ("y", 2 * 20 * 50, "across y"),
        ("z", 2 * 20 * 30, "across z"),
        ([0, 0, -7], 2 * 20 * 30, "a direction has no sign and no length"),
        ([1, 1, 0], (2 * 30 * 50 + 2 * 20 * 50) * math.sqrt(0.5), "45 degrees to four faces"),
    ],
)
def test_grain_runs_where_the_file_says(tmp_path: Path, block: Any, grain: Any, end_mm2: float, source: str) -> None:
    area, end_grain = figures(tmp_path, saved(tmp_path, block, "a.stl"), grain=grain)
    assert area * end_grain == pytest.approx(end_mm2), source


@pytest.mark.parametrize(("unit", "factor"), [("mm", 1), ("cm", 10), ("m", 1000), ("in", 25.4)])
def test_units(tmp_path: Path, block: Any, unit: str, factor: float) -> None:
    area, _ = figures(tmp_path, saved(tmp_path, block, "a.ply"), unit=unit)
    assert area == pytest.approx(6200 * factor**2)


def test_a_sphere_is_approached_from_below(tmp_path: Path) -> None:
    exact = 4 * math.pi * 50**2
    areas = []
    for subdivisions in range(1, 6):
        name = saved(tmp_path, trimesh.creation.icosphere(subdivisions=subdivisions, radius=50), f"{subdivisions}.stl")
        area, end_grain = figures(tmp_path, name)
        areas.append(area)
        assert end_grain == pytest.approx(0.5, abs=0.05)
    assert areas == sorted(areas)
    assert areas[-1] < exact
    assert areas[-1] == pytest.approx(exact, rel=1e-3)


@given(turn=st.floats(0, 2 * math.pi))
def test_turning_the_model_with_its_grain_changes_nothing(tmp_path_factory: Any, turn: float) -> None:
    folder = tmp_path_factory.getbasetemp()
    mesh = trimesh.creation.box((20, 30, 50))
    mesh.apply_transform(trimesh.transformations.rotation_matrix(turn, (0, 0, 1)))
    area, end_grain = figures(folder, saved(folder, mesh, "turned.ply"), grain=[math.cos(turn), math.sin(turn), 0])
    assert area == pytest.approx(6200)
    assert end_grain == pytest.approx(3000 / 6200)


def test_faces_with_four_corners_are_two_triangles(tmp_path: Path) -> None:
    corners = [(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)]
    quads = ["1 2 4 3", "5 7 8 6", "1 5 6 2", "3 4 8 7", "1 3 7 5", "2 6 8 4"]
    lines = [f"v {x} {y} {z}" for x, y, z in corners] + [f"f {quad}" for quad in quads]
    (tmp_path / "cube.obj").write_text("\n".join(lines))
    assert figures(tmp_path, "cube.obj")[0] == pytest.approx(6)


def test_a_million_triangles_are_read(tmp_path: Path) -> None:
    sphere = trimesh.creation.icosphere(subdivisions=7, radius=50)
    shells = trimesh.util.concatenate([sphere.copy().apply_translation((120 * n, 0, 0)) for n in range(3)])
    assert len(shells.faces) > 980_000
    saved(tmp_path, shells, "large.stl")
    del sphere, shells
    gc.collect()  # meshes hold themselves: 600 MB, and too few objects to be looked through soon
    area, _ = figures(tmp_path, "large.stl")
    gc.collect()
    assert area == pytest.approx(3 * 4 * math.pi * 50**2, rel=1e-3)


# --- broken meshes ---------------------------------------------------------------------------------------------------


def _open(mesh: Any) -> Any:
    return trimesh.Trimesh(mesh.vertices, mesh.faces[1:], process=False)


def _inverted(mesh: Any) -> Any:
    return trimesh.Trimesh(mesh.vertices, mesh.faces[:, ::-1], process=False)


def _one_turned(mesh: Any) -> Any:
    faces = np.array(mesh.faces)
    faces[0] = faces[0][::-1]
    return trimesh.Trimesh(mesh.vertices, faces, process=False)


def _doubled(mesh: Any) -> Any:
    return trimesh.Trimesh(mesh.vertices, np.vstack([mesh.faces, mesh.faces[:1], mesh.faces[:1, ::-1]]), process=False)


def _flat(mesh: Any) -> Any:
    return trimesh.Trimesh(mesh.vertices, np.vstack([mesh.faces, [[0, 0, 1]]]), process=False)


def _nan(mesh: Any) -> Any:
    vertices = np.array(mesh.vertices)
    vertices[0, 0] = math.nan
    return trimesh.Trimesh(vertices, mesh.faces, process=False)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (_open, "is not closed: 3 edges with a triangle on one side only of 18"),
        (_inverted, "is inside out: its volume is -3e+04 cubic units"),
        (_one_turned, "has triangles that face different ways, at 3 of 18 edges"),
        (_doubled, "is not closed: 3 edges shared by more than two of 18"),
        (_flat, "has 1 of 13 triangles without area"),
        (_nan, "has 1 of 8 corners without finite coordinates"),
    ],
)
def test_broken_meshes_are_reported_with_figures(
    tmp_path: Path, block: Any, spoil: Callable[[Any], Any], said: str
) -> None:
    assert said in refused(tmp_path, saved(tmp_path, spoil(block), "bad.ply"))


@pytest.mark.parametrize("name", ["a.stl", "a.obj", "a.ply"])
@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00" * 84,
        b"garbage\xff\xfe\x00" * 50,
        b"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 zero\nvertex 1 0 0\nvertex 0 1 0\nendloop\n"
        b"endfacet\nendsolid",
        b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99\n",
        b"v 0 0 0\nv 1 0 0\nf one two three\n",
        b"ply\nformat ascii 1.0\nelement vertex 99999999999\nproperty float x\nend_header\n1\n",
        b"ply\nformat binary_little_endian 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
        b"property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n\x00\x00",
    ],
)
def test_garbage_is_refused(tmp_path: Path, name: str, content: bytes) -> None:
    (tmp_path / name).write_bytes(content)
    assert refused(tmp_path, name).startswith(f"'{name}' ")


@pytest.mark.parametrize("kind", ["stl", "stl_ascii", "obj", "ply"])
def test_a_truncated_file_is_refused(tmp_path: Path, kind: str) -> None:
    suffix = kind.split("_")[0]
    whole = tmp_path / f"whole.{suffix}"
    trimesh.creation.icosphere(subdivisions=2, radius=50).export(str(whole), file_type=kind)
    (tmp_path / f"cut.{suffix}").write_bytes(whole.read_bytes()[: whole.stat().st_size * 2 // 3])
    assert refused(tmp_path, f"cut.{suffix}").startswith("'cut.")


def test_coordinates_beyond_all_measure_are_refused(tmp_path: Path) -> None:
    corners = ["-1e308 0 0", "1e308 0 0", "0 1e308 0", "0 0 1e308"]
    lines = [f"v {corner}" for corner in corners] + [f"f {face}" for face in ("1 3 2", "1 2 4", "2 3 4", "1 4 3")]
    (tmp_path / "a.obj").write_text("\n".join(lines))
    assert refused(tmp_path, "a.obj") == "'a.obj' is inf mm across"


def test_a_link_to_another_kind_of_file_is_read_as_it_is_named(tmp_path: Path) -> None:
    (tmp_path / "archive.zip").write_bytes(b"PK\x03\x04")
    (tmp_path / "a.stl").symlink_to("archive.zip")
    assert refused(tmp_path, "a.stl") == "'a.stl' holds no triangles"


@pytest.mark.parametrize("unit", ["m", "ft"])
def test_a_model_too_large_to_be_furniture_is_refused(tmp_path: Path, unit: str) -> None:
    saved(tmp_path, trimesh.creation.box((2000, 10, 10)), "a.stl")
    assert " mm across" in refused(tmp_path, "a.stl", unit=unit)


# --- files that a stranger's piece file may not have -----------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        "../secret.stl",
        "sub/a.stl",
        "/etc/passwd",
        "/etc/passwd.stl",
        "..\\secret.stl",
        "C:secret.stl",
        "a.stl\x00.png",
        "..",
        "",
        "a.txt",
        "a",
        "x" * 300 + ".stl",
        "missing.stl",
        "folder.stl",
    ],
)
def test_only_a_plain_file_beside_the_piece_file_is_read(tmp_path: Path, block: Any, name: str) -> None:
    folder = tmp_path / "piece"
    (folder / "sub").mkdir(parents=True)
    (folder / "folder.stl").mkdir()
    for place in (tmp_path / "secret.stl", folder / "sub" / "a.stl"):
        saved(place.parent, block, place.name)
    refused(folder, name)


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path, block: Any) -> None:
    folder = tmp_path / "piece"
    folder.mkdir()
    saved(tmp_path, block, "secret.stl")
    (folder / "link.stl").symlink_to(tmp_path / "secret.stl")
    (folder / "loop.stl").symlink_to(folder / "loop.stl")
    assert "a link that leads out" in refused(folder, "link.stl")
    refused(folder, "loop.stl")
    saved(folder, block, "own.stl")
    (folder / "alias.stl").symlink_to("own.stl")
    assert figures(folder, "alias.stl")[0] == pytest.approx(6200)


def test_materials_are_never_looked_for(tmp_path: Path, block: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    saved(tmp_path, block, "plain.obj")
    text = (tmp_path / "plain.obj").read_text()
    (tmp_path / "a.obj").write_text("mtllib ../secret.mtl\nmtllib secret.mtl\nusemtl oak\n" + text)
    (tmp_path / "secret.mtl").write_text("newmtl oak\nmap_Kd secret.png\n")
    opened: list[str] = []
    real: Any = os.open

    def watched(file: Any, *args: Any, **kwargs: Any) -> Any:
        opened.append(Path(file).name)
        return real(file, *args, **kwargs)

    def never(*args: Any, **kwargs: Any) -> Any:
        raise AssertionError(args)

    monkeypatch.setattr(os, "open", watched)
    monkeypatch.setattr(Path, "open", never)
    monkeypatch.setattr("builtins.open", never)
    assert figures(tmp_path, "a.obj")[0] == pytest.approx(6200)
    assert opened == ["a.obj"]


def test_a_file_of_more_than_200_mb_is_refused_unread(tmp_path: Path) -> None:
    with (tmp_path / "large.stl").open("wb") as stream:
        stream.truncate(200_000_001)
    assert refused(tmp_path, "large.stl") == "'large.stl' is longer than 200,000,000 bytes"


def test_without_the_extra_it_says_how_to_install_it(
    tmp_path: Path, block: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    saved(tmp_path, block, "a.stl")
    monkeypatch.setitem(__import__("sys").modules, "finplan.inputs.shapes.triangles", None)
    part, findings = read(tmp_path, "a.stl")
    assert part is None
    assert findings[0].expected == "install it: pip install 'finplan[models]'"


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"unit": "parsec"}, "'parsec' is not a unit of length"),
        ({"grain": "width"}, "this is not a direction"),
        ({"grain": [0, 0, 0]}, "the direction has no length"),
        ({"grain": [1, "x", 0]}, "'x' is not a number"),
        ({"grain": [1, math.nan, 0]}, "'nan' is not a number"),
        ({"file": 3}, "this is not the name of a file"),
    ],
)
def test_other_fields_are_checked_too(tmp_path: Path, block: Any, fields: dict[str, Any], said: str) -> None:
    saved(tmp_path, block, "a.stl")
    assert refused(tmp_path, **{"file": "a.stl", **fields}) == said
