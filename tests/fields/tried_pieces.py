"""Two values of every field of a piece, its parts, faces, assemblies and joints."""

from __future__ import annotations

from typing import Any

from tests.fields.trying import Stage, Tried, values


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
FACE_FIELDS = _faces("")
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
