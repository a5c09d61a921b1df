"""Panels: against a solid modelling kernel, by hand, and what is refused."""

import json
import math
import time
from pathlib import Path
from typing import Any

import pytest

from finplan.inputs.shapes import SHAPES, Panel
from finplan.problems import FindingsError, show_path
from finplan.reading import validate
from finplan.surface.face import BareFace
from finplan.surface.panel import panel_faces

REFERENCE = json.loads((Path(__file__).parents[1] / "reference/cad_panels_and_turnings.json").read_text("utf-8"))
PANELS = {name: case for name, case in REFERENCE["cases"].items() if case["fields"]["shape"] != "turned"}

# The kernel's own accuracy. Faces between exact curves: its integration, to 13 digits. Where two curved surfaces meet
# in a mitre, it approximates the curve between them; where a surface hangs on an offset curve, its integration stops
# early; its rolling ball makes an approximate surface to begin with.
EXACT = 1e-10
TOLERANCES = {"hexagon": 3e-8, "half moon": 3e-8, "pentagon": 3e-8, "ellipse": 2e-7, "pebble, bevel": 2e-7}
ROLLED = {"pebble, roundover": 5e-5}

Fields = dict[str, Any]
DISC = {"shape": "disc", "diameter": 1100, "thickness": 28}
BOARD = {"shape": "rectangle", "length": 600, "width": 400, "thickness": 30}
L_PATH = "M0 0 H400 V150 H200 V300 H0 Z"


def faces_of(fields: Fields, lengths: str = "mm") -> dict[str, BareFace]:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths=lengths)
    assert isinstance(part, Panel), findings
    faces = {face.face: face for face in panel_faces(part)}
    assert tuple(faces) == part.face_names()
    return faces


def refusal(fields: Fields) -> str:
    with pytest.raises(FindingsError) as refused:
        faces_of(fields)
    (finding,) = refused.value.findings
    return f"{show_path(finding.path)}: {finding.wrong}; {finding.expected}"


def drawn(path: str, edge: Any = "square", thickness: float = 20, unit: str = "mm") -> Fields:
    return {"shape": "outline", "path": path, "unit": unit, "thickness": thickness, "edge": edge}


@pytest.mark.parametrize("name", PANELS)
def test_areas_agree_with_a_modelling_kernel(name: str) -> None:
    faces = faces_of(PANELS[name]["fields"])
    tolerance = {**TOLERANCES, **ROLLED}.get(name) or TOLERANCES.get(name.split(",")[0], EXACT)
    for face, area_mm2 in PANELS[name]["faces_mm2"].items():
        assert faces[face].area_mm2 == pytest.approx(area_mm2, rel=tolerance), face


@pytest.mark.parametrize(
    ("fields", "face", "area_mm2", "source"),
    [
        (DISC, "top", 302500 * math.pi, "π·550²"),
        (DISC, "edge", 30800 * math.pi, "π·1100·28"),
        ({**DISC, "edge": {"top": "roundover 6"}}, "top", 295936 * math.pi, "π·544²"),
        ({**DISC, "hole": 100}, "hole", 2800 * math.pi, "π·100·28"),
        ({**DISC, "hole": {"radius": 50}}, "underside", 300000 * math.pi, "π·(550² − 50²)"),
        ({**DISC, "diameter": 28, "edge": "bullnose"}, "edge", 784 * math.pi, "a sphere of 28 mm"),
        ({**DISC, "diameter": 28, "edge": "bullnose"}, "top", 0.0, "nothing is left of it"),
        (BOARD, "edge", 60000, "2·(600 + 400)·30"),
        ({**BOARD, "edge": {"top": "chamfer 10"}}, "top", 580 * 380, "(600 − 20)·(400 − 20)"),
        (
            {**BOARD, "edge": {"top": "chamfer 10"}},
            "edge",
            40000 + 1960 * 10 * math.sqrt(2),
            "2000·20 + mean way round",
        ),
        ({**BOARD, "edge": {"top": "bevel 200 x 15"}}, "top", 0.0, "a roof: the set-back is half the width"),
        (
            drawn(L_PATH, {"top": "bevel 10 x 5"}),
            "top",
            76500 - 25 * math.pi,
            "380·280 − 200·150 + (1 − π/4)·10²",
        ),
    ],
)
def test_areas_by_hand(fields: Fields, face: str, area_mm2: float, source: str) -> None:
    assert faces_of(fields)[face].area_mm2 == pytest.approx(area_mm2, rel=1e-12, abs=1e-9), source


@pytest.mark.parametrize(
    ("fields", "share", "source"),
    [
        (DISC, 2 / math.pi, "2·1100/(π·1100)"),
        (BOARD, 0.4, "2·400/2000"),
        ({**BOARD, "grain": "width"}, 0.6, "2·600/2000"),
        (
            {"shape": "polygon", "sides": 4, "across-corners": 100, "thickness": 9},
            math.sqrt(0.5),
            "a square on its corner",
        ),
        ({"shape": "polygon", "sides": 6, "across-corners": 100, "thickness": 9}, math.sqrt(3) / 3, "2·50·√3/300"),
        (
            {"shape": "stadium", "length": 500, "width": 300, "thickness": 9},
            600 / (400 + 300 * math.pi),
            "2·300/way round",
        ),
        ({**DISC, "diameter": 28, "edge": "bullnose"}, 0.5, "the mean of |cos| over a sphere"),
        (drawn(L_PATH), 600 / 1400, "every upright side, over the way round"),
    ],
)
def test_end_grain_by_hand(fields: Fields, share: float, source: str) -> None:
    faces = faces_of(fields)
    assert faces["edge"].end_grain == pytest.approx(share, rel=1e-12), source
    assert faces["top"].end_grain == faces["underside"].end_grain == 0


