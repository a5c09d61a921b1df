"""Ways to spoil a piece file, a shop file, a climate log, a mesh or a shop's records; the same for the same seed."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from random import Random
from typing import Any

from finplan.catalogue import bundled_catalogue
from finplan.inputs.shapes import SHAPES
from finplan.reading import parse_document

Data = dict[str, Any]

NUMBERS: tuple[Any, ...] = (
    0, -1, 1, 2**63, 10**40, 1e-9, 1e-3, 1e300, -1e300, 1e5, 0.1 + 0.2, "1e999 mm", "0 h", "1e308 h", "0.0000001 mm",
    "99999999999999999999 km", "1/0 in", "3-1/2 in", "1 1 1 mm", "0.001 mm", "100 m", "5e-324 m2/l", "-273.15 degC",
)  # fmt: skip
WORDS: tuple[Any, ...] = (
    "", " ", "x" * 70, "x" * 5000, " " * 10_000 + "a", "a" * 10_000 + " ", "\u202e60 mg\u202c", "\x07bell",
    "\x1b[31mred",
    "a\nb", "\u05d0\u05d1\u05d2 60", "<script>alert(1)</script>", "{{ 7*7 }}", "&amp;", "'\"`", "../../etc/passwd",
    "\ufeff", "e\u0301" * 30, "\U0001f9f0", "=1+1", "@import url(x)", "`", "con", "null", "\u2028", "\x00", "\ud7ff",
    "2027-02-30", "2027-03-12", "9999-12-31", "0001-01-01", "25:00", "mon-sun", "8:00-8:00", "100 x 100 x 100", "M0 0Z",
    "P180", "covered", "1" * 81, "furlongs" * 9, "-", ":", "a/b", "%", "1 mm mm", "1/2/3 m2/l", "12 to 30 degC",
)  # fmt: skip
OTHERS: tuple[Any, ...] = (None, True, False, [], {}, [[]], {"a": 1}, [1] * 50, "*a", "&a", "!!python/none", [None, {}])


def spoiled(text: str, rng: Random) -> str:
    """Return a YAML text with one to three things changed in it, in its letters or in what it says."""
    if rng.random() < 0.3:
        for _ in range(rng.randint(1, 3)):
            text = rng.choice(_IN_TEXT)(text, rng)
        return text
    data = parse_document(text, Path("seed")).data
    for _ in range(rng.randint(1, 3)):
        rng.choice(_IN_DATA)(data, rng)
    return as_yaml(data)


def changed(text: str, rng: Random) -> str:
    """Return a YAML text with numbers in it made larger and smaller, and branches left out: mostly still in order."""
    data = parse_document(text, Path("seed")).data
    for _ in range(rng.randint(1, 4)):
        rng.choice((_scaled, _scaled, _part_lost, _named, _quiet, _quiet))(data, rng)
    return as_yaml(data)


def as_yaml(data: Data) -> str:
    """Return plain data as JSON, which is YAML."""
    return json.dumps(data, indent=1, ensure_ascii=False)


# --- in the text ----------------------------------------------------------------------------------------------------


def _cut(text: str, rng: Random) -> str:
    return text[: rng.randrange(len(text) + 1)]


def _letter(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    return (
        text[:at]
        + rng.choice("\t :-[]{}#&*!|>'\"%@`,?\n\x00\x7f\u0085\u2028\ufeffäΩ0")
        + text[at + rng.randint(0, 2) :]
    )


def _line_again(text: str, rng: Random) -> str:
    lines = text.splitlines(keepends=True) or [""]
    at = rng.randrange(len(lines))
    return "".join([*lines[:at], *([lines[at]] * rng.choice((2, 3, 300))), *lines[at + 1 :]])


def _line_lost(text: str, rng: Random) -> str:
    lines = text.splitlines(keepends=True) or [""]
    del lines[rng.randrange(len(lines))]
    return "".join(lines)


def _nested(text: str, rng: Random) -> str:
    deep = rng.choice((5, 23, 400, 5000))
    return f"{text}\nextra: {'[' * deep}{']' * deep}\n"


def _spaced(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice((" ", "a", "1", "é", "x ")) * rng.choice((10, 1000, 10_000)) + text[at:]


_IN_TEXT: tuple[Callable[[str, Random], str], ...] = (_cut, _letter, _letter, _line_again, _line_lost, _nested, _spaced)


# --- in what it says ------------------------------------------------------------------------------------------------


def _places(data: Any, found: list[tuple[Any, Any]]) -> list[tuple[Any, Any]]:
    """Return every place of a value: what holds it, and under which name or number."""
    for key, value in list(data.items()) if isinstance(data, dict) else list(enumerate(data)):
        found.append((data, key))
        if isinstance(value, (dict, list)):
            _places(value, found)
    return found


def _any_place(data: Data, rng: Random) -> tuple[Any, Any]:
    places = _places(data, [])
    return rng.choice(places) if places else (data, "piece")


def _replaced(data: Data, rng: Random) -> None:
    holder, key = _any_place(data, rng)
    holder[key] = deepcopy(rng.choice(rng.choice((NUMBERS, WORDS, OTHERS))))


def _without(data: Data, rng: Random) -> None:
    holder, key = _any_place(data, rng)
    del holder[key]


def _renamed(data: Data, rng: Random) -> None:
    holder, key = _any_place(data, rng)
    if isinstance(holder, dict):
        value = holder.pop(key)
        holder[rng.choice((f"{key}x", key[:-1], key.upper(), str(rng.choice(WORDS))))] = value


def _many(data: Data, rng: Random) -> None:
    holder, key = _any_place(data, rng)
    value, times = holder[key], rng.choice((20, 400, 4000))
    if isinstance(holder, list):
        holder.extend(deepcopy(value) for _ in range(times))
    elif rng.random() < 0.5:
        holder.update({f"{key}{number}": deepcopy(value) for number in range(times)})
    else:
        holder[key] = [deepcopy(value) for _ in range(times)]


def _scaled(data: Data, rng: Random) -> None:
    places = [(holder, key) for holder, key in _places(data, []) if type(holder[key]) in (int, float)]
    if places:
        holder, key = rng.choice(places)
        number = holder[key] * rng.choice((0.001, 0.1, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 3, 10))
        holder[key] = round(number) if type(holder[key]) is int and number >= 1 else number


def _moved(data: Data, rng: Random) -> None:
    (there, key), (holder, other) = _any_place(data, rng), _any_place(data, rng)
    there[key] = deepcopy(holder[other])


def _part_lost(data: Data, rng: Random) -> None:
    parts = data.get("parts")
    if isinstance(parts, dict) and len(parts) > 1:
        name = rng.choice(list(parts))
        del parts[name]
        for assembly in data.get("assemblies", {}).values():
            assembly["parts"] = [part for part in assembly["parts"] if part != name]
        if "assemblies" in data:
            data["assemblies"] = {key: one for key, one in data["assemblies"].items() if one["parts"]}


NAMES = ("Łódź top", "脚", "رجل", "a/b", "top=1", "x" * 60, "-", "'", "<b>", "😀 knob")


def _named(data: Data, rng: Random) -> None:
    """Give a part another name, as makers do in all their languages."""
    parts = data.get("parts")
    if isinstance(parts, dict) and parts:
        old, new = rng.choice(list(parts)), rng.choice(NAMES)
        parts[new] = parts.pop(old)
        for assembly in data.get("assemblies", {}).values():
            assembly["parts"] = [new if part == old else part for part in assembly["parts"]]


def _quiet(data: Data, rng: Random) -> None:
    """Hide faces, leave coats out, take another system or timber."""
    parts = data.get("parts")
    if parts is None:
        return
    if rng.random() < 0.4:
        data["system"] = rng.choice(list(bundled_catalogue().systems))
    elif rng.random() < 0.3:
        data["timber"] = rng.choice(list(bundled_catalogue().timbers))
    elif isinstance(parts, dict) and parts and isinstance(part := parts[rng.choice(list(parts))], dict):
        face = rng.choice(SHAPES[part["shape"]].FACES[:3])
        faces = part.setdefault("faces", {})
        faces[face] = rng.choice(({"exposure": "covered"}, {"coats": 0}, {"coats": 20}, {"coats": 1}))


_IN_DATA: tuple[Callable[[Data, Random], None], ...] = (
    _replaced,
    _replaced,
    _replaced,
    _without,
    _renamed,
    _many,
    _scaled,
    _moved,
)


# --- other files ----------------------------------------------------------------------------------------------------


def log_text(rng: Random) -> str:
    """Return a climate log, mostly in order, sometimes with what no logger writes."""
    rows = ["time,temperature,humidity"]
    step_h, count = rng.choice((1, 3, 6, 7)), rng.choice((2, 50, 2000))
    for number in range(count):
        day, hour = divmod(number * step_h, 24)
        when = f"2027-{1 + day // 28 % 12:02d}-{1 + day % 28:02d} {hour:02d}:00"
        rows.append(f"{when},{rng.uniform(5, 30):.1f},{rng.uniform(20, 90):.0f}")
    for _ in range(rng.choice((0, 0, 1, 3))):
        rows[rng.randrange(len(rows))] = rng.choice(
            ("", ",,", "x", "2027-01-01,nan,inf", "2027-13-01 00:00,1,1", '"' * 50, "1e9,1e9,1e9")
        )
    return "\n".join(rows)


def mesh_text(rng: Random) -> str:
    """Return a tetrahedron as an OBJ file, mostly with something wrong."""
    lines = ["v 0 0 0", "v 100 0 0", "v 0 100 0", "v 0 0 100", "f 1 3 2", "f 1 2 4", "f 2 3 4", "f 1 4 3"]
    for _ in range(rng.choice((0, 1, 2))):
        lines[rng.randrange(len(lines))] = rng.choice(
            (
                "v nan 0 0",
                "v 1e308 1 1",
                "f 1 2 99",
                "f 0 0 0",
                "f -1 -2 -3",
                "g " + "x" * 999,
                "usemtl a",
                "mtllib /etc/passwd",
            )
        )
    lines = lines if rng.random() < 0.8 else [line for part in lines for line in (f"g {part[-1]}{rng.random()}", part)]
    return "\n".join(lines * rng.choice((1, 1, 1, 200)))


def overrides(rng: Random) -> Data:
    """Return values of a finish, a solvent or a method that a shop says otherwise, of all sizes."""
    amounts = ("0", "1e-9", "0.5", "5", "400", "1e6", "1e300")
    finish = {"recoat": "h", "dust-free": "h", "voc": "g/l", "handle": "h", "wipe-off": "h", "touch-dry": "h"}
    solvent = {"lower-flammable-limit": "%", "vapour-pressure": "kPa", "molar-mass": "g/mol", "density": "g/l"}
    fields = {
        "finishes": ("hardwax-oil", finish),
        "solvents": ("mineral-spirits", solvent),
        "methods": ("wipe", {"flat": "m2/h", "rinse": "ml", "loss": "%", "set-up": "h"}),
    }
    kind = rng.choice(list(fields))
    name, units = fields[kind]
    field = rng.choice(list(units))
    return {kind: {name: {field: f"{rng.choice(amounts)} {units[field]}"}}}
