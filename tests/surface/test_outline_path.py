"""Outlines drawn as SVG path data: what is read, and what is refused."""

from contextlib import suppress
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.geometry import ArcTo, CubicTo, LineTo, QuadraticTo, outline_of, read_path
from finplan.inputs.shapes import OutlinePanel
from finplan.problems import FindingsError, show_path
from finplan.reading import validate
from finplan.surface.panel import panel_faces

SQUARE = "M0 0 H100 V100 H0 Z"


def fields(path: Any, unit: Any = "mm", **more: Any) -> dict[str, Any]:
    return {"shape": "outline", "path": path, "unit": unit, "thickness": 20, **more}


def refusal(path: Any, unit: Any = "mm", **more: Any) -> str:
    """Return what is said, by the reader or by the geometry."""
    part, findings = validate(OutlinePanel, fields(path, unit, **more), lengths="mm")
    if part is not None:
        with pytest.raises(FindingsError) as refused:
            panel_faces(part)
        findings = list(refused.value.findings)
    (finding,) = findings
    return f"{show_path(finding.path)}: {finding.wrong}; {finding.expected}"


@pytest.mark.parametrize(
    ("text", "segments"),
    [
        ("M1.5.5L3-2 4,4z", [LineTo(3 - 2j), LineTo(4 + 4j), LineTo(1.5 + 0.5j)]),
        ("m1e1-2E1 5 5z", [LineTo(15 - 15j), LineTo(10 - 20j)]),
        ("M0,0 10,0 10,10 0 0", [LineTo(10 + 0j), LineTo(10 + 10j), LineTo(0j)]),
        ("M1 2h3v4H1z", [LineTo(4 + 2j), LineTo(4 + 6j), LineTo(1 + 6j), LineTo(1 + 2j)]),
        ("M0 0a1 2 0 0110 10z", [ArcTo((1, 2), 0, False, True, 10 + 10j), LineTo(0j)]),
        ("M0 0A-1 2 30 1 0 5 0z", [ArcTo((1, 2), 30, True, False, 5 + 0j), LineTo(0j)]),
        ("M0 0A0 2 0 0 0 5 0z", [LineTo(5 + 0j), LineTo(0j)]),
        ("M0 0C1 1 2 1 3 0S5 -1 6 0z", [CubicTo(1 + 1j, 2 + 1j, 3 + 0j), CubicTo(4 - 1j, 5 - 1j, 6 + 0j), LineTo(0j)]),
        ("M0 0s2 1 3 0z", [CubicTo(0j, 2 + 1j, 3 + 0j), LineTo(0j)]),
        ("M0 0q1 2 2 0t2 0z", [QuadraticTo(1 + 2j, 2 + 0j), QuadraticTo(3 - 2j, 4 + 0j), LineTo(0j)]),
        ("M0 0C1 1 2 1 3 0T5 0z", [CubicTo(1 + 1j, 2 + 1j, 3 + 0j), QuadraticTo(3 + 0j, 5 + 0j), LineTo(0j)]),
    ],
)
def test_the_grammar_of_svg_2(text: str, segments: list[Any]) -> None:
    (subpath,) = read_path(text)
    assert list(subpath.segments) == segments


def test_after_a_close_the_pen_is_back_at_the_start() -> None:
    first, second = read_path("M1 1h5v5zm10 10h1v1z")
    assert (first.start, second.start) == (1 + 1j, 11 + 11j)


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (7, "path: this is not a path; expected SVG path data such as 'M0 0 H600 V400 H0 Z'"),
        ("", "path: the path does not start with a move, at character 1; expected M and a point"),
        ("L1 1", "path: the path does not start with a move, at character 1; expected M and a point"),
        ("M0 0 L", "path: the path breaks off, at character 7; expected 2 numbers after L"),
        ("M0 0 L1,,1z", "path: the path is not right, at character 9; expected 2 numbers after L"),
        ("M٣ 0 1 0 1 1z", "path: the path is not right, at character 2; expected 2 numbers after M"),
        ("M0 0A1 1 0 2 0 1 1z", "path: the path is not right, at character 12; expected the flag 0 or 1"),
        ("M0 0h9v9", "path: the path leaves its last part open, at character 9; close it with Z"),
        ("M0 0h9v9M1 1h1v1z", "path: the path leaves a part open before this move, at character 13; close it with Z"),
        ("M0 0z", "path: the path encloses nothing; expected lines and curves back to its start"),
        ("M0 0L1e99 3z", "path: the path has the number 1e99, at character 6; expected none beyond 1e+09"),
        ("M0 0" + "h1v1" * 501 + "z", "path: the path has more than 1,000 lines and curves; expected at most 1,000"),
        (" " * 200_001, "path: the path is 200,001 characters long; expected at most 200,000"),
        ("M0 0h9h-4z", "path: the path turns back on itself near (9, 0) mm; expected a corner"),
        (
            "M0 0 L100 100 H0 L100 0 Z",
            "path: the path crosses or touches itself near (50, 50) mm; expected an outline that goes round once",
        ),
        (
            SQUARE + "M50 50h100v10h-100z",
            "path: two closed parts of the path cross or touch; expected holes that lie apart, inside",
        ),
        (
            SQUARE + "M100 20h9v9h-9z",
            "path: two closed parts of the path cross or touch; expected holes that lie apart, inside",
        ),
        (
            SQUARE + "M200 0h9v9z",
            "path: a closed part of the path lies outside the largest; expected one outline and holes",
        ),
        (SQUARE + "M20 20h60v60h-60zM30 30h9v9z", "path: a hole lies in a hole; expected holes that lie apart"),
        (SQUARE + "M20 20h9v9h-9zm60 60l9 9h-9l9-9z", None),
    ],
)
def test_paths_that_are_refused(path: Any, text: str | None) -> None:
    said = refusal(path)
    if text is None:
        assert said.startswith("path: closed part 3 of the path crosses or touches itself near (")
    else:
        assert said == text


