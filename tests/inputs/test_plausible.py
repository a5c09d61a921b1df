"""Unlikely sizes: the mistakes that are caught, and the furniture that is left alone."""

from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import CatalogueFiles, bundled_catalogue
from finplan.inputs import Bounds, Known, piece_from, plausible_sizes, unlikely_sizes
from finplan.problems import RefusedError
from finplan.resources import data_dir

SIZES = plausible_sizes(bundled_catalogue().files)
KNOWN = Known(timbers=(), systems=(), surfaces=())


def warnings(name: str, part: dict[str, Any], lengths: str = "mm") -> list[str]:
    made, findings = piece_from({"piece": "Table", "lengths": lengths, "parts": {name: part}}, KNOWN)
    assert not findings, findings
    found = unlikely_sizes(made, SIZES)
    assert all(finding.severity == "warning" and finding.path[:2] == ("parts", name) for finding in found)
    return [f"{finding.path[-1]}: {finding.wrong}; {finding.expected}" for finding in found]


@pytest.mark.parametrize(
    ("name", "part", "lengths", "said"),
    [
        (
            "leg",
            {"shape": "square-leg", "side": 45, "length": 28},
            "mm",
            "length: a leg 28 mm long is unlikely; was 28 in (711 mm) meant?",
        ),
        (
            "leg",
            {"shape": "square-leg", "side": 45, "length": 7.2},
            "mm",
            "length: a leg 7.2 mm long is unlikely; is the unit right?",
        ),
        (
            "plate",
            {"shape": "disc", "diameter": 400, "thickness": 2},
            "mm",
            "thickness: wood 2 mm thick is unlikely; was 2 in (51 mm) meant?",
        ),
        (
            "leg",
            {"shape": "square-leg", "side": 45, "length": 72},
            "mm",
            "length: a leg 72 mm long is unlikely; was 72 cm (720 mm) meant?",
        ),
        (
            "leg",
            {"shape": "square-leg", "side": "45 mm", "length": 720},
            "cm",
            "length: a leg 7200 mm long is unlikely; was 720 mm meant?",
        ),
        (
            "top",
            {"shape": "disc", "diameter": 1.1, "thickness": 28},
            "m",
            "thickness: wood 28 m thick is unlikely; was 28 mm meant?",
        ),
        (
            "top",
            {"shape": "disc", "circumference": "62 in", "thickness": 28},
            "mm",
            "circumference: a circle 62 in (1575 mm) around is 19.7 in across; did you mean diameter: 62 in?",
        ),
        (
            "top",
            {"shape": "disc", "circumference": 1100, "thickness": 28},
            "mm",
            "circumference: a circle 1100 mm around is 350 mm across; did you mean diameter: 1100 mm?",
        ),
        (
            "table top",
            {"shape": "disc", "diameter": 62, "thickness": 28},
            "mm",
            "diameter: a top 62 mm across is unlikely; was 62 in (1575 mm) meant?",
        ),
        (
            "shelf",
            {"shape": "board", "length": 800, "width": 250, "thickness": 0.75},
            "mm",
            "thickness: wood 0.75 mm thick is unlikely; was 0.75 in (19 mm) meant?",
        ),
        (
            "top",
            {"shape": "rectangle", "length": "1.2 m", "width": "0.8 m", "thickness": 28},
            "cm",
            "thickness: wood 280 mm thick is unlikely; was 28 mm meant?",
        ),
        (
            "apron",
            {"shape": "board", "length": 620, "width": "4 in", "thickness": "22 mm"},
            "in",
            "length: a length of 15.75 m is unlikely; was 620 mm meant?",
        ),
        (
            "peg",
            {"shape": "rod", "diameter": 0.5, "length": 300},
            "mm",
            "diameter: a rod of 0.5 mm is unlikely; was 0.5 in (13 mm) meant?",
        ),
        (
            "leg",
            {"shape": "turned", "elements": [{"taper": {"from": 45, "to": 30, "length": 28}}]},
            "mm",
            "elements: a leg 28 mm long is unlikely; was 28 in (711 mm) meant?",
        ),
        (
            "spindle",
            {"shape": "turned", "elements": [{"cylinder": {"diameter": 1.5, "length": 300}}]},
            "mm",
            "elements: a turned part 1.5 mm thick is unlikely; was 1.5 in (38 mm) meant?",
        ),
        (
            "leg",
            {"shape": "square-leg", "side": 1.75, "length": 700},
            "mm",
            "side: a leg 1.75 mm square is unlikely; was 1.75 in (44 mm) meant?",
        ),
    ],
)
def test_mixed_up_units_are_noticed(name: str, part: dict[str, Any], lengths: str, said: str) -> None:
    assert warnings(name, part, lengths) == [said]


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("leg", {"shape": "square-leg", "side": 45, "length": 720}),
        ("leg", {"shape": "square-leg", "side": 60, "length": 110}),
        ("bar stool leg", {"shape": "square-leg", "side": 35, "length": 800}),
        ("bed post leg", {"shape": "turned", "elements": [{"cylinder": {"diameter": 80, "length": 1500}}]}),
        ("bun foot", {"shape": "turned", "elements": [{"bead": {"diameter": 70, "neck": 50, "length": 40}}]}),
        ("feet", {"shape": "square-leg", "side": 60, "length": 28}),
        ("knob", {"shape": "disc", "diameter": 28, "thickness": 20}),
        ("top cap", {"shape": "disc", "diameter": 44, "thickness": 6}),
        ("peg", {"shape": "rod", "diameter": 6, "length": 30}),
        ("inlay", {"shape": "rod", "diameter": 3, "length": 10}),
        ("conference table", {"shape": "stadium", "length": 7200, "width": 1500, "thickness": 50}),
        ("bench slab", {"shape": "board", "length": 2400, "width": 600, "thickness": 120}),
        ("side table top", {"shape": "disc", "diameter": 430, "thickness": 20}),
        ("stop block", {"shape": "rectangle", "length": 40, "width": 20, "thickness": 15}),
        ("dial", {"shape": "disc", "circumference": 400, "thickness": 6}),
        ("table top", {"shape": "disc", "circumference": 3456, "thickness": 28}),
        ("drawer bottom", {"shape": "board", "length": 400, "width": 300, "thickness": 3}),
        ("wardrobe", {"shape": "carcase", "width": 1800, "height": 2200, "depth": 600, "thickness": 19}),
    ],
)
def test_sensible_furniture_is_left_alone(name: str, part: dict[str, Any]) -> None:
    assert warnings(name, part) == []


