"""Outlines set back: corners, knees, necks and bends, against forms found by hand and direct integration."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from finplan.geometry import ParallelCurves, cross, outline_of, read_path, sharpness
from finplan.inputs.shapes import OutlinePanel, Profile
from finplan.problems import FindingsError
from finplan.reading import validate
from finplan.surface.edge_band import edge_band
from finplan.surface.face import BareFace
from finplan.surface.panel import panel_faces
from finplan.surface.profile import Rates, Stroke, strokes

L_PATH = "M0 0 H400 V150 H200 V300 H0 Z"


def faces_of(path: str, edge: Any, thickness: float = 200.0) -> dict[str, BareFace]:
    fields = {"shape": "outline", "path": path, "unit": "mm", "thickness": thickness, "edge": edge}
    part, findings = validate(OutlinePanel, fields, lengths="mm")
    assert part is not None, findings
    return {face.face: face for face in panel_faces(part)}


def face_left(path: str, set_back: float) -> float:
    return faces_of(path, {"top": f"bevel {set_back!r} x 5"})["top"].area_mm2


def refusal(path: str, set_back: float) -> str:
    with pytest.raises(FindingsError) as refused:
        face_left(path, set_back)
    return refused.value.findings[0].wrong


def swept(around_mm: Callable[[float], float], radius: float) -> float:
    """Return the surface of a round-over, by direct integration."""
    value, _ = quad(lambda phi: radius * around_mm(radius - radius * math.cos(phi)), 0, math.pi / 2, epsabs=1e-11)
    return float(value)


@given(s=st.floats(0.1, 70))
def test_inside_corners_round_off_and_outside_corners_mitre(s: float) -> None:
    # By hand: the L less its borders, plus what the inside corner's quarter circle leaves of its square.
    expected = (400 - 2 * s) * (300 - 2 * s) - 200 * 150 + (1 - math.pi / 4) * s**2
    assert face_left(L_PATH, s) == pytest.approx(expected, rel=1e-12)


@given(radius=st.floats(1, 70))
def test_the_end_grain_of_an_l(radius: float) -> None:
    # All its upright sides together are twice 300 - 2s high, rounded corner and all.
    edge = faces_of(L_PATH, {"top": f"roundover {radius!r}"})["edge"]
    upright, _ = quad(lambda phi: 2 * (300 - 2 * radius * (1 - math.cos(phi))) * radius * math.cos(phi), 0, math.pi / 2)
    assert edge.end_grain * edge.area_mm2 == pytest.approx(upright + 600 * (200 - radius), rel=1e-10)


@given(s=st.floats(0.1, 140))
def test_corners_between_curves_turn_ever_less_sharply(s: float) -> None:
    # Two circles of 500 whose centres are 700 apart: set back, two circles of 500 - s.
    tip = math.sqrt(500**2 - 350**2)
    path = f"M{-tip!r} 0 A500 500 0 0 0 {tip!r} 0 A500 500 0 0 0 {-tip!r} 0 Z"
    r = 500 - s
    lens = 2 * (r**2 * math.acos(350 / r) - 350 * math.sqrt(r**2 - 350**2))
    assert face_left(path, s) == pytest.approx(lens, rel=1e-10)


@given(radius=st.floats(1, 140))
def test_the_end_grain_of_a_boat_whose_tips_are_its_highest_points(radius: float) -> None:
    tip = math.sqrt(500**2 - 350**2)
    path = f"M0 {-tip!r} A500 500 0 0 1 0 {tip!r} A500 500 0 0 1 0 {-tip!r} Z"
    edge = faces_of(path, {"top": f"roundover {radius!r}"})["edge"]

    def across(phi: float) -> float:
        r = 500 - radius * (1 - math.cos(phi))
        return 4 * math.sqrt(r**2 - 350**2) * radius * math.cos(phi)

    upright, _ = quad(across, 0, math.pi / 2, epsabs=1e-10)
    assert edge.end_grain * edge.area_mm2 == pytest.approx(upright + 4 * tip * (200 - radius), rel=1e-9)


@given(chamfer=st.floats(1, 40), s=st.floats(1, 120))
def test_a_short_side_between_corners_is_used_up(chamfer: float, s: float) -> None:
    # A square of 300 with its corners cut off: each short side shrinks by 2·tan(22.5°) a millimetre, then is gone.
    c = chamfer
    path = f"M{c} 0H{300 - c}L300 {c}V{300 - c}L{300 - c} 300H{c}L0 {300 - c}V{c}Z"
    short = max(0.0, c * math.sqrt(2) - 2 * s * math.tan(math.pi / 8))
    assert face_left(path, s) == pytest.approx((300 - 2 * s) ** 2 - short**2, rel=1e-10)


@given(radius=st.floats(2, 60), s=st.floats(1, 140))
def test_rounded_corners_of_a_drawn_plate(radius: float, s: float) -> None:
    r = radius
    first, second = f"M{r} 0H{300 - r}a{r} {r} 0 01{r} {r}V{300 - r}", f"a{r} {r} 0 01{-r} {r}H{r}"
    path = f"{first}{second}a{r} {r} 0 01{-r} {-r}V{r}a{r} {r} 0 01{r} {-r}Z"
    left = max(0.0, r - s)
    assert face_left(path, s) == pytest.approx((300 - 2 * s) ** 2 - (4 - math.pi) * left**2, rel=1e-9)


def test_a_wave_of_concave_arcs() -> None:
    # Four arcs bulging inward between the corners of a square: set back, their radius grows.
    path = "M0 0 A200 200 0 0 0 200 0 A200 200 0 0 0 200 200 A200 200 0 0 0 0 200 A200 200 0 0 0 0 0 Z"

    def around(s: float) -> float:
        # Corner on the diagonal at distance 200 + s from a centre √3·100 outside the middle of each side.
        d = 100 + 100 * math.sqrt(3)
        # (x - 0)² + (x + ...)²: the corner (x, x) from the middle, circle about (0, d).
        x = (d - math.sqrt(2 * (200 + s) ** 2 - d**2)) / 2
        return 8 * (200 + s) * math.asin(x / (200 + s))

    faces = faces_of(path, {"top": "roundover 40"})
    assert around(0) == pytest.approx(4 * 200 * math.pi / 3, rel=1e-12)
    assert faces["edge"].area_mm2 == pytest.approx(swept(around, 40) + 160 * around(0), rel=1e-10)


@pytest.mark.parametrize(
    ("path", "set_back", "text"),
    [
        ("M0 0H300V100H0Z", 51, "but its half width of 50 mm is used up"),
        # Two squares of 100 and a neck of 20 between them.
        (
            "M0 0H100V40H200V0H300V100H200V60H100V100H0Z",
            11,
            "but its half width of 10 mm is used up near (",
        ),
        ("M0 0H100V100H50.5V20H49.5V100H0Z", 24.9, "but its half width of 10 mm is used up near (50.5, 10) mm"),
        # An ellipse's bend of 30²/100, drawn as arcs.
        (
            "M0 30A100 30 0 0 1 200 30A100 30 0 0 1 0 30Z",
            9.1,
            "but its least radius of curvature is 9 mm near (0, 30) mm",
        ),
        ("M0 0C0 0 90 0 100 0C104 0 104 4 104 8V100H0Z", 3, "but its least radius of curvature is 2."),
        ("M0 0A50 50 0 0 1 100 0A50 50 0 0 1 0 0Z", 50.1, "but its half width of 50 mm is used up"),
    ],
)
def test_set_backs_that_are_too_far(path: str, set_back: float, text: str) -> None:
    assert text in refusal(path, set_back)
    assert f"back by {set_back:g} mm, " in refusal(path, set_back)


def test_a_slot_is_left_alone_until_it_is_reached() -> None:
    path = "M0 0H100V100H50.5V20H49.5V100H0Z"
    legs = 2 * (49.5 - 2 * 9) * (100 - 18)
    # Between the legs, over the floor under the slot, whose two corners round off.
    floor = 1 * (20 - 2 * 9) + 2 * 9 * (20 - 2 * 9) + 2 * (1 - math.pi / 4) * 9**2
    assert face_left(path, 9) == pytest.approx(legs + floor, rel=1e-12)


def test_bends_to_the_outside_set_no_limit() -> None:
    # A notch that bends sharply, but inwards.
    path = "M0 0H200V200H104C104 190 102 188 100 188C98 188 96 190 96 200H0Z"
    assert 0 < face_left(path, 40) < 120 * 120


@given(turn=st.floats(1e-6, 3.1))
def test_sharpness_is_twice_the_tangent_less_the_turn(turn: float) -> None:
    # From the power series of the tangent where that has converged, else directly.
    series = turn**3 / 12 + turn**5 / 120 + 17 * turn**7 / 20160
    expected = series if turn < 0.05 else 2 * math.tan(turn / 2) - turn
    assert sharpness(turn) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("kind", ["roundover", "cove", "chamfer", "bevel", "ogee"])
@given(low=st.floats(0, 0.9), share=st.floats(0.01, 1))
def test_the_moments_of_a_profile_are_its_integrals(kind: str, low: float, share: float) -> None:
    for stroke in strokes(Profile(kind, 12.0, 7.0 if kind == "bevel" else 12.0)):  # type: ignore[arg-type]
        start = stroke.near_mm + low * (stroke.far_mm - stroke.near_mm)
        check_moments(stroke, start, start + share * (stroke.far_mm - start))


def check_moments(stroke: Stroke, start: float, end: float) -> None:
    moments = stroke.moments(start, end)

    def integral(of: Callable[[Rates, float], float]) -> float:
        low, high = stroke.parameter(start), stroke.parameter(end)
        value, _ = quad(lambda at: of(stroke.rates(at), stroke.set_back_mm(at) - start), low, high, epsabs=1e-13)
        return float(value)

    sums = (
        (moments.length_mm, integral(lambda rates, u: rates.length_mm)),
        (moments.length_moment_mm2, integral(lambda rates, u: rates.length_mm * u)),
        (moments.height_mm, integral(lambda rates, u: rates.height_mm)),
        (moments.height_moment_mm2, integral(lambda rates, u: rates.height_mm * u)),
        (end - start, integral(lambda rates, u: rates.set_back_mm)),
    )
    for closed, integrated in sums:
        assert closed == pytest.approx(integrated, rel=1e-9, abs=1e-11)


# Invented outlines with corners between lines, arcs and curves of both hands; many links are used up on the way in.
RAGGED = {
    "curves": (
        "M76.591 98.925 Q-74.456 173.998 -99.684 340.776 A296.179 236.943 4.795 0 1 -132.848 89.505 L-326.413 -77.886 "
        "L-251.573 -299.749 L-58.345 -139.504 L65.36 -113.541 C115.5 -97.777 177.486 -57.192 235.063 -71.328 "
        "Q269.682 -45.519 312.859 -46.122 Q168.435 -16.423 76.591 98.925Z"
    ),
    "saw": "M0 0"
    + "".join(f"L{20 * k + 10} {-7 * (k % 3)}L{20 * k + 20} {5 * (k % 2)}" for k in range(20))
    + "V300H0Z",
    "leaf": "M0 0C40 -90 160 -90 220 -20Q300 60 380 0A120 120 0 0 1 300 160C200 120 130 260 60 190Q-60 120 0 0Z",
}


@pytest.mark.parametrize("share", [0.03, 0.2, 0.5, 0.7, 0.9, 0.97])
@pytest.mark.parametrize("name", RAGGED)
def test_what_is_left_is_what_the_moved_chain_encloses(name: str, share: float) -> None:
    """The face follows from the law of the corners alone; the chain's points are found without it."""
    (subpath,) = read_path(RAGGED[name])
    curves = ParallelCurves(outline_of(subpath, 1.0, 0j))
    s = share * {"curves": 116.0, "saw": 140.0, "leaf": 30.0}[name]
    left_mm2 = edge_band(curves, Profile("bevel", s, 5.0)).face_mm2
    steps = [index / 200 for index in range(200)]
    points = [
        strand.link.at(strand.low + (strand.high - strand.low) * step, s)
        for strand in curves.front_at(s).strands(s)
        for step in (steps if not strand.link.straight else [0.0])
    ]
    enclosed_mm2 = sum(cross(points[index - 1], point) for index, point in enumerate(points)) / 2
    assert left_mm2 == pytest.approx(enclosed_mm2, rel=1e-5, abs=1e-5 * curves.area_mm2)