@pytest.mark.parametrize(
    "path",
    [
        "M0 0 C160 100 -60 100 100 0 L50 -50 Z",  # a loop in one curve
        "M0 0 C140 100 -40 100 100 0 L50 -50 Z",
        "M0 0 A50 50 0 1 1 10 0 L80 -60 Z",  # lines across the arc they close
        "M0 0 H100 V50 H50 V0.0000000001 L49 0 V50 H0 Z",  # a slot down to the border
        "M0 0 H100 V100 L50 0 L0 100 Z",  # a corner that touches the border
    ],
)
def test_curves_that_cross_or_touch_themselves(path: str) -> None:
    assert "crosses or touches itself near" in refusal(path)


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ("px", "unit: 'px' is not a unit of length; expected mm, cm, in, or a length such as 0.5 mm"),
        ("0 mm", "unit: one path unit of 0 mm makes no sense; expected mm, cm, in, or a length such as 0.5 mm"),
        (None, "unit: 'None' is not a unit of length; expected mm, cm, in, or a length such as 0.5 mm"),
        ("10 m", "path: the path is 1e+06 mm across; expected 0.001 mm to 100 m; is the unit right?"),
    ],
)
def test_units_that_are_refused(unit: Any, text: str) -> None:
    assert refusal(SQUARE, unit) == text


def test_without_a_unit_it_is_asked_for() -> None:
    part, findings = validate(OutlinePanel, {"shape": "outline", "path": SQUARE, "thickness": 9}, lengths="mm")
    assert part is None
    assert [(finding.path, finding.wrong) for finding in findings] == [(("unit",), "field 'unit' is missing")]


@pytest.mark.parametrize(("unit", "square_mm2"), [("mm", 1e4), ("in", 6451600), ("0.5 mm", 2500), ("1/2 in", 1612900)])
def test_units(unit: str, square_mm2: float) -> None:
    part, _ = validate(OutlinePanel, fields(SQUARE, unit), lengths="mm")
    assert part is not None
    assert panel_faces(part)[0].area_mm2 == pytest.approx(square_mm2, rel=1e-14)


def test_the_faces_of_an_outline_with_holes() -> None:
    part, _ = validate(OutlinePanel, fields(SQUARE + "M20 20h10v20h-10z M60 60h10v-10z"), lengths="mm")
    assert part is not None
    faces = {face.face: face for face in panel_faces(part)}
    assert tuple(faces) == part.face_names() == ("top", "underside", "edge", "hole")
    assert faces["top"].area_mm2 == pytest.approx(10_000 - 200 - 50, rel=1e-14)  # by hand
    assert faces["hole"].area_mm2 == pytest.approx(20 * (60 + 20 + 200**0.5), rel=1e-14)
    assert faces["hole"].end_grain == pytest.approx((40 + 20) / (80 + 200**0.5), rel=1e-14)


def test_a_hole_must_keep_clear_of_the_profile() -> None:
    said = refusal(SQUARE + "M8 20h10v20h-10z", edge={"bottom": "chamfer 9"})
    assert said == (
        "edge.bottom: the edge sets the outline back by 9 mm, but a hole leaves it 8 mm; expected a smaller profile"
    )


CURVES = {
    "cubic": "M0 0 C60 -90 170 40 130 110 S-20 160 0 0 Z",
    "quadratic": "M0 0 Q80 -60 140 20 T100 150 Q-60 160 0 0 Z",
    "tilted ellipse": "M0 0 A80 45 30 1 1 60 90 Z",
    "radii too small": "M0 0 A8 4 20 0 1 60 90 Z",
    "arcs": "M0 0 A50 50 0 1 1 70 0 A70 70 0 0 0 0 0 Z",
}


@pytest.mark.parametrize("name", CURVES)
def test_length_area_and_height_agree_with_many_small_chords(name: str) -> None:
    (subpath,) = read_path(CURVES[name])
    outline = outline_of(subpath, 1.0, 0j)
    t = np.linspace(0, 1, 4001)
    points = np.array([link.at(float(at)) for link in outline.links for at in t])
    chords = np.diff(np.append(points, points[0]))
    assert np.abs(chords).sum() == pytest.approx(outline.perimeter_mm, rel=1e-7)
    assert np.abs(chords.imag).sum() == pytest.approx(outline.across_mm, rel=1e-9)
    area = (points.real * np.roll(points.imag, -1) - np.roll(points.real, -1) * points.imag).sum() / 2
    assert area == pytest.approx(outline.area_mm2, rel=1e-6)


@given(text=st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,- eE+\n", max_size=60))
def test_no_text_makes_it_crash(text: str) -> None:
    part, findings = validate(OutlinePanel, fields("M0 0" + text), lengths="mm")
    assert (part is None) == bool(findings)
    if part is not None:
        with suppress(FindingsError):
            assert all(face.area_mm2 >= 0 for face in panel_faces(part))
