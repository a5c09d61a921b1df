"""Outlines by points and by offsets: against closed forms, scipy's splines and its quadrature."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import CubicSpline

from finplan.geometry import batten
from finplan.inputs.shapes import SHAPES
from finplan.problems import FindingsError
from finplan.reading import validate
from finplan.surface import bare_faces


def faces(**fields: Any) -> dict[str, tuple[float, float]]:
    part, findings = validate(SHAPES["outline"], {"shape": "outline", "thickness": 20, **fields}, lengths="mm")
    assert part is not None, findings
    return {face.face: (face.area_mm2, face.end_grain) for face in bare_faces(part)}


def wrong(**fields: Any) -> list[str]:
    part, findings = validate(SHAPES["outline"], {"shape": "outline", "thickness": 20, **fields}, lengths="mm")
    assert part is None
    return [f"{'.'.join(map(str, finding.path))}: {finding.wrong}; {finding.expected}" for finding in findings]


# --- straight lines ---------------------------------------------------------------------------------------------------


def test_a_trapezium() -> None:
    """(300 + 340)/2 · 200, and the way round: plane geometry."""
    found = faces(points=[[0, 0], [340, 0], [300, 200], [0, 200]])
    assert found["top"][0] == pytest.approx(320 * 200)
    round_mm = 340 + math.hypot(40, 200) + 300 + 200
    assert found["edge"] == pytest.approx((20 * round_mm, 400 / round_mm))


def test_which_way_round_and_from_where_is_all_the_same() -> None:
    points = [[0, 0], [340, 20], [310, 200], [0, 180]]
    turned = [*points[2:], *points[:2]]
    for smooth in (False, True):
        found = [faces(points=one, smooth=smooth) for one in (points, turned, points[::-1])]
        for face in ("top", "underside", "edge"):
            assert [one[face] for one in found] == [pytest.approx(found[0][face])] * 3


def test_offsets_by_the_trapezoidal_rule() -> None:
    """The rule of the offsets: half the ends and all others, times the distance."""
    found = faces(offsets={"every": 50, "widths": [62, 68, 71, 68, 62]})
    assert found["top"][0] == pytest.approx(50 * (62 + 68 + 71 + 68))
    slanted = 20 * (2 * math.hypot(50, 6) + 2 * math.hypot(50, 3) + 200 + 2 * 62)
    assert found["edge"][0] == pytest.approx(slanted)
    middle = faces(offsets={"every": 50, "widths": [62, 68, 71, 68, 62], "from": "middle"})
    assert middle["top"][0] == pytest.approx(found["top"][0])
    assert middle["edge"][0] == pytest.approx(20 * (4 * math.hypot(50, 3) + 4 * math.hypot(50, 1.5) + 2 * 62))
    both = faces(offsets={"every": 50, "upper": [31, 34, 35.5, 34, 31], "lower": [-31, -34, -35.5, -34, -31]})
    assert [both[face] for face in both] == [pytest.approx(middle[face]) for face in middle]


def test_offsets_that_end_in_a_point() -> None:
    found = faces(offsets={"every": "5 cm", "widths": [0, 60, 0]})
    assert found["top"][0] == pytest.approx(50 * 60)
    assert found["edge"][0] == pytest.approx(20 * (100 + 2 * math.hypot(50, 60)))


def test_units_are_those_of_the_file_or_ones_own() -> None:
    inches = faces(points=[["0 in", "0 in"], ["10 in", "0 in"], ["10 in", "4 in"], ["0 in", "4 in"]])
    assert inches["top"][0] == pytest.approx(40 * 25.4**2)


# --- smooth lines -----------------------------------------------------------------------------------------------------


def scipys(points: list[complex], kind: str) -> tuple[CubicSpline, float]:
    """Return scipy's spline through points, by chord length, and its length in parameter."""
    at = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    return CubicSpline(at, [[p.real, p.imag] for p in points], bc_type=kind), float(at[-1])


def enclosed_and_length(spline: CubicSpline, knots: Any) -> tuple[float, float]:
    """Return ∫(x dy − y dx)/2 and the way along a curve, by scipy's quadrature between its points."""
    slope = spline.derivative()

    def area(t: float) -> float:
        (x, y), (dx, dy) = spline(t), slope(t)
        return float(x * dy - y * dx) / 2

    def way(t: float) -> float:
        return float(np.hypot(*slope(t)))

    spans = list(pairwise(knots))
    return tuple(math.fsum(quad(one, a, b, epsabs=1e-9)[0] for a, b in spans) for one in (area, way))  # type: ignore[return-value]


POINTS = [0j, 150 - 70j, 320 + 10j, 250 + 120j, 90 + 140j]


def test_a_smooth_closed_line_is_the_periodic_spline_of_scipy() -> None:
    spline, _ = scipys([*POINTS, POINTS[0]], "periodic")
    area, way = enclosed_and_length(spline, spline.x)
    found = faces(points=[[p.real, p.imag] for p in POINTS], smooth=True)
    assert found["top"][0] == pytest.approx(area, rel=1e-9)
    assert found["edge"][0] == pytest.approx(20 * way, rel=1e-9)