def test_the_end_grain_of_a_roof() -> None:
    edge = faces_of({**BOARD, "edge": {"top": "bevel 200 x 15"}})["edge"]
    # Seen from its ends: an upright rectangle of 400 x 15, and a triangle over it as high.
    assert edge.end_grain * edge.area_mm2 == pytest.approx(2 * (400 * 15 + 400 * 15 / 2), rel=1e-12)


def test_the_hole_of_a_ring_shows_end_grain_like_a_disc() -> None:
    assert faces_of({**DISC, "hole": 100})["hole"].end_grain == pytest.approx(2 / math.pi)


@pytest.mark.parametrize(
    ("fields", "text"),
    [
        (
            {**DISC, "edge": {"top": "roundover 20", "bottom": "chamfer 10"}},
            "edge: the profiles are 30 mm tall together, the panel is 28 mm thick; "
            "expected at most 28 mm: roundover 20 x 20 mm above, chamfer 10 x 10 mm below",
        ),
        (
            {**DISC, "edge": {"top": "bevel 551 x 9"}},
            "edge.top: the edge sets the outline back by 551 mm, but its half width of 550 mm is used up; "
            "expected a smaller profile",
        ),
        (
            {**BOARD, "edge": {"bottom": "bevel 201 x 9"}},
            "edge.bottom: the edge sets the outline back by 201 mm, but its half width of 200 mm is used up; "
            "expected a smaller profile",
        ),
        (
            {"shape": "ellipse", "length": 1200, "width": 700, "thickness": 28, "edge": {"top": "bevel 205 x 9"}},
            "edge.top: the edge sets the outline back by 205 mm, but its least radius of curvature is 204.167 mm; "
            "expected a smaller profile",
        ),
        (
            {**DISC, "hole": 1100},
            "hole: the hole is 1100 mm across, the disc 1100 mm; expected a smaller hole",
        ),
        (
            {**DISC, "hole": 1090, "edge": "roundover 6"},
            "edge: the edge sets the outline back by 6 mm, but a hole leaves it 5 mm; expected a smaller profile",
        ),
        (
            {"shape": "disc", "diameter": 20, "thickness": 28, "edge": "bullnose"},
            "edge: the edge sets the outline back by 14 mm, but its half width of 10 mm is used up; "
            "expected a smaller profile",
        ),
    ],
)
def test_what_is_refused(fields: Fields, text: str) -> None:
    assert refusal(fields) == text


def test_two_profiles_of_three_eighths_fit_on_three_quarters_of_an_inch() -> None:
    faces = faces_of({**DISC, "thickness": "3/4 in", "edge": "roundover 3/8 in"})
    bullnose = faces_of({**DISC, "thickness": "3/4 in", "edge": "bullnose"})
    assert faces["edge"].area_mm2 == pytest.approx(bullnose["edge"].area_mm2, rel=1e-14)


@pytest.mark.parametrize("size", [1e-3, 1e5])
@pytest.mark.parametrize("shape", ["disc", "ellipse", "rectangle", "stadium", "polygon"])
def test_the_smallest_and_the_largest_sizes(shape: str, size: float) -> None:
    sizes = {
        "disc": {"diameter": size},
        "polygon": {"sides": 7, "across-corners": size},
    }.get(shape, {"length": size, "width": size})
    faces = faces_of({"shape": shape, "thickness": size, **sizes})
    assert all(0 < face.area_mm2 <= 4 * size**2 for face in faces.values())


def test_a_needle_of_an_ellipse() -> None:
    faces = faces_of({"shape": "ellipse", "length": 1e5, "width": 1e-3, "thickness": 1})
    assert faces["edge"].area_mm2 == pytest.approx(2e5, rel=1e-9)


def test_both_profiles_that_go_too_far_are_reported() -> None:
    fields = {"shape": "rectangle", "length": 300, "width": 20, "thickness": 32}
    with pytest.raises(FindingsError) as refused:
        faces_of({**fields, "edge": {"top": "chamfer 12", "bottom": "chamfer 11"}})
    assert [show_path(finding.path) for finding in refused.value.findings] == ["edge.top", "edge.bottom"]


def test_a_hole_that_just_keeps_clear_of_a_profile_takes_no_time() -> None:
    start = time.perf_counter()
    # The ring that is left of the top: π·(144² − 143.99999²), by hand.
    top = faces_of({**DISC, "diameter": 300, "hole": 287.99998, "edge": "roundover 6"})["top"]
    assert top.area_mm2 == pytest.approx(math.pi * (144**2 - 143.99999**2), rel=1e-4)
    refusal({**DISC, "diameter": 300, "hole": 290, "edge": "roundover 6"})
    assert time.perf_counter() - start < 1
