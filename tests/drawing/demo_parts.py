"""Parts of every shape and of extreme proportions, as a piece file has them; invented."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from finplan.inputs.shapes import SHAPES, Part
from finplan.quantity import Units
from finplan.reading import validate

Fields = dict[str, Any]

TABLE_LEG = [
    {"block": {"side": 70, "length": 130}},
    {"fillet": {"diameter": 52, "length": 8}},
    {"bead": {"diameter": 64, "neck": 48, "length": 22}},
    {"cove": {"diameter": 40, "rim": 48, "length": 18}},
    {"curve": {"points": [[0, 48], [150, 62], [420, 36]]}},
    {"taper": {"from": 36, "to": 30, "length": 102}},
]
SPINDLE = [
    {"bead": {"diameter": 22 + 2 * (number % 3), "neck": 18, "length": 10 + number % 4}}
    if number % 2
    else {"cylinder": {"diameter": 18, "length": 14}}
    for number in range(24)
]
L_SHAPE = "M0 0 H900 V300 H400 Q300 300 300 400 V700 H0 Z M80 80 h60 v60 h-60 z"
CORNICE = [[0, 0], [18, 0], {"arc": [30, 12], "rise": -3.5}, {"arc": [30, 20], "rise": 4}, [0, 20]]
GROOVES = [{"face": "back", "width": 4, "depth": 9}, {"face": "top-edge", "width": 6, "depth": 8}]
RAISED = {"thickness": 14, "raised": "40 x 6"}

DEMO: dict[str, tuple[Units, Fields]] = {
    "round table top": (
        "metric",
        {"shape": "disc", "diameter": 1100, "thickness": 28, "edge": {"top": "roundover 6", "bottom": "chamfer 3"}},
    ),
    "ring": (
        "us",
        {"shape": "disc", "diameter": "17-1/2 in", "thickness": "3/4 in", "hole": "6 in", "edge": "bullnose"},
    ),
    "ellipse": (
        "metric",
        {"shape": "ellipse", "length": 1800, "width": 1000, "thickness": 30, "edge": {"bottom": "bevel 40 x 15"}},
    ),
    "bench seat": (
        "us",
        {
            "shape": "rectangle",
            "length": "48 in",
            "width": "14-1/2 in",
            "thickness": "1-1/8 in",
            "corners": "1-1/2 in",
            "edge": {"top": "ogee 1/4 in", "bottom": "roundover 1/8 in"},
        },
    ),
    "curved foot": (
        "metric",
        {
            "shape": "outline",
            "points": [
                {"corner": [0, 0]},
                [180, 95],
                {"corner": [420, 120]},
                {"corner": [420, 165]},
                [170, 150],
                {"corner": [0, 90]},
            ],
            "smooth": True,
            "thickness": 34,
            "edge": "roundover 4",
        },
    ),
    "crest rail": (
        "us",
        {
            "shape": "outline",
            "offsets": {"every": "3 in", "upper": [40, 70, 80, 70, 40], "lower": [-10, 5, 10, 5, -10]},
            "thickness": "7/8 in",
        },
    ),
    "bent slat": (
        "metric",
        {
            "shape": "board",
            "length": 420,
            "width": 60,
            "thickness": 14,
            "bend": {"rise": 25},
            "taper": {"to": 45, "thickness-to": 9},
        },
    ),
    "thinned lath": (
        "us",
        {"shape": "board", "length": "16 in", "width": "2-1/4 in", "thickness": "1/2 in", "taper": {"thickness-to": 8}},
    ),
    "bow": ("metric", {"shape": "rod", "diameter": 26, "length": 900, "bend": {"radius": 300}}),
    "arm": ("us", {"shape": "rod", "diameter": 36, "length": 500, "taper": {"to": 24}, "bend": {"rise": 80}}),
    "tapered spindle": ("metric", {"shape": "rod", "diameter": 22, "length": 430, "taper": {"to": 12}}),
    "narrow shelf": (
        "metric",
        {"shape": "rectangle", "length": 2400, "width": 20, "thickness": 18, "edge": "chamfer 2"},
    ),
    "plaque": (
        "metric",
        {
            "shape": "rectangle",
            "length": 300,
            "width": 500,
            "thickness": 22,
            "grain": "width",
            "edge": {"top": "ogee 8"},
            "faces": {"top": {"exposure": "covered"}},
        },
    ),
    "stadium": (
        "metric",
        {
            "shape": "stadium",
            "length": 1600,
            "width": 700,
            "thickness": 26,
            "edge": {"top": "cove 8", "bottom": "cove 8"},
        },
    ),
    "hexagon": (
        "metric",
        {"shape": "polygon", "sides": 6, "across-flats": 600, "thickness": 20, "edge": "roundover 3"},
    ),
    "triangle": ("us", {"shape": "polygon", "sides": 3, "across-corners": "20 in", "thickness": "1 in"}),
    "corner desk": (
        "metric",
        {"shape": "outline", "path": L_SHAPE, "unit": "mm", "thickness": 28, "edge": {"top": "roundover 12"}},
    ),
    "token": ("metric", {"shape": "disc", "diameter": 12, "thickness": 2, "edge": {"top": "chamfer 0.3"}}),
    "leg": ("metric", {"shape": "turned", "elements": TABLE_LEG}),
    "leg in inches": (
        "us",
        {
            "shape": "turned",
            "elements": [
                {"block": {"side": "2-3/4 in", "length": "6 in"}},
                {"bead": {"diameter": "2-1/2 in", "neck": "1-7/8 in", "length": "3/4 in"}},
                {"taper": {"from": "2 in", "to": "1-1/4 in", "length": "20 in"}},
                {"cylinder": {"diameter": "1-1/2 in", "length": "1-1/2 in"}},
            ],
        },
    ),
    "spindle": ("metric", {"shape": "turned", "elements": SPINDLE}),
    "bowl blank": ("metric", {"shape": "turned", "elements": [{"cylinder": {"diameter": 300, "length": 40}}]}),
    "apron": (
        "metric",
        {
            "shape": "board",
            "length": 620,
            "width": 100,
            "thickness": 22,
            "grooves": GROOVES,
            "arris": "roundover 2",
            "faces": {"ends": {"exposure": "covered"}},
        },
    ),
    "arched rail": (
        "us",
        {
            "shape": "board",
            "length": "40 in",
            "width": "5 in",
            "thickness": "7/8 in",
            "arch": {"rise": "1-1/2 in"},
            "arris": "chamfer 1/8 in",
            "grooves": [{"face": "front", "width": "1/4 in", "depth": "1/4 in"}],
        },
    ),
    "tapered slat": (
        "metric",
        {
            "shape": "board",
            "length": 900,
            "width": 140,
            "thickness": 15,
            "taper": {"to": 90},
            "grain": "width",
            "grooves": [{"face": "bottom-edge", "width": 5, "depth": 6}],
        },
    ),
    "bent backrest": ("metric", {"shape": "board", "length": 480, "width": 90, "thickness": 18, "radius": 420}),
    "tapered leg": (
        "metric",
        {"shape": "square-leg", "side": 45, "length": 720, "taper": {"to": 25, "from-length": 120, "sides": "two"}},
    ),
    "short leg": ("us", {"shape": "square-leg", "side": "3 in", "length": "4 in", "taper": {"to": "2 in"}}),
    "rail": ("metric", {"shape": "rod", "diameter": 20, "length": 2400}),
    "dowel": ("us", {"shape": "rod", "diameter": "3/8 in", "length": "1-1/4 in"}),
    "cornice": ("metric", {"shape": "moulding", "profile": CORNICE, "length": 1400}),
    "half round": (
        "us",
        {
            "shape": "moulding",
            "profile": [["0 in", "0 in"], {"arc": ["1 in", "0 in"], "rise": "1/2 in"}],
            "length": "6 ft",
        },
    ),
    "bookcase": (
        "metric",
        {"shape": "carcase", "width": 800, "height": 1800, "depth": 300, "thickness": 20, "back": 6, "shelves": 4},
    ),
    "plinth": (
        "us",
        {
            "shape": "carcase",
            "width": "60 in",
            "height": "4 in",
            "depth": "18 in",
            "thickness": "3/4 in",
            "front": "closed",
        },
    ),
    "drawer": (
        "metric",
        {"shape": "drawer", "width": 400, "height": 100, "depth": 450, "thickness": 12, "bottom": 6},
    ),
    "door": (
        "metric",
        {
            "shape": "door",
            "width": 400,
            "height": 600,
            "thickness": 20,
            "frame": {"stile": 60, "rail": 80},
            "panel": RAISED,
        },
    ),
    "glazed door": (
        "metric",
        {
            "shape": "door",
            "width": 400,
            "height": 600,
            "thickness": 20,
            "frame": {"stile": 60, "rail": 80, "rebate": "10 x 12 mm"},
            "panel": "glass",
        },
    ),
    "plain door": ("us", {"shape": "door", "width": "18 in", "height": "30 in", "thickness": "3/4 in"}),
    "caned seat": ("metric", {"shape": "measured", "faces": {"seat": "0.3 m2", "frame": {"area": "0.12 m2"}}}),
    "carved seat": ("metric", {"shape": "mesh", "file": "box.stl", "unit": "mm"}),
}

# A box 400 by 300 by 60, in the text form of its file kind.
_CORNERS = [(x, y, z) for x in (0, 400) for y in (0, 300) for z in (0, 60)]
_TRIANGLES = [(0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
              (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)]  # fmt: skip


def write_box(folder: Path) -> None:
    """Write the mesh that the carved seat is read from."""
    lines = ["solid box"]
    for triangle in _TRIANGLES:
        corners = "".join(" vertex {} {} {}\n".format(*_CORNERS[index]) for index in triangle)
        lines.append(f"facet normal 0 0 0\n outer loop\n{corners} endloop\nendfacet")
    (folder / "box.stl").write_text("\n".join([*lines, "endsolid box\n"]), encoding="ascii")


def part_of(fields: Fields, folder: Path | None = None) -> Part:
    """Return the part that *fields* describe, bare numbers in mm."""
    part, findings = validate(SHAPES[fields["shape"]], fields, lengths="mm", more={"folder": folder})
    assert part is not None, findings
    return part