def test_the_bounds_leave_what_is_ordinary_alone() -> None:
    named = {name: value for name, value in SIZES if isinstance(value, Bounds)}
    assert len(named) > 5
    for name, bounds in named.items():
        assert bounds.from_mm < bounds.to_mm, name
        assert bounds.below_mm is None or bounds.below_mm <= bounds.from_mm, name
        assert bounds.above_mm is None or bounds.above_mm >= bounds.to_mm, name


@pytest.mark.parametrize(
    ("written", "instead", "wrong"),
    [
        ("least: 4 m3", "least: 4 kg", "room.least"),
        ("most: 33 %", "most: 133 %", "joined.most"),
        ("longest: 12 h", "longest: 12 h\n  shortest: 1 h", "hours.shortest"),
        ("times-as-thick: 5", "times-as-thick: 0", "top.times-as-thick"),
        ("rod:", "rods:", "rods"),
    ],
)
def test_a_wrong_bound_is_told_with_its_line(tmp_path: Path, written: str, instead: str, wrong: str) -> None:
    text = (data_dir("catalogue") / "plausible-sizes.yaml").read_text(encoding="utf-8")
    (tmp_path / "plausible-sizes.yaml").write_text(text.replace(written, instead), encoding="utf-8")
    with pytest.raises(RefusedError) as refused:
        plausible_sizes(CatalogueFiles(tmp_path))
    assert wrong in {problem.where for problem in refused.value.problems}
    assert all(problem.line for problem in refused.value.problems)
