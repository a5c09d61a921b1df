"""Turned parts: against a solid modelling kernel, by hand, and by properties."""

import json
import math
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

from finplan.geometry import spline_spans
from finplan.inputs.shapes import Turned
from finplan.problems import show_path
from finplan.reading import validate
from finplan.surface.face import BareFace
from finplan.surface.turned import turned_faces

REFERENCE = json.loads((Path(__file__).parents[1] / "reference/cad_panels_and_turnings.json").read_text("utf-8"))
LEGS = {name: case for name, case in REFERENCE["cases"].items() if case["fields"]["shape"] == "turned"}

Element = dict[str, dict[str, Any]]
SIZE = st.floats(5, 200)
POINTS = st.lists(st.tuples(st.floats(0.5, 300), st.floats(2, 150)), min_size=2, max_size=8)


def faces_of(*elements: Element, lengths: str = "mm") -> dict[str, BareFace]:
    part, findings = validate(Turned, {"shape": "turned", "elements": list(elements)}, lengths=lengths)
    assert part is not None, findings
    faces = {face.face: face for face in turned_faces(part)}
    assert tuple(faces) == part.face_names()
    return faces


def block(side: float, length: float = 50) -> Element:
    return {"block": {"side": side, "length": length}}


def cylinder(diameter: float, length: float = 50) -> Element:
    return {"cylinder": {"diameter": diameter, "length": length}}


def curve(points: list[tuple[float, float]]) -> list[list[float]]:
    """Make steps along the axis into distances."""
    distances = np.cumsum([0.0, *(step for step, _ in points[1:])])
    return [[float(distance), across] for distance, (_, across) in zip(distances, points, strict=True)]


@pytest.mark.parametrize("name", LEGS)
def test_areas_agree_with_a_modelling_kernel(name: str) -> None:
    faces = faces_of(*LEGS[name]["fields"]["elements"])
    areas_mm2 = LEGS[name]["faces_mm2"]
    assert set(faces) == set(areas_mm2)
    for face, area_mm2 in areas_mm2.items():
        # Both exact, but for the kernel's integration and its 13 digits.
        assert faces[face].area_mm2 == pytest.approx(area_mm2, rel=1e-10), face


@pytest.mark.parametrize(
    ("elements", "face", "area_mm2", "source"),
    [
        ([block(70, 130)], "blocks", 36400, "4·70·130"),
        ([block(70, 130)], "top-end", 4900, "70²"),
        ([cylinder(40)], "turning", 2000 * math.pi, "π·40·50"),
        ([cylinder(40)], "foot-end", 400 * math.pi, "π·20²"),
        ([{"taper": {"from": 60, "to": 20, "length": 15}}], "turning", 1000 * math.pi, "π·(30 + 10)·25"),
        ([{"bead": {"diameter": 100, "neck": 60, "length": 80}}], "turning", 8000 * math.pi, "zone of a ball of 50"),
        ([{"bead": {"diameter": 40, "neck": 40, "length": 50}}], "turning", 2000 * math.pi, "flat: a cylinder"),
        ([{"cove": {"diameter": 40, "rim": 40, "length": 50}}], "turning", 2000 * math.pi, "flat: a cylinder"),
        (
            [{"bead": {"diameter": 80, "neck": 60, "length": 20}}],
            "turning",
            2 * math.pi * (30 * math.pi * 10 + 200),
            "outer half of a ring of tube 10 about 30: 2·π·r·(π·R + 2·r)",
        ),
        (
            [{"cove": {"diameter": 60, "rim": 80, "length": 20}}],
            "turning",
            2 * math.pi * (40 * math.pi * 10 - 200),
            "inner half of a ring of tube 10 about 40: 2·π·r·(π·R − 2·r)",
        ),
        ([cylinder(50), cylinder(30)], "shoulders", 400 * math.pi, "π·(25² − 15²)"),
        ([block(70), cylinder(50)], "shoulders", 4900 - 625 * math.pi, "70² − π·25²"),
        ([block(70), cylinder(100)], "shoulders", 2500 * math.pi - 4900, "π·50² − 70²"),
        ([block(60), block(50)], "shoulders", 1100, "60² − 50²"),
    ],
)
def test_areas_by_hand(elements: list[Element], face: str, area_mm2: float, source: str) -> None:
    assert faces_of(*elements)[face].area_mm2 == pytest.approx(area_mm2, rel=1e-12), source


