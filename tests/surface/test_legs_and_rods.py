"""Square legs, rods and mouldings: by hand, against a solid modelling kernel, and by properties."""

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.inputs.shapes import SHAPES
from finplan.reading import validate
from finplan.surface.face import BareFace
from finplan.surface.part import bare_faces

REFERENCE = json.loads((Path(__file__).parents[1] / "reference/cad_boards_and_composites.json").read_text("utf-8"))
CASES = {
    name: case for name, case in REFERENCE["cases"].items() if case["fields"]["shape"] in ("square-leg", "moulding")
}
SIZE = st.floats(1.0, 2000.0)

Fields = dict[str, Any]


def faces_of(shape: str, lengths: str = "mm", **fields: Any) -> dict[str, BareFace]:
    part, findings = validate(SHAPES[shape], {"shape": shape, **fields}, lengths=lengths)
    assert part is not None, findings
    return {face.face: face for face in bare_faces(part)}


def refused(shape: str, **fields: Any) -> tuple[str, tuple[str | int, ...]]:
    part, findings = validate(SHAPES[shape], {"shape": shape, **fields}, lengths="mm")
    assert part is None
    return f"{findings[0].wrong}; {findings[0].expected}", findings[0].path


@pytest.mark.parametrize("name", CASES)
def test_areas_agree_with_the_modelling_kernel(name: str) -> None:
    faces = faces_of(**CASES[name]["fields"])
    for face, area_mm2 in CASES[name]["faces_mm2"].items():
        assert faces[face].area_mm2 == pytest.approx(area_mm2, rel=1e-9), face


# --- legs ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sides", ["two", "four"])
def test_end_grain_of_a_tapered_leg_is_what_shows_from_below(sides: str) -> None:
    faces = faces_of("square-leg", side=45, length=720, taper={"to": 25, "from-length": 120, "sides": sides})
    assert faces["sides"].area_mm2 * faces["sides"].end_grain == pytest.approx(45**2 - 25**2)
    assert faces["foot-end"].area_mm2 == 625
    assert faces["top-end"].end_grain == 1


@given(side=SIZE, length=SIZE, share=st.floats(0.0, 0.99), sides=st.sampled_from(["two", "four"]))
def test_a_taper_to_the_full_side_is_no_taper(side: float, length: float, share: float, sides: str) -> None:
    start = {"from-length": length * share} if share > 0.01 else {}
    straight = faces_of("square-leg", side=side, length=length)
    tapered = faces_of("square-leg", side=side, length=length, taper={"to": side, "sides": sides, **start})
    for name, face in straight.items():
        assert tapered[name].area_mm2 == pytest.approx(face.area_mm2, rel=1e-12)
        assert tapered[name].end_grain == face.end_grain


@given(side=SIZE, length=SIZE, share=st.floats(0.05, 1.0), k=st.floats(0.1, 10))
def test_a_leg_grows_with_the_square_of_the_size(side: float, length: float, share: float, k: float) -> None:
    small = faces_of("square-leg", side=side, length=length, taper={"to": side * share})
    large = faces_of("square-leg", side=k * side, length=k * length, taper={"to": k * side * share})
    for name, face in small.items():
        assert large[name].area_mm2 == pytest.approx(k**2 * face.area_mm2)
        assert large[name].end_grain == pytest.approx(face.end_grain)


def test_a_taper_that_starts_below_the_foot_or_widens_is_refused() -> None:
    said, path = refused("square-leg", side=45, length=720, taper={"to": 25, "from-length": 720})
    assert "starts at 720 mm of a leg 720 mm long" in said
    assert path == ("taper", "from-length")
    said, path = refused("square-leg", side=45, length=720, taper={"to": 50})
    assert "widens from 45 to 50 mm" in said


# --- rods ------------------------------------------------------------------------------------------------------------


def test_a_rod_by_hand() -> None:
    faces = faces_of("rod", diameter=20, length=400)
    assert faces["side"].area_mm2 == pytest.approx(math.pi * 20 * 400)
    assert faces["ends"].area_mm2 == pytest.approx(2 * math.pi * 10**2)
    assert (faces["side"].end_grain, faces["ends"].end_grain) == (0, 1)


@given(diameter=SIZE, length=SIZE)
def test_a_rod_may_be_given_by_any_size_of_its_circle(diameter: float, length: float) -> None:
    wanted = faces_of("rod", diameter=diameter, length=length)
    sizes: list[Fields] = [{"radius": diameter / 2}, {"circumference": diameter * math.pi}]
    for size in sizes:
        for name, face in faces_of("rod", length=length, **size).items():
            assert face.area_mm2 == pytest.approx(wanted[name].area_mm2)


# --- mouldings -------------------------------------------------------------------------------------------------------

HALF_ROUND = [[0, 0], {"arc": [20, 0], "rise": 10}]
COVE = [[0, 0], [20, 0], {"arc": [0, 20], "rise": -20 * (1 - math.sqrt(0.5))}]


@pytest.mark.parametrize(
    ("profile", "face_mm", "back_mm", "section_mm2", "source"),
    [
        (HALF_ROUND, math.pi * 10, 20, math.pi * 50, "half a circle of radius 10"),
        ([[0, 0], [20, 0], [20, 12], [0, 12]], 52, 12, 240, "a rectangle, its back a short side"),
        ([[0, 0], [20, 0], [0, 15]], 45, 15, 150, "the triangle 15, 20, 25"),
        (
            [[0, 0], {"arc": [20, 0], "rise": 15}],
            2 * math.atan(1.5) * 2 * (100 + 225) / 30,
            20,
            (4 * math.atan(1.5) - math.sin(4 * math.atan(1.5))) / 2 * (325 / 30) ** 2,
            "more than half a circle: radius (10² + 15²)/(2·15), angle 4·atan(15/10)",
        ),
    ],
)
def test_mouldings_by_hand(profile: Any, face_mm: float, back_mm: float, section_mm2: float, source: str) -> None:
    faces = faces_of("moulding", profile=profile, length=1000)
    assert faces["face"].area_mm2 == pytest.approx(1000 * face_mm), source
    assert faces["back"].area_mm2 == pytest.approx(1000 * back_mm), source
    assert faces["ends"].area_mm2 == pytest.approx(2 * section_mm2), source
    assert [face.end_grain for face in faces.values()] == [0, 0, 1]


