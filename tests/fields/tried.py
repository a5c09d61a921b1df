"""Two values of every field, for a small piece in a small shop, and what they have to change.

A value is a merge patch (RFC 7396) on the file: a group is gone into, None takes a field away.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field, replace
from typing import Any, Literal

Patch = dict[str, Any]
Stage = Literal[
    "areas", "sanding", "materials", "safety", "timetable", "check", "drawing", "data", "sheet", "tags", "systems",
    "quote",
]  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """Two values of a field, and the stage of which they change something."""

    stage: Stage
    first: Patch
    second: Patch
    piece: Patch = field(default_factory=dict)
    """Of a field of the shop: the piece for which it counts."""


def patched(base: Any, patch: Any) -> Any:
    """Return what a merge patch makes of a value."""
    if not isinstance(patch, dict):
        return deepcopy(patch)
    found = dict(base) if isinstance(base, dict) else {}
    for name, value in patch.items():
        if value is None:
            found.pop(name, None)
        else:
            found[name] = patched(found.get(name), value)
    return found


def inside(path: str, patch: Any) -> Patch:
    """Return a patch of what stands at *path*, with slashes."""
    for step in reversed(path.split("/")):
        patch = {step: patch}
    return dict(patch)


def values(stage: Stage, path: str, first: Any, second: Any) -> Tried:
    """Return two values of the field at *path*; None is a file without it."""
    return Tried(stage, inside(path, first), inside(path, second))


PIECE: Patch = {
    "piece": "Trial", "lengths": "mm", "timber": "ash", "system": "hardwax-oil", "deliver": "2027-03-12",
    "parts": {
        "top": {"shape": "rectangle", "length": 600, "width": 300, "thickness": 20},
        "leg": {"shape": "square-leg", "side": 45, "length": 400, "count": 4},
        "rail": {"shape": "board", "length": 500, "width": 60, "thickness": 20},
    },
}  # fmt: skip
SHOP: Patch = {
    "shop": "Trial shop",
    "people": [{"name": "Ines", "hours": {"mon-fri": "8:00-16:00"}}],
    "rooms": {
        "shop": {"for": ["sanding", "assembly", "coating", "spraying", "drying"], "volume": "60 m3", "air-changes": 1}
    },
}
_FRAME = {"stile": 60, "rail": 65}
_PRICED: Patch = {"prices": {"hardwax-oil": {"1 l": "40 EUR"}}}
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
_DAY = {"from": "8:00", "to": "18:00", "temperature": "19 degC", "humidity": "50 %"}
_NIGHT = {"temperature": "12 degC", "humidity": "60 %"}
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def sprayed(tried: Tried) -> Tried:
    """Return the same for a piece that is sprayed with what burns."""
    gun = {"methods": ["spray-hvlp", "hand"]}
    return replace(
        tried, first=patched(tried.first, gun), second=patched(tried.second, gun), piece={"system": "lacquer"}
    )


def patched_too(tried: Tried, patch: Patch) -> Tried:
    """Return the same with more that both files say."""
    return replace(tried, first=patched(tried.first, patch), second=patched(tried.second, patch))


def with_water(tried: Tried) -> Tried:
    """Return the same for a piece whose finish dries as water leaves it."""
    return replace(tried, piece={"system": "waterborne-polyurethane", "parts": {"leg": None, "rail": None}})


def _face(field: str, stage: Stage, first: Any, second: Any) -> Tried:
    return values(stage, f"parts/top/faces/top/{field}", first, second)


def _faces(*more: str) -> dict[str, Tried]:
    tried = {
        "exposure": _face("exposure", "areas", "show", "covered"),
        "less": _face("less", "areas", ["100 x 20"], ["100 x 40"]),
        "coats": _face("coats", "materials", 1, 2),
        "system": _face("system", "materials", "hardwax-oil", "soap"),
        "surface": _face("surface", "sanding", "planed", "sawn"),
        "veneer": _face("veneer", "sanding", None, "0.6 mm"),
        "start-grit": _face("start-grit", "sanding", "P80", "P120"),
        "stop-grit": _face("stop-grit", "sanding", "P150", "P180"),
    }
    return {f"{prefix}{name}": one for prefix in more for name, one in tried.items()}


def _climate(field: str, first: Any, second: Any) -> Tried:
    base = {"day": _DAY, "night": _NIGHT}
    where = field.replace(".", "/")
    return Tried(
        "timetable",
        {"climate": patched(base, inside(where, first))},
        {"climate": patched(base, inside(where, second))},
    )


def _month(field: str, first: Any, second: Any) -> Tried:
    made = [
        {"climate": {"months": {m: patched({"day": _DAY, "night": _NIGHT}, inside(field, one)) for m in _MONTHS}}}
        for one in (first, second)
    ]
    return Tried("timetable", *made)


def _person(field: str, first: Any, second: Any, stage: Stage = "timetable", **more: Any) -> Tried:
    base = {"name": "Ines", "hours": {"mon-fri": "8:00-16:00"}, **more}
    return Tried(stage, {"people": [patched(base, {field: first})]}, {"people": [patched(base, {field: second})]})


def _shelf(first: Patch, second: Patch) -> Tried:
    return Tried("materials", {"shelf": [first]}, {"shelf": [second]})


_ROOM = "rooms/shop"
_BOOTH = {"face": "2.4 x 2.1 m", "velocity": "0.5 m/s"}
_THICK = {"first": "15/18/20 m2/l", "next": "25/30/40 m2/l"}
_OIL_LEFT = {"finish": "hardwax-oil", "left": "400 ml"}

PIECE_FIELDS: dict[str, Tried] = {
    "piece": values("data", "piece", "Trial", "Other"),
    "customer": values("sheet", "customer", "A. Reader", "B. Writer"),
    "units": values("data", "units", "metric", "us"),
    "lengths": values("areas", "lengths", "mm", "cm"),
    "timber": values("materials", "timber", "ash", "white-pine"),
    "system": values("materials", "system", "hardwax-oil", "soap"),
    "deliver": values("timetable", "deliver", "2027-03-12", "2027-03-19"),
    "refinish": values("safety", "refinish", None, {"built": 1940}),
    "refinish.built": values("safety", "refinish/built", 1940, 2015),
    "refinish.lead-test": Tried(
        "safety", {"refinish": {"built": 1940}}, {"refinish": {"built": 1940, "lead-test": "clear"}}
    ),
    "refinish.strip": values("materials", "refinish/strip", "chemical", "scrape"),
    "refinish.keep": Tried(
        "materials",
        {"system": "oil-varnish", "refinish": {"built": 2015}},
        {"system": "oil-varnish", "refinish": {"built": 2015, "keep": True}},
    ),
    "before": values("timetable", "before", None, ["raise-grain"]),
    "after": values("timetable", "after", None, ["wrap"]),
    "sample": values("timetable", "sample", None, "approve by 2027-02-19"),
    "set": values("materials", "set", 1, 3),
    "prices": values("quote", "prices", {"hardwax-oil": {"1 l": "40 EUR"}}, {"hardwax-oil": {"1 l": "60 EUR"}}),
    "accept": Tried("check", {"deliver": "2020-03-12"}, {"deliver": "2020-03-12", "accept": ["delivery-past"]}),
    "parts": values("areas", "parts/top/length", 600, 700),
    "assemblies": values("materials", "assemblies", None, {"base": {"parts": ["leg", "rail"]}}),
    "joints": values("areas", "joints", None, [{"from": "rail", "face": "ends", "to": "leg", "on": "sides"}]),
}
PART_FIELDS: dict[str, Tried] = {
    "shape": Tried(
        "areas",
        {"parts": {"it": {"shape": "rectangle", "length": 500, "width": 300, "thickness": 20}}},
        {"parts": {"it": {"shape": "ellipse", "length": 500, "width": 300, "thickness": 20}}},
    ),
    "count": values("materials", "parts/leg/count", 4, 5),
    "timber": values("materials", "parts/top/timber", "ash", "white-pine"),
    "system": values("materials", "parts/top/system", "hardwax-oil", "soap"),
    "grain": values("areas", "parts/top/grain", "length", "width"),
    "surface": values("sanding", "parts/top/surface", "planed", "sawn"),
    "veneer": values("sanding", "parts/top/veneer", None, "0.6 mm"),
    "start-grit": values("sanding", "parts/top/start-grit", "P80", "P120"),
    "stop-grit": values("sanding", "parts/top/stop-grit", "P150", "P180"),
    "before": values("timetable", "parts/top/before", ["steam-dents"], [{"steam-dents": 8}]),
    "after": values("timetable", "parts/top/after", [], ["wrap"]),
    "faces": values("areas", "parts/top/faces", None, {"underside": {"exposure": "covered"}}),
    **_faces("faces."),
}  # fmt: skip
ASSEMBLY_FIELDS: dict[str, Tried] = {
    "parts": values("data", "assemblies/base/parts", ["leg"], ["leg", "rail"]),
    "system": values("materials", "assemblies/base", {"parts": ["leg"]}, {"parts": ["leg"], "system": "soap"}),
    "before": values("timetable", "assemblies/base", {"parts": ["leg"]}, {"parts": ["leg"], "before": ["raise-grain"]}),
    "after": values("timetable", "assemblies/base", {"parts": ["leg"]}, {"parts": ["leg"], "after": ["wax-runners"]}),
}


def _joint(**other: str) -> Tried:
    first = {"from": "rail", "face": "ends", "to": "leg", "on": "sides"}
    more = {"parts": {"shelf": {"shape": "board", "length": 400, "width": 90, "thickness": 20}}}
    return Tried("areas", {**more, "joints": [first]}, {**more, "joints": [{**first, **other}]})


JOINT_FIELDS: dict[str, Tried] = {
    "from": _joint(**{"from": "shelf"}),
    "face": _joint(face="top-edge"),
    "to": _joint(to="shelf", on="front"),
    "on": Tried(
        "areas",
        {"joints": [{"from": "rail", "face": "ends", "to": "top", "on": "top"}]},
        {"joints": [{"from": "rail", "face": "ends", "to": "top", "on": "underside"}]},
    ),
}
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
SHOP_FIELDS: dict[str, Tried] = {
    "shop": values("data", "shop", "Trial shop", "Other shop"),
    "units": values("data", "units", "metric", "us"),
    "paper": values("sheet", "paper", "a4", "letter"),
    "time-zone": values("timetable", "time-zone", "UTC", "America/Denver"),
    "people": _person("hours", {"mon-fri": "8:00-16:00"}, {"mon-fri": "8:00-12:00"}),
    "people.name": _person("name", "Ines", "Olaf"),
    "people.hours": _person("hours", {"mon-fri": "8:00-16:00"}, {"mon-fri": "9:00-13:00"}),
    "people.days": _person("days", None, {f"2027-03-{day:02}": [] for day in range(1, 12)}),
    "people.skills": _person("skills", None, ["coating"]),
    "closed": values("timetable", "closed", None, ["2027-03-01 to 2027-03-11"]),
    "holidays": values("timetable", "holidays", "DE", "DE-BE"),
    "rooms": values("safety", f"{_ROOM}/volume", "60 m3", "20 m3"),
    "rooms.for": values(
        "check", f"{_ROOM}/for", ["sanding", "assembly", "coating", "spraying", "drying"], ["sanding", "coating"]
    ),
    "rooms.volume": values("safety", f"{_ROOM}/volume", "60 m3", "20 m3"),
    "rooms.air-changes": values("safety", f"{_ROOM}/air-changes", 1, 4),
    "rooms.fan": values("safety", f"{_ROOM}/fan", None, "300 m3/h"),
    "rooms.booth": sprayed(values("timetable", f"{_ROOM}/booth", None, _BOOTH)),
    "rooms.booth.face": sprayed(values("safety", f"{_ROOM}/booth", _BOOTH, {**_BOOTH, "face": "1.2 x 1 m"})),
    "rooms.booth.velocity": sprayed(values("safety", f"{_ROOM}/booth", _BOOTH, {**_BOOTH, "velocity": "0.7 m/s"})),
    "rooms.extraction": values("safety", f"{_ROOM}/extraction", None, {"flow": "800 m3/h", "velocity": "0.4 m/s"}),
    "rooms.extraction.flow": values(
        "safety", f"{_ROOM}/extraction", *({"flow": one, "velocity": "0.4 m/s"} for one in ("800 m3/h", "200 m3/h"))
    ),
    "rooms.extraction.velocity": values(
        "safety", f"{_ROOM}/extraction", *({"flow": "800 m3/h", "velocity": one} for one in ("0.4 m/s", "0.05 m/s"))
    ),
    "rack": values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 1, "hooks": 1}),
    "rack.places": values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 0, "hooks": 8}),
    "rack.hooks": values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 6, "hooks": 0}),
    "climate": _climate("day.temperature", "19 degC", "14 degC"),
    "climate.day": _climate("day", _DAY, {**_DAY, "temperature": "14 degC"}),
    "climate.day.from": _climate("day.from", "6:00", "11:00"),
    "climate.day.to": _climate("day.to", "22:00", "13:00"),
    "climate.day.temperature": _climate("day.temperature", "22 degC", "14 degC"),
    "climate.day.humidity": with_water(_climate("day.humidity", "40 %", "70 %")),
    "climate.night": _climate("night", _NIGHT, {**_NIGHT, "temperature": "6 degC"}),
    "climate.night.temperature": _climate("night.temperature", "17 degC", "6 degC"),
    "climate.night.humidity": with_water(_climate("night.humidity", "40 %", "80 %")),
    "climate.months": _month("day/temperature", "19 degC", "14 degC"),
    "climate.months.day": _month("day/temperature", "19 degC", "14 degC"),
    "climate.months.day.from": _month("day/from", "6:00", "11:00"),
    "climate.months.day.to": _month("day/to", "22:00", "13:00"),
    "climate.months.day.temperature": _month("day/temperature", "22 degC", "14 degC"),
    "climate.months.day.humidity": with_water(_month("day/humidity", "40 %", "70 %")),
    "climate.months.night": _month("night/temperature", "17 degC", "6 degC"),
    "climate.months.night.temperature": _month("night/temperature", "17 degC", "6 degC"),
    "climate.months.night.humidity": with_water(_month("night/humidity", "40 %", "80 %")),
    "climate.log": Tried("timetable", {"climate": {"log": "warm.csv"}}, {"climate": {"log": "cold.csv"}}),
    "methods": values("materials", "methods", ["wipe", "hand"], ["brush", "hand"]),
    "grits": values("sanding", "grits", ["P80", "P120", "P150", "P180"], ["P100", "P120", "P150", "P180"]),
    "buffer": values("timetable", "buffer", "1 d", "3 d"),
    "in-time": values("timetable", "in-time", "60 %", "99 %"),
    "labour": values("systems", "labour", "42 / h", "84 / h"),
    "rates": values("quote", "rates", {"hour": 50}, {"hour": 60}),
    **{
        f"rates.{kind}": values("quote", f"rates/{kind}", 50, 60)
        for kind in ("hour", "sanding", "coating", "cleaning", "machine")
    },
    "rates.assembly": replace(
        values("quote", "rates/assembly", 50, 60), piece={"assemblies": {"base": {"parts": ["leg", "rail"]}}}
    ),
    "rates.spraying": sprayed(values("quote", "rates/spraying", 50, 60)),
    "prices": values("quote", "prices", {"hardwax-oil": {"1 l": "40 EUR"}}, {"hardwax-oil": {"1 l": "60 EUR"}}),
    "charged": patched_too(values("quote", "charged", "used", "bought"), _PRICED),
    "markup": patched_too(values("quote", "markup", "10 %", "20 %"), _PRICED),
    "vat": patched_too(values("quote", "vat", "7 %", "19 %"), _PRICED),
    "suppliers": values("data", "suppliers", {"default": "1 d"}, {"default": "3 d"}),
    "buy-ahead": patched_too(
        values("data", "buy-ahead", "1 d", "20 d"), {"suppliers": {"hardwax-oil": "5 d", "default": "0 d"}}
    ),
    "labels": values("tags", "labels", None, {"rows": 7, "columns": 3}),
    "labels.rows": values("tags", "labels", {"rows": 6, "columns": 2}, {"rows": 5, "columns": 2}),
    "labels.columns": values("tags", "labels", {"rows": 5, "columns": 2}, {"rows": 5, "columns": 3}),
    "labels.margins": values("tags", "labels", {"margins": "8 mm"}, {"margins": "15 mm 7 mm"}),
    "labels.gaps": values("tags", "labels", {"gaps": "0 mm"}, {"gaps": "2 mm 2.5 mm"}),
    "labels.cut-lines": values("tags", "labels", {"cut-lines": True}, {"cut-lines": False}),
    "notes": values("sheet", "notes", None, {"every-day": ["Sign the board by the door."]}),
    "notes.first-page": values("sheet", "notes/first-page", None, ["The key hangs behind the stove."]),
    "notes.every-day": values("sheet", "notes/every-day", None, ["Sign the board by the door."]),
    "notes.care-card": values("sheet", "notes/care-card", None, ["Questions are answered on weekdays."]),
    "ring": values("sheet", "ring", None, "Ada, +00 0000 000000"),
    "shelf": values("materials", "shelf", None, [_OIL_LEFT]),
    "shelf.finish": _shelf(_OIL_LEFT, {"finish": "shellac", "left": "400 ml"}),
    "shelf.solvent": _shelf({"solvent": "white-spirit", "left": "2 l"}, {"solvent": "acetone", "left": "2 l"}),
    "shelf.abrasive": _shelf(
        {"abrasive": "sheet", "grit": "P120", "left": 20}, {"abrasive": "disc-150", "grit": "P120", "left": 20}
    ),
    "shelf.consumable": _shelf(
        {"consumable": "nitrile-gloves", "left": 40}, {"consumable": "lint-free-cloth", "left": 40}
    ),
    "shelf.component": replace(
        _shelf(
            {"finish": "hardwax-oil-2k", "component": "hardener", "left": "20 ml"},
            {"finish": "hardwax-oil-2k", "component": "oil", "left": "20 ml"},
        ),
        piece={"system": "hardwax-oil-2k"},
    ),
    "shelf.grit": _shelf(
        {"abrasive": "disc-150", "grit": "P120", "left": 20}, {"abrasive": "disc-150", "grit": "P150", "left": 20}
    ),
    "shelf.left": _shelf(_OIL_LEFT, {**_OIL_LEFT, "left": "20 ml"}),
    "shelf.opened": _shelf(_OIL_LEFT, {**_OIL_LEFT, "opened": "2019-03-12"}),
    "overrides": values(
        "materials",
        "overrides",
        None,
        {"finishes": {"hardwax-oil": {"spread-rate": _THICK}}},
    ),
    "spray-without-booth": sprayed(values("timetable", "spray-without-booth", None, "I have read the local code")),
    "records": Tried("sanding", {"records": "my-records"}, {"records": "other-records"}, {"timber": "yard-ash"}),
    "accept": Tried("check", {}, {"accept": ["open-at-christmas"]}),
}
TRIED: dict[str, dict[str, Tried]] = {
    "piece": PIECE_FIELDS,
    "part": PART_FIELDS,
    "face": _faces(""),
    "assembly": ASSEMBLY_FIELDS,
    "joint": JOINT_FIELDS,
    **SHAPE_FIELDS,
    **ELEMENT_FIELDS,
    "shop": SHOP_FIELDS,
}
"""By topic and field."""
