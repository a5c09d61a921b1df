"""Areas of solids by the formulas of the textbooks, computed with mpmath at 40 digits.

Source of every value: textbook formula, as it stands beside the value, computed with mpmath at 40 digits.
"""

import math
from typing import Any

import pytest

from finplan.geometry import integrate
from finplan.inputs.shapes import SHAPES, Panel, Turned
from finplan.reading import validate
from finplan.surface.panel import panel_faces
from finplan.surface.turned import turned_faces

ELLIPSE = {"shape": "ellipse", "length": 1200, "width": 700, "thickness": 25}


def areas_mm2(fields: dict[str, Any]) -> dict[str, float]:
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths="mm")
    if isinstance(part, Turned):
        return {face.face: face.area_mm2 for face in turned_faces(part)}
    assert isinstance(part, Panel), findings
    return {face.face: face.area_mm2 for face in panel_faces(part)}


def turning_mm2(element: dict[str, Any]) -> float:
    return areas_mm2({"shape": "turned", "elements": [element]})["turning"]


def test_cone_frustum() -> None:
    # π·(R1 + R2)·s, s = √((R1 − R2)² + h²); R 40 to 25, h 700
    taper = {"taper": {"from": 80, "to": 50, "length": 700}}
    assert turning_mm2(taper) == pytest.approx(142975.280395035527, rel=1e-14)


def test_half_a_torus() -> None:
    # outer half 2·π·r·(π·R + 2·r), inner half 2·π·r·(π·R − 2·r); R 100, r 12
    outer = turning_mm2({"bead": {"diameter": 224, "neck": 200, "length": 24}})
    inner = turning_mm2({"cove": {"diameter": 176, "rim": 200, "length": 24}})
    assert outer == pytest.approx(25496.607931082182, rel=1e-14)
    assert inner == pytest.approx(21877.493194146740, rel=1e-14)
    # 4·π²·R·r
    assert outer + inner == pytest.approx(47374.101125228921, rel=1e-14)


def test_zone_of_a_sphere() -> None:
    # 2·π·r·h; r 30, h 25: a bead about the sphere's middle
    neck = 2 * math.sqrt(30**2 - 12.5**2)
    assert turning_mm2({"bead": {"diameter": 60, "neck": neck, "length": 25}}) == pytest.approx(
        4712.388980384690, rel=1e-13
    )


def test_sphere() -> None:
    # 4·π·r²; r 30: a disc with a bullnose and no face left
    ball = areas_mm2({"shape": "disc", "diameter": 60, "thickness": 60, "edge": "bullnose"})
    assert ball["edge"] == pytest.approx(11309.733552923256, rel=1e-14)


@pytest.mark.parametrize(
    ("profile", "area_mm2"), [("cove 20", 9330.251158435396), ("roundover 20", 14356.799404179065)]
)
def test_pappus_and_guldin(profile: str, area_mm2: float) -> None:
    # A = 2·π·Rc·L, L = π·r/2, r 20; concave Rc = 60 − 2·r/π, convex about a circle of 60 − 20: Rc = 40 + 2·r/π
    if profile.startswith("cove"):
        # The cove's centre lies on the outline, 60 from the axis.
        fields = {"shape": "disc", "diameter": 120, "thickness": 20, "edge": {"top": profile}}
        assert areas_mm2(fields)["edge"] == pytest.approx(area_mm2, rel=1e-14)
    else:
        # The bead outward about the same centre, 60 from the axis.
        fields = {"shape": "disc", "diameter": 160, "thickness": 20, "edge": {"top": profile}}
        assert areas_mm2(fields)["edge"] == pytest.approx(area_mm2, rel=1e-14)


def test_surface_of_revolution() -> None:
    # 2·π·∫r·√(1 + r'²)dx; r = 30 + 8·sin(2·π·x/200), x 0 to 200
    def ring(x: float) -> float:
        slope = 8 * math.pi / 100 * math.cos(math.pi * x / 100)
        return 2 * math.pi * (30 + 8 * math.sin(math.pi * x / 100)) * math.hypot(1, slope)

    assert integrate(ring, 0, 200) == pytest.approx(38287.561062965674, rel=1e-13)


@pytest.mark.parametrize(
    ("length", "width", "around_mm"), [(1200, 700, 3036.411578085270), (2000, 200, 4063.974180100896)]
)
def test_perimeter_of_an_ellipse(length: float, width: float, around_mm: float) -> None:
    # 4·a·E(m), m = 1 − b²/a²
    edge = areas_mm2({"shape": "ellipse", "length": length, "width": width, "thickness": 1})["edge"]
    assert edge == pytest.approx(around_mm, rel=1e-13)


def test_steiner_inwards() -> None:
    # A(d) = A + P·d + π·d² with d = −25, the same ellipse
    top = areas_mm2({**ELLIPSE, "edge": {"top": "bevel 25 x 9"}})["top"]
    assert top == pytest.approx(585787.663210218455, rel=1e-14)


def test_perimeter_of_the_parallel_curve() -> None:
    # P(d) = P + 2·π·d with d = −25: the upright edge less the one left, 2879.331945405780 round
    whole = areas_mm2(ELLIPSE)
    bevelled = areas_mm2({**ELLIPSE, "edge": {"top": "bevel 25 x 25"}})
    # A straight bevel's area is the mean way round times its slant.
    mean_mm = bevelled["edge"] / math.hypot(25, 25)
    assert 2 * mean_mm - whole["edge"] / 25 == pytest.approx(2879.331945405780, rel=1e-13)


def test_ellipse_top_as_a_whole() -> None:
    # 2·π·a·b + P·25 in m²: 1.395379
    assert sum(areas_mm2(ELLIPSE).values()) / 1e6 == pytest.approx(1.395379, abs=5e-7)


@pytest.mark.parametrize(
    ("profile", "per_mm"),
    [("roundover 5", (math.pi / 2 - 2) * 5), ("chamfer 4", (math.sqrt(2) - 2) * 4)],
)
def test_what_a_profile_takes_off_a_long_edge(profile: str, per_mm: float) -> None:
    # round-over (π/2 − 2)·r = −0.429203673·r, chamfer (√2 − 2)·c = −0.585786438·c for each mm of edge
    def total_mm2(length: float, edge: Any) -> float:
        fields = {"shape": "rectangle", "length": length, "width": 300, "thickness": 30, "edge": edge}
        return sum(areas_mm2(fields).values())

    # Two long edges more: what 1,000 mm of each make out, ends left aside.
    gains = [total_mm2(length, {"top": profile}) - total_mm2(length, "square") for length in (1000, 2000)]
    assert (gains[1] - gains[0]) / 2000 == pytest.approx(per_mm, rel=1e-10)
