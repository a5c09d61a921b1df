"""The areas of the example table, face by face, against an independent calculation.

Nothing of the surface engine is used here. Closed forms are textbook geometry (Pappus-Guldin for the rounded edge, the
frustum for tapers); arcs and the curve are integrated with ``scipy.integrate.quad``, the curve being
``scipy.interpolate.PchipInterpolator``.
"""

from __future__ import annotations

import json
from math import asin, hypot, pi, sqrt
from pathlib import Path

import pytest
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

from tests.conftest import Cli

REL = 1e-9


def revolved(radius, slope, start: float, end: float) -> float:  # type: ignore[no-untyped-def]
    """2π ∫ r √(1 + r'²) dx."""
    value, _ = quad(
        lambda x: 2 * pi * radius(x) * sqrt(1 + slope(x) ** 2), start, end, epsabs=0, epsrel=1e-13, limit=500
    )
    return float(value)


def arc_of_revolution(end_radius: float, middle_radius: float, length: float) -> float:
    """The surface of a circular arc of revolution through end, middle and end, integrated over its own angle."""
    rise = middle_radius - end_radius
    radius = (length**2 / 4 + rise**2) / (2 * abs(rise))
    half_angle = asin(length / 2 / radius)
    centre = middle_radius - radius if rise > 0 else middle_radius + radius
    sign = 1 if rise > 0 else -1
    value, _ = quad(
        lambda a: 2 * pi * (centre + sign * radius * sqrt(1 - (radius * a / radius) ** 2)) * radius / sqrt(1 - a**2),
        -length / 2 / radius,
        length / 2 / radius,
        epsabs=0,
        epsrel=1e-13,
    )
    assert half_angle <= pi / 2
    return float(value)


def expected_top() -> dict[str, float]:
    radius, thickness, over, chamfer = 550.0, 28.0, 6.0, 3.0
    # Pappus: a quarter circle of radius 6 whose centre of gravity lies 2r/π outside its centre
    rounded = 2 * pi * (radius - over + 2 * over / pi) * pi * over / 2
    bevelled = 2 * pi * (radius - chamfer / 2) * chamfer * sqrt(2)
    return {
        "top": pi * (radius - over) ** 2,
        "underside": pi * (radius - chamfer) ** 2,
        "edge": rounded + 2 * pi * radius * (thickness - over - chamfer) + bevelled,
    }


def expected_leg() -> dict[str, float]:
    curve = PchipInterpolator([0, 150, 420], [24, 31, 18])
    turning = (
        pi * 52 * 8
        + arc_of_revolution(24, 32, 22)
        + arc_of_revolution(24, 20, 18)
        + sum(revolved(curve, curve.derivative(), a, b) for a, b in ((0, 150), (150, 420)))
        + pi * (18 + 15) * hypot(102, 3)
    )
    shoulders = (70**2 - pi * 26**2) + pi * (26**2 - 24**2)
    return {
        "turning": turning,
        "shoulders": shoulders,
        "blocks": 4 * 70 * 130,
        "top-end": 70**2,
        "foot-end": pi * 15**2,
    }


APRON = {
    "front": 620 * 100.0,
    "back": 620 * (100.0 - 4),
    "top-edge": 620 * 22.0,
    "bottom-edge": 620 * 22.0,
    "ends": 2 * (100.0 * 22 - 4 * 9),
    "grooves": 620 * (4 + 2 * 9.0),
}

END_GRAIN = {
    # textbook: projected areas of a surface along the grain, over the area
    ("top", "top"): 0.0,
    ("leg", "shoulders"): 1.0,
    ("leg", "blocks"): 0.0,
    ("leg", "foot-end"): 1.0,
    ("apron", "ends"): 1.0,
    ("apron", "grooves"): 0.0,
}


@pytest.fixture
def areas(example: Path, cli: Cli) -> dict[str, dict[str, dict[str, float]]]:
    result = json.loads(cli("areas", example, "--json").out)
    assert result["format"] == "finplan-areas/1"
    return {part["part"]: {face["face"]: face for face in part["faces"]} for part in result["parts"]}


@pytest.mark.parametrize(("part", "expected_mm2"), [("top", expected_top()), ("leg", expected_leg()), ("apron", APRON)])
def test_every_face(part: str, expected_mm2: dict[str, float], areas: dict[str, dict[str, dict[str, float]]]) -> None:
    assert set(areas[part]) == set(expected_mm2)
    for face, area_mm2 in expected_mm2.items():
        assert areas[part][face]["area_m2"] == pytest.approx(area_mm2 / 1e6, rel=REL), face


@pytest.mark.parametrize(("part", "face"), END_GRAIN)
def test_end_grain(part: str, face: str, areas: dict[str, dict[str, dict[str, float]]]) -> None:
    assert areas[part][face]["end_grain"] == pytest.approx(END_GRAIN[part, face], abs=1e-12)


def test_end_grain_of_the_leg(areas: dict[str, dict[str, dict[str, float]]]) -> None:
    # Σ π |Δ(r²)| over each rise and fall, divided by the area
    radii = [(24, 32), (32, 24), (24, 20), (20, 24), (24, 31), (31, 18), (18, 15)]
    projected = sum(pi * abs(a**2 - b**2) for a, b in radii)
    assert areas["leg"]["turning"]["end_grain"] == pytest.approx(projected / expected_leg()["turning"], rel=REL)


def test_totals(example: Path, cli: Cli) -> None:
    result = json.loads(cli("areas", example, "--json").out)
    whole = sum(expected_top().values()) + 4 * sum(expected_leg().values()) + 4 * sum(APRON.values())
    covered = 4 * (APRON["ends"] + APRON["grooves"])
    assert result["area_m2"] == pytest.approx(whole / 1e6, rel=REL)
    assert result["finished_m2"] == pytest.approx((whole - covered) / 1e6, rel=REL)