def test_a_hollow_takes_away_what_a_round_adds() -> None:
    square = [[0, 0], [30, 0], [30, 30], [0, 30]]
    ends = {}
    for rise in (-4.0, 4.0):
        profile = [*square[:1], {"arc": [30, 0], "rise": rise}, *square[2:]]
        ends[rise] = faces_of("moulding", profile=profile, length=100)["ends"].area_mm2 / 2
    assert ends[4.0] - 900 == pytest.approx(900 - ends[-4.0])
    assert ends[4.0] > 900


@pytest.mark.parametrize("profile", [HALF_ROUND, COVE, [[0, 0], [20, 0], {"arc": [20, 12], "rise": 2}, [0, 12]]])
def test_the_way_round_does_not_matter(profile: Any) -> None:
    """Mirrored, the same points run the other way round the wood."""
    mirrored = [
        {"arc": [-step["arc"][0], step["arc"][1]], "rise": step["rise"]}
        if isinstance(step, dict)
        else [-step[0], step[1]]
        for step in profile
    ]
    one = faces_of("moulding", profile=profile, length=100)
    for name, face in faces_of("moulding", profile=mirrored, length=100).items():
        assert face.area_mm2 == pytest.approx(one[name].area_mm2)


@given(turn=st.floats(0, 2 * math.pi), dx=st.floats(-500, 500), dy=st.floats(-500, 500))
def test_where_the_profile_lies_does_not_matter(turn: float, dx: float, dy: float) -> None:
    def moved(point: Any) -> list[float]:
        x, y = point
        return [x * math.cos(turn) - y * math.sin(turn) + dx, x * math.sin(turn) + y * math.cos(turn) + dy]

    profile = [[0, 0], [18, 0], {"arc": [30, 12], "rise": -3.5}, {"arc": [30, 20], "rise": 4}, [0, 20]]
    shifted = [{**step, "arc": moved(step["arc"])} if isinstance(step, dict) else moved(step) for step in profile]
    one = faces_of("moulding", profile=profile, length=100)
    for name, face in faces_of("moulding", profile=shifted, length=100).items():
        assert face.area_mm2 == pytest.approx(one[name].area_mm2, rel=1e-9)


def test_smooth_joints_do_not_count_as_crossings() -> None:
    """A line that runs into a quarter round and on, with the rise rounded as a maker would."""
    for rise in (2.9289321881, 2.93):
        profile = [[0, 0], [20, 0], {"arc": [30, 10], "rise": rise}, [30, 40], [0, 40]]
        faces = faces_of("moulding", profile=profile, length=100)
        assert faces["ends"].area_mm2 / 2 == pytest.approx(30 * 40 - 100 * (1 - math.pi / 4), rel=1e-4)


@pytest.mark.parametrize(
    ("profile", "said", "path"),
    [
        ([[0, 0]], "this is not a profile", ("profile",)),
        ("half round", "this is not a profile", ("profile",)),
        ([{"arc": [20, 0], "rise": 3}, [0, 0]], "starts with an arc", ("profile", 0)),
        ([[0, 0], [20]], "this is not a point", ("profile", 1)),
        ([[0, 0], {"arc": [20, 0]}], "'rise' is missing", ("profile", 1, "rise")),
        ([[0, 0], {"arc": [20, 0], "rise": 3, "r": 1}], "field 'r' is unknown", ("profile", 1, "r")),
        ([[0, 0], {"arc": [20, 0], "rise": 0}], "does not rise", ("profile", 1, "rise")),
        ([[0, 0], [20, 0], [20, 0], [0, 9]], "where the one before is", ("profile", 2)),
        ([[0, 0], [20, 0], [20, 9], [0, 0]], "leaves no back", ("profile",)),
        ([[0, 0], [20, 0]], "encloses no wood", ("profile",)),
        ([[0, 0], {"arc": [20, 0], "rise": -10}], "encloses no wood", ("profile",)),
        ([[0, 0], [30, 10], [30, 0], [0, 10]], "stretch 1 of the profile meets stretch 3", ("profile", 1)),
        ([[0, 0], [30, 0], [30, 20], [-10, 10], [0, 20]], "stretch 3 of the profile meets the back", ("profile", 3)),
        (
            [[0, 0], [30, 0], {"arc": [30, 30], "rise": -14}, [20, 30], [20, 5], [0, 5]],
            "stretch 2 of the profile meets stretch 4",
            ("profile", 2),
        ),
        (
            [[0, 0], {"arc": [30, 0], "rise": -8}, [30, 12], {"arc": [0, 12], "rise": -8}],
            "stretch 1 of the profile meets stretch 3",
            ("profile", 1),
        ),
        ([[0, "a"], [20, 0]], "'a' is not a length", ("profile", 0, 1)),
        ([[0, 0], [20, 1e9], [0, 3]], "is too large", ("profile", 1, 1)),
    ],
)
def test_profiles_that_cannot_be_are_refused(profile: Any, said: str, path: tuple[str | int, ...]) -> None:
    found, where = refused("moulding", profile=profile, length=1000)
    assert said in found
    assert where == path