@pytest.mark.parametrize(
    ("elements", "share", "source"),
    [
        ([cylinder(40)], 0.0, "along the grain"),
        ([{"taper": {"from": 60, "to": 20, "length": 15}}], 0.8, "the slope of 20 in 25"),
        ([{"bead": {"diameter": 100, "neck": 60, "length": 80}}], 0.4, "2·π·(50² − 30²)/(2·π·50·80)"),
    ],
)
def test_end_grain_by_hand(elements: list[Element], share: float, source: str) -> None:
    assert faces_of(*elements)["turning"].end_grain == pytest.approx(share, rel=1e-12), source


def test_faces_that_do_not_occur_have_no_name() -> None:
    assert list(faces_of(cylinder(40), cylinder(40))) == ["turning", "top-end", "foot-end"]
    assert list(faces_of(block(40))) == ["blocks", "top-end", "foot-end"]
    assert list(faces_of(cylinder(40), block(40))) == ["turning", "shoulders", "blocks", "top-end", "foot-end"]
    assert list(faces_of(cylinder(38.1), {"cylinder": {"diameter": "1-1/2 in", "length": 9}})) == [
        "turning", "top-end", "foot-end",
    ]  # fmt: skip


def test_what_faces_are_worth_as_end_grain() -> None:
    faces = faces_of(block(70), cylinder(50))
    assert [faces[name].end_grain for name in ("shoulders", "blocks", "top-end", "foot-end")] == [1, 0, 1, 1]


@given(side=SIZE, ratio=st.floats(0.5, 2))
def test_shoulders_between_square_and_round_by_integration(side: float, ratio: float) -> None:
    diameter = side * ratio
    half, radius = side / 2, diameter / 2

    def differ(x: float) -> float:
        square = half if abs(x) < half else 0.0
        disc = math.sqrt(max(0.0, radius**2 - x**2))
        return 2 * abs(square - disc)

    reach = max(half, radius)
    knees = sorted({min(half, reach), min(radius, reach), math.sqrt(max(0.0, radius**2 - half**2))} - {reach})
    expected = 2 * quad(differ, 0, reach, points=[knee for knee in knees if knee < reach] or None, limit=400)[0]
    faces = faces_of(block(side), cylinder(diameter))
    got = faces["shoulders"].area_mm2 if "shoulders" in faces else 0.0
    assert got == pytest.approx(expected, rel=1e-6, abs=1e-6 * side**2)


@given(rise=st.floats(1e-9, 1.0), length=SIZE, neck=SIZE)
def test_flat_arcs_lose_no_digits(rise: float, length: float, neck: float) -> None:
    """Against the arc as a height over its chord, integrated; 8/3·rise²/length longer than the chord to begin with."""
    rise *= length / 20
    diameter = neck + 2 * rise
    rise = (diameter - neck) / 2  # as far as the sum can hold it
    bead = faces_of({"bead": {"diameter": diameter, "neck": neck, "length": length}})["turning"].area_mm2
    cove = faces_of({"cove": {"diameter": neck, "rim": diameter, "length": length}})["turning"].area_mm2

    def sag(x: float) -> float:
        # The fall from the crown, in a form without cancellation.
        k = 2 * rise / ((length / 2) ** 2 + rise**2)
        return k * x * x / (1 + math.sqrt(1 - (k * x) ** 2))

    def stretch(x: float) -> float:
        k = 2 * rise / ((length / 2) ** 2 + rise**2)
        return 1 / math.sqrt(1 - (k * x) ** 2)

    for area, sign, middle in ((bead, -1, diameter), (cove, 1, neck)):
        swept = 4 * math.pi * quad(lambda x: (middle / 2 + sign * sag(x)) * stretch(x), 0, length / 2, epsabs=0)[0]  # noqa: B023
        assert area == pytest.approx(swept, rel=1e-11)


@given(points=POINTS)
def test_curves_agree_with_two_libraries(points: list[tuple[float, float]]) -> None:
    through = curve(points)
    turning = faces_of({"curve": {"points": through}})["turning"]
    along, across = zip(*through, strict=True)
    smooth = PchipInterpolator(along, across)
    slope = smooth.derivative()
    swept = sum(
        quad(lambda x: math.pi * smooth(x) * math.hypot(1, slope(x) / 2), a, b, epsabs=0, epsrel=1e-11, limit=200)[0]
        for a, b in pairwise(along)
    )
    assert turning.area_mm2 == pytest.approx(swept, rel=1e-9)
    # Between two points the curve only rises or only falls (Fritsch and Butland 1984), so the points tell it all.
    seen = np.abs(np.diff(np.square(across))).sum() * math.pi / 4
    assert turning.end_grain * turning.area_mm2 == pytest.approx(seen, rel=1e-9, abs=1e-9 * turning.area_mm2)


