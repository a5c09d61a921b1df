"""Two values of every field of a shop."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tests.fields.trying import WHOLE, Patch, Stage, Tried, inside, patched, values

_PRICED: Patch = {"prices": {"hardwax-oil": {"1 l": "40 EUR"}}}
_DAY = {"from": "8:00", "to": "18:00", "temperature": "19 degC", "humidity": "50 %"}
_NIGHT = {"temperature": "12 degC", "humidity": "60 %"}
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def sprayed(tried: Tried) -> Tried:
    """Return the same for a piece that is sprayed with what burns."""
    gun = {"methods": ["spray-hvlp", "hand"]}
    return replace(
        tried, first=patched(tried.first, gun), second=patched(tried.second, gun), piece={"system": "lacquer"}
    )


def of_whole(tried: Tried) -> Tried:
    """Return the same for a piece with legs and a rail too."""
    return replace(tried, piece=WHOLE)


def of_turned(tried: Tried) -> Tried:
    """Return the same for a set of turned parts, in a shop of two who have a lathe."""
    two = {"people": [{"name": name, "hours": {"mon-fri": "8:00-16:00"}} for name in ("Ines", "Tam")]}
    legs = {"leg": {"shape": "turned", "elements": [{"taper": {"from": 40, "to": 24, "length": 400}}], "count": 3}}
    piece = {
        "parts": {"top": None, "rail": None, "leg": None, **{f"{name} leg": legs["leg"] for name in ("front", "rear")}}
    }
    return replace(patched_too(tried, {**two, "methods": ["wipe", "hand", "lathe"]}), piece=piece)


def patched_too(tried: Tried, patch: Patch) -> Tried:
    """Return the same with more that both files say."""
    return replace(tried, first=patched(tried.first, patch), second=patched(tried.second, patch))


def with_water(tried: Tried) -> Tried:
    """Return the same for a piece whose finish dries as water leaves it."""
    return replace(tried, piece={"system": "waterborne-polyurethane"})


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
    "rack": of_whole(values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 1, "hooks": 1})),
    "rack.places": values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 0, "hooks": 8}),
    "rack.hooks": of_whole(values("timetable", "rack", {"places": 6, "hooks": 8}, {"places": 6, "hooks": 0})),
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
    "lathes": of_turned(values("timetable", "lathes", 1, 2)),
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
        values("quote", "rates/assembly", 50, 60), piece={**WHOLE, "assemblies": {"base": {"parts": ["leg", "rail"]}}}
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
