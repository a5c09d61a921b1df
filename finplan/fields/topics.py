"""What can be looked up: the files, the shapes, and the groups of fields that stand in them."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from pydantic import BaseModel

from finplan.inputs import Assembly, Head, Joint, Shop, default_shop_fields
from finplan.inputs.shapes import ELEMENTS, SHAPES, Edge, FaceRule, Part, default_exposure
from finplan.reading import FieldOf, fields_of

_PICTURES = Path(__file__).with_name("pictures")

TopicKind = Literal["file", "shape", "element", "group"]


@dataclass(frozen=True, slots=True)
class Topic:
    """One thing to look up: its fields are those of a model."""

    name: str
    kind: TopicKind
    about: str
    """What it is: a sentence."""
    model: type[BaseModel]


@dataclass(frozen=True, slots=True)
class Described:
    """One field of a topic, all in words."""

    name: str
    form: str
    """What it is; its bounds and its unit with it."""
    example: str
    """As it stands in a file."""
    required: bool
    default: str | None
    """What it is where nothing is said; None where there is nothing then."""
    about: str


@cache
def topics() -> tuple[Topic, ...]:
    """Return all there is to look up."""
    return (
        Topic("piece", "file", "A piece file: what stands at its head; its parts are of a shape each.", Head),
        Topic("part", "group", "What every part may have, whatever its shape, under its name in parts:.", Part),
        Topic("face", "group", "What may be said of a face, under its name in faces: of a part.", FaceRule),
        Topic("assembly", "group", "Parts that are joined before they are finished, under its name.", Assembly),
        Topic("joint", "group", "One of the list joints:, faces of one part that are glued to another.", Joint),
        *(Topic(name, "shape", _about(model), model) for name, model in SHAPES.items()),
        *(
            Topic(name, "element", f"{_about(model)} An element of a turned part.", model)
            for name, model in ELEMENTS.items()
        ),
        Topic("shop", "file", "A shop file: who works when, in which rooms and air, with what.", Shop),
    )


def topic_named(name: str) -> Topic | None:
    """Return the topic of that name; None where there is none."""
    return next((topic for topic in topics() if topic.name == name), None)


def topics_with(field: str) -> list[tuple[Topic, Described]]:
    """Return every topic that has a field of this name, in itself or in a group of it, with the field."""
    return [
        (topic, known) for topic in topics() for known in described(topic) if known.name.rpartition(".")[2] == field
    ]


def described(topic: Topic) -> list[Described]:
    """Return the fields of a topic; of a shape those of every part are left out."""
    shared = set(Part.model_fields) if topic.kind == "shape" else set()
    own = {info.alias or name for name, info in topic.model.model_fields.items() if name not in shared - _SAID_ANEW}
    fields = [field for field in _fields(topic) if field.name.partition(".")[0] in own]
    return [*fields, *(_OF_PIECE if topic.name == "piece" else ())]


_SAID_ANEW = frozenset({"shape"})
_OF_PIECE = (
    Described("parts", "names, each with the fields of its shape", "{top: {shape: disc, diameter: 900, …}}", True, None,
              "The parts, under names of your own; see part, and the shapes."),
    Described("assemblies", "names, each with its parts", "{base: {parts: [leg, apron]}}", False, None,
              "Parts that are joined before they are finished; see assembly."),
    Described("joints", "a list of joints", "[{from: apron, face: ends, to: leg, on: sides}]", False, None,
              "Faces that are glued; see joint."),
)  # fmt: skip


def shape_picture(topic: Topic) -> str | None:
    """Return the picture of a shape, as lines of plain text; None where there is none."""
    file = _PICTURES / f"{topic.name}.txt"
    return file.read_text(encoding="utf-8").rstrip() if file.is_file() else None


def edges_picture() -> str:
    """Return the picture of the profiles of an edge."""
    return (_PICTURES / "edge.txt").read_text(encoding="utf-8").rstrip()


def faces_of(topic: Topic) -> list[tuple[str, str]]:
    """Return the faces of a shape, each with how it is exposed where nothing is said."""
    names = topic.model.FACES if issubclass(topic.model, Part) else ()
    return [(name, default_exposure(name)) for name in names]


def _about(model: type[BaseModel]) -> str:
    return " ".join((inspect.getdoc(model) or "").split("\n\n")[0].split())


def _fields(topic: Topic) -> Iterator[Described]:
    for field in fields_of(topic.model):
        form, example = _parted(field)
        if field.name == "shape" and topic.kind == "shape":
            form, example = f"the word {topic.name}", topic.name
        yield Described(
            field.name, form, example, field.required and not _given(topic, field), _default(topic, field), field.about
        )


def _parted(field: FieldOf) -> tuple[str, str]:
    """Return how a field is written and its example apart."""
    words, colon, example = field.form.partition(": ")
    likely = _LENGTHS.get(field.name.rpartition(".")[2])
    if words == "a length" and likely:
        return words, likely
    if colon:
        return words, _ALTERNATIVE.split(example)[0] if example[0] not in "[{" else example.partition(";")[0]
    listed = field.form.startswith("a list")
    choice = re.search(r"(?:one of|from) (\w[\w-]*)", field.form)
    last = field.name.rpartition(".")[2]
    usual = _BY_NAME.get(field.name) or _BY_NAME.get(last) or (choice[1] if choice else _BY_FORM.get(field.form, ""))
    return field.form, f"[{usual}]" if listed and usual and usual[0] not in "[{" else usual


_LENGTHS = {
    "diameter": "900 mm", "radius": "450 mm", "circumference": "2830 mm", "length": "620 mm", "width": "100 mm",
    "height": "780 mm", "depth": "380 mm", "side": "45 mm", "to": "30 mm", "rise": "20 mm", "every": "50 mm",
    "across-flats": "300 mm", "across-corners": "345 mm", "neck": "46 mm", "rim": "46 mm", "back": "6 mm",
    "stile": "60 mm", "rail": "65 mm", "bottom": "6 mm",
}  # fmt: skip
"""Lengths as they are ordinary, by the name of the field."""
_ALTERNATIVE = re.compile(r",? (?:or|and) |, ")
_BY_FORM = {"true or false": "true", "two or four": "two", "text": "board"}
_BY_NAME = {
    "piece": "Hall bench", "customer": "Reading room committee", "timber": "ash", "system": "hardwax-oil",
    "accept": "open-at-christmas", "surface": "sawn", "from": "apron", "face": "ends", "to": "leg", "on": "sides",
    "built": "1965", "refinish": "{built: 1965, lead-test: clear, strip: chemical}", "strip": "chemical",
    "faces": "{underside: {coats: 1}}", "hole": "60 mm",
    "offsets": "{every: 50, widths: [62, 68, 71, 68, 62]}", "arch": "{rise: 20}", "taper": "{to: 30}",
    "bend": "{rise: 18}", "grooves": "[{face: back, width: 4, depth: 9}]", "frame": "{stile: 60, rail: 65}",
    "panel": "{thickness: 10}", "shop": "Harbour Lane workshop", "name": "Ines", "skills": "[sanding, coating]",
    "people": "[{name: Ines, hours: {mon-fri: 8:00-16:00}}]", "parts": "[leg, apron]",
    "rooms": "{shop: {for: [sanding, assembly, coating, drying], volume: 90 m3}}", "for": "[coating, drying]",
    "booth": "{face: 2.4 x 2.1 m, velocity: 0.5 m/s}", "extraction": "{flow: 800 m3/h, velocity: 0.4 m/s}",
    "rack": "{places: 6, hooks: 8}", "methods": "[wipe, brush, hand]", "grits": "[P120, P150, P180]",
    "climate": "{day: {temperature: 19 degC, humidity: 50 %}, night: {temperature: 12 degC, humidity: 60 %}}",
    "day": "{from: 8:00, to: 18:00, temperature: 19 degC, humidity: 50 %}",
    "night": "{temperature: 12 degC, humidity: 60 %}", "months": "{jan: {day: {…}, night: {…}}, …}",
    "labels": "{rows: 7, columns: 3}", "notes": "{every-day: [Sign the board by the door.]}",
    "first-page": "[The key hangs behind the stove.]", "every-day": "[Sign the board by the door.]",
    "ring": "Ada, +00 0000 000000",
    "care-card": "[Questions are answered on weekdays.]", "shelf": "[{finish: hardwax-oil, left: 400 ml}]",
    "finish": "hardwax-oil", "solvent": "white-spirit", "abrasive": "sheet", "consumable": "nitrile-gloves",
    "component": "hardener", "rates": "{hour: 55 EUR, sanding: 48 EUR}", "prices": "{hardwax-oil: {1 l: 61.50 EUR}}",
    "timbers": "{back: birch-plywood}", "timbers.sides": "mdf",
    "timbers.back": "birch-plywood", "timbers.shelves": "mdf", "timbers.frame": "poplar", "timbers.panel": "mdf",
    "suppliers": "{shellac flakes: 3 d, default: 1 d}", "buy-ahead": "14 d",
}  # fmt: skip
"""What stands for a name or a group of fields, by the name of its field."""


def _given(topic: Topic, field: FieldOf) -> bool:
    """Return whether the default shop gives a field that has to be there."""
    return topic.model is Shop and field.name != "shop" and field.name.partition(".")[0] in default_shop_fields()


def _default(topic: Topic, field: FieldOf) -> str | None:
    if topic.model is Shop and "." not in field.name and field.name != "shop":
        value = default_shop_fields().get(field.name)
        if value is not None:
            return _plain(value)
    if field.default in (None, (), {}, frozenset(), ((),) * 7) or isinstance(field.default, BaseModel):
        return None
    return _plain(field.default)


def _plain(value: Any) -> str:
    """Return a value as a file has it, where it is short."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(_plain(element) for element in value)}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{name}: {_plain(member)}' for name, member in value.items())}}}"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, Edge):
        return "square"
    return str(getattr(value, "written", value))