@given(points=POINTS)
def test_the_curve_is_the_shape_preserving_one_of_a_library(points: list[tuple[float, float]]) -> None:
    through = [(distance, across) for distance, across in curve(points)]
    smooth = PchipInterpolator(*zip(*through, strict=True))
    slope = smooth.derivative()
    steepest = max(1.0, *(abs(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(through)))
    for span in spline_spans(through):
        value_and_slope = span.polynomials()
        for share in (0.0, 0.3, 0.5, 0.9):
            value, steep = value_and_slope(share * span.width)
            at = span.start[0] + share * span.width
            assert value == pytest.approx(float(smooth(at)), rel=1e-12, abs=1e-10)
            assert steep == pytest.approx(float(slope(at)), rel=1e-9, abs=1e-9 * steepest)


@given(diameter=SIZE, to=SIZE, length=SIZE, share=st.floats(0.01, 0.99))
def test_a_taper_in_two_is_a_taper(diameter: float, to: float, length: float, share: float) -> None:
    middle = diameter + (to - diameter) * share
    one = faces_of({"taper": {"from": diameter, "to": to, "length": length}})
    two = faces_of(
        {"taper": {"from": diameter, "to": middle, "length": length * share}},
        {"taper": {"from": middle, "to": to, "length": length * (1 - share)}},
    )
    assert set(one) == set(two)
    for name, face in one.items():
        assert two[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-12)
        assert two[name].end_grain == pytest.approx(face.end_grain, rel=1e-9, abs=1e-12)


@given(diameter=SIZE, length=SIZE, share=st.floats(0.01, 0.99))
def test_a_cylinder_in_two_is_a_cylinder(diameter: float, length: float, share: float) -> None:
    one = faces_of(cylinder(diameter, length))
    two = faces_of(cylinder(diameter, length * share), cylinder(diameter, length * (1 - share)))
    assert set(one) == set(two)
    assert two["turning"].area_mm2 == pytest.approx(one["turning"].area_mm2, rel=1e-12)


@given(k=st.floats(0.05, 20), points=POINTS)
def test_areas_grow_with_the_square_of_the_size(k: float, points: list[tuple[float, float]]) -> None:
    def leg(scale: float) -> dict[str, BareFace]:
        return faces_of(
            block(70 * scale, 90 * scale),
            {"bead": {"diameter": 84 * scale, "neck": 60 * scale, "length": 30 * scale}},
            {"cove": {"diameter": 40 * scale, "rim": 55 * scale, "length": 30 * scale}},
            {"curve": {"points": [[scale * x, scale * y] for x, y in curve(points)]}},
            {"taper": {"from": 36 * scale, "to": 20 * scale, "length": 30 * scale}},
        )

    small, large = leg(1), leg(k)
    assert set(small) == set(large)
    for name, face in small.items():
        assert large[name].area_mm2 == pytest.approx(k**2 * face.area_mm2, rel=1e-9)
        assert large[name].end_grain == pytest.approx(face.end_grain, rel=1e-9, abs=1e-12)


def test_units_never_matter() -> None:
    metric = faces_of(block(63.5, 76.2), {"curve": {"points": [[0, 50.8], [101.6, 38.1], [152.4, 44.45]]}})
    inches = faces_of(block(2.5, 3), {"curve": {"points": [[0, 2], [4, "1 1/2"], [6, "1-3/4 in"]]}}, lengths="in")
    for name, face in metric.items():
        assert inches[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-13)


@pytest.mark.parametrize("size", [1e-3, 1e5])
def test_the_smallest_and_the_largest_sizes(size: float) -> None:
    faces = faces_of(
        block(size, size),
        cylinder(size, size),
        {"bead": {"diameter": size, "neck": max(1e-3, size / 2), "length": size}},
        {"curve": {"points": [[0, size], [size / 2, max(1e-3, size / 4)], [size, size]]}},
    )
    assert all(0 < face.area_mm2 < 20 * size**2 for face in faces.values())


def test_an_element_that_cannot_be_says_so() -> None:
    elements = [{"bead": {"diameter": 60, "neck": 20, "length": 30}}]
    part, findings = validate(Turned, {"shape": "turned", "elements": elements}, lengths="mm")
    assert part is None
    assert [(show_path(finding.path), finding.wrong) for finding in findings] == [
        ("elements[0].bead", "the bead rises by 20 mm over a length of 30 mm")
    ]