def test_between_corners_it_is_the_natural_spline_of_scipy() -> None:
    foot = [
        {"corner": [0, 0]},
        [180, 95],
        {"corner": [420, 120]},
        {"corner": [420, 165]},
        [170, 150],
        {"corner": [0, 90]},
    ]
    below, above = [0j, 180 + 95j, 420 + 120j], [420 + 165j, 170 + 150j, 90j]
    found = faces(points=foot, smooth=True)
    parts = [enclosed_and_length(one, one.x) for one, _ in (scipys(below, "natural"), scipys(above, "natural"))]
    straight = (420 * 165 - 420 * 120) / 2  # the end at the foot, seen from the origin; the other runs to the origin
    assert found["top"][0] == pytest.approx(parts[0][0] + parts[1][0] + straight, rel=1e-9)
    assert found["edge"][0] == pytest.approx(20 * (parts[0][1] + parts[1][1] + 45 + 90), rel=1e-9)


def test_smooth_offsets_are_the_natural_spline_of_scipy() -> None:
    widths = [40, 70, 95, 60]
    spline, _ = scipys([complex(75 * i, width) for i, width in enumerate(widths)], "natural")
    area, way = enclosed_and_length(spline, spline.x)
    # Seen from the origin: the far end, and what the curve sweeps as it comes back; the near end lies in line.
    enclosed = 225 * widths[-1] / 2 - area
    found = faces(offsets={"every": 75, "widths": widths}, smooth=True)
    assert found["top"][0] == pytest.approx(enclosed, rel=1e-9)
    assert found["edge"][0] == pytest.approx(20 * (way + 225 + widths[0] + widths[-1]), rel=1e-9)


def test_many_points_of_a_circle_make_a_circle() -> None:
    """π·r² and 2·π·r; end grain 2/π."""
    points = [[100 * math.cos(a), 100 * math.sin(a)] for a in (2 * math.pi * k / 48 for k in range(48))]
    found = faces(points=points, smooth=True)
    assert found["top"][0] == pytest.approx(math.pi * 1e4, rel=1e-5)
    assert found["edge"] == pytest.approx((4000 * math.pi, 2 / math.pi), rel=1e-4)


def test_a_batten_through_points_in_line_is_straight() -> None:
    line = batten([0j, 10 + 5j, 40 + 20j, 60 + 30j])
    assert all(abs((one.first / (2 + 1j)).imag) < 1e-12 and abs((one.second / (2 + 1j)).imag) < 1e-12 for one in line)


# --- what is refused --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({}, ": the outline is not drawn; give one of path, points, offsets"),
        ({"points": [[0, 0], [9, 0], [9, 9]], "path": "M0 0h9v9z", "unit": "mm"}, "points: the outline is drawn"),
        ({"path": "M0 0h9v9z"}, "unit: field 'unit' is missing"),
        ({"points": [[0, 0], [9, 0], [9, 9]], "unit": "mm"}, "unit: 'unit' belongs to a path"),
        ({"path": "M0 0h9v9z", "unit": "mm", "smooth": True}, "smooth: 'smooth' belongs to points and offsets"),
        ({"points": [[0, 0], [9, 0]]}, "points: these are not the points of an outline"),
        ({"points": [[0, 0], [9, 0], [9, 0], [9, 9]]}, "points.2: this point is where the one before is"),
        ({"points": [[0, 0], [9, 0], [9, 9], [0, 0]]}, "points.3: the last point is where the first is"),
        ({"points": [[0, 0], [9, 0], [9, "x"]]}, "points.2.1: 'x' is not"),
        ({"points": [[0, 0], [9, 0], [9, 9, 5]]}, "points.2: this is not a point; expected [x, y]; is it a comma"),
        ({"points": [[0, 0], {"corner": [9]}, [9, 9]]}, "points.1.corner: this is not a point"),
        ({"points": [[0, 0], {"coner": [9, 0]}, [9, 9]]}, "points.1.coner: field 'coner' is unknown; did"),
        ({"points": [[0, 0], [9, 0], [9, 9]], "smooth": "yes"}, "smooth: 'yes' is neither true nor false"),
        ({"points": [[i, i % 2] for i in range(501)]}, "points: these are not the points of an outline"),
        ({"offsets": {"every": 50}}, "offsets: there are no offsets; give widths, or upper and lower"),
        ({"offsets": {"every": 50, "widths": [60, 0, 60]}}, "offsets.widths.1: the part is 0 mm wide there"),
        ({"offsets": {"every": 50, "widths": [60, -5, 60]}}, "offsets.widths.1: the part is -5 mm wide there"),
        ({"offsets": {"every": 50, "upper": [60, 70]}}, "offsets: lower is missing"),
        ({"offsets": {"every": 50, "upper": [60, 70], "lower": [0]}}, "offsets.lower: these are not offsets"),
        ({"offsets": {"every": 50, "upper": [60, 70], "lower": [0, 80]}}, "offsets.upper.1: the part is -10 mm wide"),
        ({"offsets": {"every": 0, "widths": [60, 60]}}, "offsets.every: '0' is zero"),
        ({"offsets": {"every": "99 m", "widths": [60, 60, 60]}}, "offsets.every: the part is 198 m long"),
    ],
)  # fmt: skip
def test_what_is_no_outline(fields: dict[str, Any], said: str) -> None:
    found = wrong(**fields)
    assert any(one.startswith(said) for one in found), found


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"points": [[0, 0], [9, 9], [9, 0], [0, 9]]}, "points: the line through the points crosses or"),
        ({"points": [[0, 0], [9, 0], [4, 0]]}, "points: the line through the points turns back on itself"),
        ({"offsets": {"every": 9, "widths": [9, 0.002, 9, 200]}, "smooth": True}, "offsets: the line through"),
    ],
)  # fmt: skip
def test_what_goes_round_more_than_once(fields: dict[str, Any], said: str) -> None:
    with pytest.raises(FindingsError, match=said):
        faces(**fields)
