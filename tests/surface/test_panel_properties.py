"""Panels: laws that hold whatever the sizes, and surfaces made of many small triangles."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from finplan.inputs.shapes import SHAPES, Panel, Profile
from finplan.reading import validate
from finplan.surface.face import BareFace
from finplan.surface.panel import panel_faces

Fields = dict[str, Any]
Points = np.ndarray[Any, np.dtype[np.float64]]

PROFILES = ("square", "roundover {}", "cove {}", "chamfer {}", "bevel {} x 3", "ogee {}")
SHAPE_FIELDS: dict[str, Fields] = {
    "disc": {"diameter": 500},
    "ellipse": {"length": 600, "width": 420},
    "rectangle": {"length": 600, "width": 420, "corners": 40},
    "stadium": {"length": 600, "width": 420},
    "polygon": {"sides": 7, "across-corners": 500},
    "outline": {
        "path": "M0 0 Q200 -60 400 0 V150 C340 160 260 130 200 200 L150 300 H0 Z M60 60 h40 v40 h-40 z",
        "unit": "mm",
    },
}
PROFILE = st.builds(lambda text, size: text.format(size), st.sampled_from(PROFILES), st.floats(0.5, 8.0))


def faces_of(fields: Fields, lengths: str = "mm") -> dict[str, BareFace]:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths=lengths)
    assert isinstance(part, Panel), findings
    return {face.face: face for face in panel_faces(part)}


def total(faces: dict[str, BareFace]) -> float:
    return sum(face.area_mm2 for face in faces.values())


def scaled(fields: Fields, k: float) -> Fields:
    grown = {name: value * k for name, value in fields.items() if name in ("diameter", "length", "width", "corners")}
    if "across-corners" in fields:
        grown["across-corners"] = fields["across-corners"] * k
    if "unit" in fields:
        grown["unit"] = f"{k!r} mm"
    return {**fields, **grown}


@pytest.mark.parametrize("shape", SHAPE_FIELDS)
@given(size=st.floats(1.0, 8.0), kind=st.sampled_from(PROFILES[1:4]), k=st.floats(0.05, 20))
def test_areas_grow_with_the_square_of_the_size(shape: str, size: float, kind: str, k: float) -> None:
    fields = {"shape": shape, **SHAPE_FIELDS[shape]}
    one = faces_of({**fields, "thickness": 25, "edge": {"top": kind.format(size)}})
    other = faces_of({**scaled(fields, k), "thickness": 25 * k, "edge": {"top": kind.format(size * k)}})
    for name, face in one.items():
        assert other[name].area_mm2 == pytest.approx(k**2 * face.area_mm2, rel=1e-9)
        assert other[name].end_grain == pytest.approx(face.end_grain, rel=1e-9)


@pytest.mark.parametrize("shape", SHAPE_FIELDS)
@given(top=PROFILE, bottom=PROFILE)
def test_turned_over_a_panel_swaps_its_faces(shape: str, top: str, bottom: str) -> None:
    fields = {"shape": shape, **SHAPE_FIELDS[shape], "thickness": 40}
    one = faces_of({**fields, "edge": {"top": top, "bottom": bottom}})
    other = faces_of({**fields, "edge": {"top": bottom, "bottom": top}})
    assert one["top"].area_mm2 == pytest.approx(other["underside"].area_mm2, rel=1e-12)
    assert one["edge"].area_mm2 == pytest.approx(other["edge"].area_mm2, rel=1e-12)


@pytest.mark.parametrize("shape", SHAPE_FIELDS)
@given(size=st.floats(0.5, 8.0))
def test_a_roundover_keeps_further_out_than_a_cove(shape: str, size: float) -> None:
    # Both leave the same face; what is upright of a round-over is further out, so that more of it is seen.
    fields = {"shape": shape, **SHAPE_FIELDS[shape], "thickness": 40}
    one = faces_of({**fields, "edge": {"top": f"roundover {size}"}})
    other = faces_of({**fields, "edge": {"top": f"cove {size}"}})
    assert one["top"].area_mm2 == pytest.approx(other["top"].area_mm2, rel=1e-12)
    assert one["edge"].area_mm2 * one["edge"].end_grain > other["edge"].area_mm2 * other["edge"].end_grain


def test_units_never_matter() -> None:
    metric = faces_of({"shape": "disc", "diameter": 1574.8, "thickness": 31.75, "edge": "ogee 6.35"})
    inches = faces_of({"shape": "disc", "diameter": "62 in", "thickness": "1-1/4 in", "edge": "ogee 1/4 in"})
    bare = faces_of({"shape": "disc", "diameter": 62, "thickness": 1.25, "edge": "ogee 0.25"}, "in")
    for name, face in metric.items():
        assert inches[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-14)
        assert bare[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-14)


@given(diameter=st.floats(20, 5000), edge=PROFILE)
def test_the_outline_of_a_circle_is_a_disc(diameter: float, edge: str) -> None:
    r = diameter / 2
    assume(r > 16.01)
    fields = {"thickness": 40, "edge": {"top": edge}}
    disc = faces_of({"shape": "disc", "diameter": diameter, **fields})
    two = f"M {r!r} 0 A {r!r} {r!r} 0 0 1 {-r!r} 0 A {r!r} {r!r} 0 0 1 {r!r} 0 Z"
    four = (
        f"M{r!r} 0A{r!r} {r!r} 0 01 0 {r!r}A{r!r} {r!r} 0 01{-r!r} 0A{r!r} {r!r} 0 01 0{-r!r}A{r!r} {r!r} 0 01{r!r} 0z"
    )
    for path in (two, four):
        outline = faces_of({"shape": "outline", "path": path, "unit": "mm", **fields})
        for name, face in disc.items():
            assert outline[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-9)
            assert outline[name].end_grain == pytest.approx(face.end_grain, rel=1e-9, abs=1e-12)


@given(edge=PROFILE)
def test_a_polygon_of_many_sides_tends_to_the_disc(edge: str) -> None:
    fields = {"thickness": 40, "edge": {"top": edge}}
    disc = total(faces_of({"shape": "disc", "diameter": 500, **fields}))
    gaps = [
        disc - total(faces_of({"shape": "polygon", "sides": sides, "across-corners": 500, **fields}))
        for sides in (10, 100, 1000)
    ]
    assert gaps[0] > 50 * gaps[1] > 2500 * gaps[2] > 0


@given(length=st.floats(100, 2000), ratio=st.floats(0.1, 1.0))
def test_the_edge_of_an_ellipse_is_the_elliptic_integral(length: float, ratio: float) -> None:
    around_mm = 2 * length * float(ellipe(1 - ratio**2))  # 4·a·E(m), m = 1 − b²/a²
    faces = faces_of({"shape": "ellipse", "length": length, "width": ratio * length, "thickness": 20})
    assert faces["edge"].area_mm2 == pytest.approx(20 * around_mm, rel=1e-10)
    assert faces["edge"].end_grain == pytest.approx(2 * ratio * length / around_mm, rel=1e-10)


@given(radius=st.floats(0.5, 90))
def test_a_rounded_corner_is_used_up_at_its_radius(radius: float) -> None:
    """The parallel curve of a rounded rectangle, by hand: rounded while s < r, sharp past it."""
    fields = {"shape": "rectangle", "length": 600, "width": 400, "corners": radius, "thickness": 90}
    edge = faces_of({**fields, "edge": {"top": "roundover 80"}})["edge"].area_mm2

    def around_mm(s: float) -> float:
        r = max(0.0, radius - s)
        return 2 * (600 + 400 - 4 * s) - (8 - 2 * math.pi) * r

    knee = [math.acos(1 - radius / 80)] if radius < 80 else None
    swept, _ = quad(lambda phi: 80 * around_mm(80 - 80 * math.cos(phi)), 0, math.pi / 2, points=knee, epsabs=1e-9)
    assert edge == pytest.approx(swept + 10 * around_mm(0), rel=1e-10)


# --- a surface of small triangles, made without the laws that the package uses --------------------------------------


def ring_of(shape: str, count: int) -> Callable[[float], Points]:
    """Return the function that gives points of the outline set back by s."""
    t = np.linspace(0, 2 * np.pi, count, endpoint=False)
    if shape == "disc":
        return lambda s: (250 - s) * np.stack((np.cos(t), np.sin(t)), axis=1)
    if shape == "ellipse":
        point = np.stack((300 * np.cos(t), 210 * np.sin(t)), axis=1)
        normal = np.stack((-210 * np.cos(t), -300 * np.sin(t)), axis=1)
        normal /= np.linalg.norm(normal, axis=1)[:, None]
        return lambda s: point + s * normal
    # A rounded rectangle: round its corners' centres, t being the direction of the normal.
    t = t + np.pi / count
    centre = np.stack((np.sign(np.cos(t)) * 260, np.sign(np.sin(t)) * 170), axis=1)
    return lambda s: centre + (40 - s) * np.stack((np.cos(t), np.sin(t)), axis=1)


def profile_points(profile: Profile, thickness: float, count: int) -> Points:
    """Return (set-back, height) from the bottom of the edge to the top, its upper arris profiled."""
    phi = np.linspace(0, np.pi / 2, count)
    r, top = profile.set_back_mm, thickness - profile.height_mm
    if profile.kind == "roundover":
        curve = np.stack((r - r * np.cos(phi), top + r * np.sin(phi)), axis=1)
    elif profile.kind == "cove":
        curve = np.stack((r * np.sin(phi), thickness - r * np.cos(phi)), axis=1)
    elif profile.kind == "ogee":
        h = r / 2
        low = np.stack((h * np.sin(phi), thickness - h - h * np.cos(phi)), axis=1)
        high = np.stack((r - h * np.cos(phi), thickness - h + h * np.sin(phi)), axis=1)
        curve = np.concatenate((low, high[1:]))
    else:
        curve = np.array([[0.0, top], [r, thickness]])
    return np.concatenate(([[0.0, 0.0]], curve))


def triangulated(shape: str, profile: Profile, fine: int) -> tuple[float, float]:
    """Return area and ∫|n·x| of an edge made of triangles."""
    ring = ring_of(shape, fine)
    levels = [
        np.column_stack((ring(s), np.full(fine, h))) for s, h in profile_points(profile, 40.0, max(3, fine // 20))
    ]
    area = seen = 0.0
    for low, high in pairwise(levels):
        for a, b, c in (
            (low, np.roll(low, -1, axis=0), high),
            (np.roll(low, -1, axis=0), np.roll(high, -1, axis=0), high),
        ):
            normals = np.cross(b - a, c - a) / 2
            area += float(np.linalg.norm(normals, axis=1).sum())
            seen += float(np.abs(normals[:, 0]).sum())
    return area, seen


@pytest.mark.parametrize("kind", ["roundover", "cove", "ogee", "bevel"])
@pytest.mark.parametrize("shape", ["disc", "ellipse", "rectangle"])
def test_many_small_triangles_tend_to_the_surface(shape: str, kind: str) -> None:
    profile = Profile(kind, 16.0, 9.0 if kind == "bevel" else 16.0)  # type: ignore[arg-type]
    text = {"bevel": "bevel 16 x 9", "ogee": "ogee 8"}.get(kind, f"{kind} 16")
    edge = faces_of({"shape": shape, **SHAPE_FIELDS[shape], "thickness": 40, "edge": {"top": text}})["edge"]
    gaps = []
    for fine in (100, 400, 1600):
        area_mm2, seen_mm2 = triangulated(shape, profile, fine)
        gaps.append(edge.area_mm2 - area_mm2)
        if fine == 1600:
            assert area_mm2 == pytest.approx(edge.area_mm2, rel=2e-5)
            assert seen_mm2 == pytest.approx(edge.area_mm2 * edge.end_grain, rel=2e-5)
    # Four times as fine, sixteen times as near.
    assert abs(gaps[0]) > 10 * abs(gaps[1]) > 100 * abs(gaps[2])
    if kind in ("roundover", "bevel"):
        assert min(gaps) > 0, "inscribed in a convex surface"
