"""Two values of every field of a shape, and of an element of a turned part."""

from __future__ import annotations

from typing import Any

from tests.fields.trying import Patch, Stage, Tried, inside, patched

_FRAME = {"stile": 60, "rail": 65}
SHAPED: dict[str, Patch] = {
    "disc": {"diameter": 900, "thickness": 25},
    "ellipse": {"length": 900, "width": 500, "thickness": 25},
    "rectangle": {"length": 600, "width": 300, "thickness": 25},
    "stadium": {"length": 900, "width": 300, "thickness": 25},
    "polygon": {"sides": 8, "across-flats": 300, "thickness": 25},
    "outline": {"points": [[0, 0], [400, 0], [400, 300]], "thickness": 25},
    "turned": {"elements": [{"taper": {"from": 36, "to": 30, "length": 400}}]},
    "board": {"length": 500, "width": 60, "thickness": 20},
    "square-leg": {"side": 45, "length": 500},
    "rod": {"diameter": 24, "length": 500},
    "moulding": {"length": 500, "profile": [[0, 0], [18, 0], [18, 20], [0, 20]]},
    "carcase": {"width": 500, "height": 600, "depth": 300, "thickness": 18},
    "drawer": {"width": 500, "height": 120, "depth": 300, "thickness": 12, "bottom": 6},
    "door": {"width": 300, "height": 700, "thickness": 20, "frame": _FRAME, "panel": {"thickness": 10}},
    "mesh": {"file": "small.stl", "unit": "mm"},
    "measured": {"faces": {"relief": "0.12 m2"}},
}
ELEMENT: dict[str, Patch] = {
    "block": {"side": 40, "length": 100},
    "cylinder": {"diameter": 40, "length": 100},
    "fillet": {"diameter": 40, "length": 10},
    "taper": {"from": 36, "to": 30, "length": 300},
    "bead": {"diameter": 60, "neck": 46, "length": 20},
    "cove": {"diameter": 40, "rim": 46, "length": 20},
    "curve": {"points": [[0, 48], [150, 62], [420, 36]]},
}


def of_shape(name: str, field: str, first: Any, second: Any, stage: Stage = "areas", without: str = "") -> Tried:
    """Return two values of a field of a shape; *without* names the fields that it stands in place of."""
    part = {"shape": name, **SHAPED[name]}
    for one in without.split():
        part.pop(one)
    return Tried(
        stage,
        {"parts": {"it": patched(part, inside(field.replace(".", "/"), first))}},
        {"parts": {"it": patched(part, inside(field.replace(".", "/"), second))}},
    )


def _in_carcase(board: str) -> Tried:
    """Return two timbers of a board of a carcase that has it."""
    part = {"shape": "carcase", **SHAPED["carcase"], "back": 6, "shelves": 2}
    first, second = ({"parts": {"it": {**part, "timbers": {board: timber}}}} for timber in ("ash", "mdf"))
    return Tried("materials", first, second)


def of_element(name: str, field: str, first: Any, second: Any) -> Tried:
    """Return two values of a field of an element of a turned part."""
    bare = {key: value for key, value in ELEMENT[name].items() if not (field in _ACROSS and key in _ACROSS)}
    made = [
        {"parts": {"it": {"shape": "turned", "elements": [{name: {**bare, field: one}}]}}} for one in (first, second)
    ]
    return Tried("areas", *made)


