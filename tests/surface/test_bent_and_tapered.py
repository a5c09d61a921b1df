"""Boards and rods that are bent, tapered or both: closed forms, and scipy's integral over the surface itself."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.integrate import dblquad
from scipy.optimize import brentq

from finplan.inputs.shapes import SHAPES, Board
from finplan.reading import validate
from finplan.surface import bare_faces

Place = Callable[[float, float], Any]
"""A point of a surface by two parameters, each from 0 to 1."""


def faces(shape: str, **fields: Any) -> dict[str, tuple[float, float]]:
    part, findings = validate(SHAPES[shape], {"shape": shape, **fields}, lengths="mm")
    assert part is not None, findings
    return {face.face: (face.area_mm2, face.end_grain) for face in bare_faces(part)}


def area_of(place: Place, step: float = 1e-5) -> float:
    """Return the area of a surface from its points alone: slopes by differences, the integral by scipy."""

    def stretch(v: float, u: float) -> float:
        along = (np.array(place(u + step, v)) - np.array(place(u - step, v))) / (2 * step)
        across = (np.array(place(u, v + step)) - np.array(place(u, v - step))) / (2 * step)
        return float(np.linalg.norm(np.cross(along, across)))

    return float(dblquad(stretch, 0, 1, 0, 1, epsabs=1e-3, epsrel=1e-8)[0])


# --- boards ----------------------------------------------------------------------------------------------------------

SLAT = {"length": 420, "width": 60, "thickness": 14}


@pytest.mark.parametrize("radius", [None, 878.0, 160.0])
@pytest.mark.parametrize("to", [60, 45])
def test_a_board_that_gets_thinner(radius: float | None, to: float) -> None:
    """Back and bottom edge against the integral over their points; the front is that of a board that does not."""
    fields: dict[str, Any] = {**SLAT, **({"bend": {"radius": radius}} if radius else {})}
    found = faces("board", **fields, taper={"to": to, "thickness-to": 9})

    def place(along: float, height: float, depth: float) -> tuple[float, float, float]:
        if radius is None:
            return along, height, -depth
        return (radius - depth) * math.sin(along / radius), height, (radius - depth) * math.cos(along / radius)

    def width(u: float) -> float:
        return 60 - (60 - to) * u

    def thick(u: float) -> float:
        return 14 - 5 * u

    expected = {
        "back": area_of(lambda u, v: place(420 * u, -v * width(u), thick(u))),
        "top-edge": area_of(lambda u, v: place(420 * u, 0.0, v * thick(u))),
        "bottom-edge": area_of(lambda u, v: place(420 * u, -width(u), v * thick(u))),
        "front": 420 * (60 + to) / 2,
        "ends": 60 * 14 + to * 9,
    }
    assert {face: area for face, (area, _) in found.items()} == pytest.approx(expected, rel=1e-6)
    # Seen from the end a back shows what the thickness loses, over the widths between: ∫w·dt.
    assert found["back"][1] * found["back"][0] == pytest.approx(5 * (60 + to) / 2)
    assert found["bottom-edge"][1] * found["bottom-edge"][0] == pytest.approx((60 - to) * 11.5)


def test_a_board_that_hardly_gets_thinner_is_as_one_that_does_not() -> None:
    plain = faces("board", **SLAT, bend={"radius": 300}, taper={"to": 45})
    thinned = faces("board", **SLAT, bend={"radius": 300}, taper={"to": 45, "thickness-to": 14 - 1e-7})
    for grain in ("length", "width"):
        plain = faces("board", **SLAT, grain=grain, bend={"radius": 300}, taper={"to": 45})
        thinned = faces("board", **SLAT, grain=grain, bend={"radius": 300}, taper={"to": 45, "thickness-to": 14 - 1e-7})
        for face, figures in plain.items():
            assert thinned[face] == pytest.approx(figures, rel=1e-6, abs=1e-6), (grain, face)


@pytest.mark.parametrize(("length", "rise"), [(420, 25), (420, 1), (900, 250), (600, 600 / math.pi)])
def test_the_radius_of_a_rise(length: float, rise: float) -> None:
    """By scipy's root finder on the arc's own equation; a half circle has the radius that it rises."""
    part, _ = validate(Board, {"shape": "board", **SLAT, "length": length, "bend": {"rise": rise}}, lengths="mm")
    assert part is not None
    radius = brentq(lambda r: r * (1 - math.cos(length / 2 / r)) - rise, 0.99 * length / math.pi, 1e6, xtol=1e-10)
    assert part.radius_mm == pytest.approx(radius, rel=1e-6)


def test_a_bend_by_its_radius_is_the_radius() -> None:
    assert faces("board", **SLAT, bend={"radius": 300}) == faces("board", **SLAT, radius=300)


# --- rods ------------------------------------------------------------------------------------------------------------


def test_a_tapered_rod_is_a_frustum() -> None:
    """π·(r + R)·slant, and both ends."""
    found = faces("rod", diameter=38, length=430, taper={"to": 26})
    side = math.pi * (19 + 13) * math.hypot(430, 6)
    assert found["side"] == pytest.approx((side, math.pi * (19**2 - 13**2) / side))
    assert found["ends"][0] == pytest.approx(math.pi * (19**2 + 13**2))


@pytest.mark.parametrize("radius", [30, 300, 5000])
def test_a_bent_rod_has_the_side_of_a_straight_one(radius: float) -> None:
    """Pappus and Guldin: a piece of a torus, 2·π·r·length."""
    found = faces("rod", diameter=26, length=180, bend={"radius": radius})
    assert found["side"] == pytest.approx((math.pi * 26 * 180, 0.0))


@pytest.mark.parametrize(("radius", "to"), [(350, 24), (60, 10)])
def test_a_rod_that_is_bent_and_tapered(radius: float, to: float) -> None:
    found = faces("rod", diameter=36, length=180, taper={"to": to}, bend={"radius": radius})

    def place(u: float, v: float) -> tuple[float, float, float]:
        thick, turn, angle = 18 - (18 - to / 2) * u, 2 * math.pi * v, 180 * u / radius
        out = radius + thick * math.cos(turn)
        return out * math.sin(angle), thick * math.sin(turn), out * math.cos(angle)

    assert found["side"][0] == pytest.approx(area_of(place), rel=1e-6)


# --- what is refused --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shape", "fields", "said"),
    [
        ("board", {**SLAT, "bend": {"rise": 140}}, "bend.rise: the bend rises 140 mm over a length of 420 mm"),
        ("board", {**SLAT, "bend": {}}, "bend: the bend has no size"),
        ("board", {**SLAT, "bend": {"rise": 9, "radius": 90}}, "bend.rise: the bend is given by radius and rise"),
        ("board", {**SLAT, "bend": {"rise": 9}, "radius": 90}, "radius: the bend is given twice"),
        ("board", {**SLAT, "thickness": 140, "bend": {"rise": 133}}, "bend: the bend of radius"),
        ("board", {**SLAT, "taper": {}}, "taper: the taper has no size"),
        ("board", {**SLAT, "taper": {"thickness-to": 15}}, "taper.thickness-to: the taper thickens from 14 to 15 mm"),
        ("board", {**SLAT, "taper": {"thickness-to": 9}, "arris": "chamfer 1"}, "arris: arris in a board that gets"),
        ("board", {**SLAT, "bend": {"rise": 9}, "arch": {"rise": 9}}, "arch: an arch together with a bend"),
        ("rod", {"diameter": 20, "length": 200, "taper": {"to": 30}}, "taper.to: the taper thickens"),
        ("rod", {"diameter": 20, "length": 30, "bend": {"radius": 9}}, "bend: the bend of radius 9 mm"),
        ("rod", {"diameter": 20, "length": 900, "bend": {"radius": 90}}, "length: a length of 900 mm runs more than"),
    ],
)
def test_what_cannot_be_bent_so(shape: str, fields: dict[str, Any], said: str) -> None:
    part, findings = validate(SHAPES[shape], {"shape": shape, **fields}, lengths="mm")
    assert part is None
    found = [f"{'.'.join(map(str, finding.path))}: {finding.wrong}" for finding in findings]
    assert any(one.startswith(said) for one in found), found