_ACROSS = ("diameter", "radius", "circumference")
_EVERY = {"every": 50, "widths": [62, 68, 71, 68, 62]}
_WAVE = {"every": 50, "upper": [30, 40, 45, 40, 30], "lower": [-30, -20, -15, -20, -30]}
_PANELS = ("disc", "ellipse", "rectangle", "stadium", "polygon", "outline")
_MORE = {"thickness": 8, "sides": 2, "bottom": 1}
SHAPE_FIELDS: dict[str, dict[str, Tried]] = {
    name: {
        "shape": Tried(
            "areas",
            {"parts": {"it": {"shape": name, **part}}},
            {"parts": {"it": {"shape": "disc", "diameter": 333, "thickness": 33}}},
        ),
        **{
            field: of_shape(name, field, value, value + _MORE.get(field, 60))
            for field, value in part.items()
            if isinstance(value, int)
        },
        **({"edge": of_shape(name, "edge", "square", "bullnose")} if name in _PANELS else {}),
    }
    for name, part in SHAPED.items()
}
_ADDED: dict[str, dict[str, Tried]] = {
    "disc": {
        "radius": of_shape("disc", "radius", 450, 400, without="diameter"),
        "circumference": of_shape("disc", "circumference", 2830, 2700, without="diameter"),
        "hole": of_shape("disc", "hole", 60, 70),
        "hole.diameter": of_shape("disc", "hole.diameter", 60, 70),
        "hole.radius": of_shape("disc", "hole.radius", 30, 35),
        "hole.circumference": of_shape("disc", "hole.circumference", 200, 220),
    },
    "rectangle": {"corners": of_shape("rectangle", "corners", 0, 30)},
    "polygon": {"across-corners": of_shape("polygon", "across-corners", 300, 345, without="across-flats")},
    "outline": {
        "path": Tried(
            "areas",
            {"parts": {"it": {"shape": "outline", "path": "M0 0 H600 V400 H0 Z", "unit": "mm", "thickness": 20}}},
            {"parts": {"it": {"shape": "outline", "path": "M0 0 H600 V300 H0 Z", "unit": "mm", "thickness": 20}}},
        ),
        "unit": Tried(
            "areas",
            {"parts": {"it": {"shape": "outline", "path": "M0 0 H60 V40 H0 Z", "unit": "mm", "thickness": 20}}},
            {"parts": {"it": {"shape": "outline", "path": "M0 0 H60 V40 H0 Z", "unit": "cm", "thickness": 20}}},
        ),
        "points": of_shape("outline", "points", [[0, 0], [400, 0], [400, 300]], [[0, 0], [400, 0], [400, 250]]),
        "offsets": of_shape("outline", "offsets", _EVERY, {**_EVERY, "every": 60}, without="points"),
        "offsets.every": of_shape("outline", "offsets", _EVERY, {**_EVERY, "every": 60}, without="points"),
        "offsets.widths": of_shape(
            "outline", "offsets", _EVERY, {**_EVERY, "widths": [62, 68, 80, 68, 62]}, without="points"
        ),
        "offsets.from": of_shape(
            "outline", "offsets", {**_EVERY, "from": "edge"}, {**_EVERY, "from": "middle"}, without="points"
        ),
        "offsets.upper": of_shape(
            "outline", "offsets", _WAVE, {**_WAVE, "upper": [30, 40, 60, 40, 30]}, without="points"
        ),
        "offsets.lower": of_shape(
            "outline", "offsets", _WAVE, {**_WAVE, "lower": [-30, -20, -5, -20, -30]}, without="points"
        ),
        "smooth": of_shape("outline", "smooth", False, True),
    },
    "turned": {
        "elements": of_shape(
            "turned", "elements", SHAPED["turned"]["elements"], [{"taper": {"from": 36, "to": 20, "length": 400}}]
        ),
        "length": of_shape("turned", "length", 400, 500, "check"),
    },
    "board": {
        "arch": of_shape("board", "arch", None, {"rise": 20}),
        "arch.rise": of_shape("board", "arch.rise", 10, 20),
        "taper": of_shape("board", "taper", None, {"to": 40}),
        "taper.to": of_shape("board", "taper.to", 40, 50),
        "taper.thickness-to": of_shape("board", "taper.thickness-to", 10, 14),
        "bend": of_shape("board", "bend", None, {"rise": 30}),
        "bend.radius": of_shape("board", "bend.radius", 500, 700),
        "bend.rise": of_shape("board", "bend.rise", 20, 40),
        "radius": of_shape("board", "radius", 500, 700),
        "grooves": of_shape("board", "grooves", None, [{"face": "back", "width": 4, "depth": 9}]),
        **{
            f"grooves.{field}": of_shape(
                "board", "grooves", [{"face": "back", "width": 4, "depth": 9}],
                [{"face": "back", "width": 4, "depth": 9, field: other}],
            )
            for field, other in (("face", "front"), ("width", 6), ("depth", 7))
        },
        "arris": of_shape("board", "arris", None, "roundover 3"),
    },
    "square-leg": {
        "taper": of_shape("square-leg", "taper", None, {"to": 30}),
        "taper.to": of_shape("square-leg", "taper.to", 30, 34),
        "taper.from-length": of_shape("square-leg", "taper", {"to": 30}, {"to": 30, "from-length": 200}),
        "taper.sides": of_shape("square-leg", "taper", {"to": 30, "sides": "two"}, {"to": 30, "sides": "four"}),
    },
    "rod": {
        "radius": of_shape("rod", "radius", 12, 15, without="diameter"),
        "circumference": of_shape("rod", "circumference", 80, 90, without="diameter"),
        "taper": of_shape("rod", "taper", None, {"to": 15}),
        "taper.to": of_shape("rod", "taper.to", 15, 18),
        "bend": of_shape("rod", "bend", None, {"rise": 30}, "drawing"),
        "bend.radius": of_shape("rod", "bend.radius", 500, 700, "drawing"),
        "bend.rise": of_shape("rod", "bend.rise", 20, 40, "drawing"),
    },
    "moulding": {
        "profile": of_shape(
            "moulding", "profile", SHAPED["moulding"]["profile"], [[0, 0], [18, 0], [30, 20], [0, 20]]
        ),
    },
    "carcase": {
        "back": of_shape("carcase", "back", None, 6),
        "shelves": of_shape("carcase", "shelves", 0, 2),
        "front": of_shape("carcase", "front", "open", "closed"),
        "timbers": of_shape("carcase", "timbers", None, {"sides": "mdf"}, "materials"),
        "timbers.sides": of_shape("carcase", "timbers.sides", "ash", "mdf", "materials"),
        "timbers.back": _in_carcase("back"),
        "timbers.shelves": _in_carcase("shelves"),
    },
    "door": {
        "frame": of_shape("door", "frame", _FRAME, {"stile": 50, "rail": 55}),
        "timbers": of_shape("door", "timbers", None, {"panel": "mdf"}, "materials"),
        "timbers.frame": of_shape("door", "timbers.frame", "ash", "mdf", "materials"),
        "timbers.panel": of_shape("door", "timbers.panel", "ash", "mdf", "materials"),
        "frame.stile": of_shape("door", "frame.stile", 60, 50),
        "frame.rail": of_shape("door", "frame.rail", 65, 55),
        "frame.rebate": Tried(
            "areas",
            *(
                {"parts": {"it": {"shape": "door", **SHAPED["door"], "panel": "glass", "frame": frame}}}
                for frame in ({**_FRAME, "rebate": "10 x 12 mm"}, {**_FRAME, "rebate": "10 x 14 mm"})
            ),
        ),
        **{
            f"panel{field}": Tried(
                "areas",
                *(
                    {"parts": {"it": {"shape": "door", **SHAPED["door"], **one}}}
                    for one in (
                        {"panel": {"thickness": 14, "raised": "40 x 5 mm"}},
                        {"panel": {"thickness": 14, "raised": "40 x 5 mm", **other}},
                    )
                ),
            )
            for field, other in (
                ("", {"raised": "30 x 5 mm"}),
                (".thickness", {"thickness": 12}),
                (".raised", {"raised": "40 x 8 mm"}),
            )
        },
    },
    "mesh": {
        "file": of_shape("mesh", "file", "small.stl", "large.stl"),
        "unit": of_shape("mesh", "unit", "mm", "cm"),
    },
}  # fmt: skip
for _name, _more in _ADDED.items():
    SHAPE_FIELDS[_name].update(_more)
ELEMENT_FIELDS: dict[str, dict[str, Tried]] = {
    "block": {"side": of_element("block", "side", 40, 50), "length": of_element("block", "length", 100, 110)},
    **{
        name: {
            "diameter": of_element(name, "diameter", 40, 44),
            "radius": of_element(name, "radius", 20, 22),
            "circumference": of_element(name, "circumference", 120, 130),
            "length": of_element(name, "length", 10, 20),
        }
        for name in ("cylinder", "fillet")
    },
    "taper": {
        "from": of_element("taper", "from", 36, 40),
        "to": of_element("taper", "to", 30, 28),
        "length": of_element("taper", "length", 300, 320),
    },
    "bead": {
        "diameter": of_element("bead", "diameter", 60, 56),
        "neck": of_element("bead", "neck", 46, 50),
        "length": of_element("bead", "length", 20, 24),
    },
    "cove": {
        "diameter": of_element("cove", "diameter", 40, 38),
        "rim": of_element("cove", "rim", 46, 48),
        "length": of_element("cove", "length", 20, 24),
    },
    "curve": {"points": of_element("curve", "points", ELEMENT["curve"]["points"], [[0, 48], [150, 55], [420, 36]])},
}
