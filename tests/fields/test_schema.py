"""The JSON Schemas accept what the program reads, and refuse what it refuses for its form."""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

import finplan.demo
from finplan.fields import piece_schema, shop_schema
from finplan.forms import Answers, forms, usual_shop, write_piece, write_shop
from finplan.planning import read_sources
from finplan.problems import RefusedError
from finplan.reading import Written, document_of
from finplan.resources import data_dir
from tests.conftest import EXAMPLE, Cli
from tests.readme import README

PIECE, SHOP = Draft202012Validator(piece_schema()), Draft202012Validator(shop_schema())
DEMO = Path(finplan.demo.__file__).with_name("files")


def data_of(text: str) -> dict[str, Any]:
    return dict(document_of(text, Path("file.yaml")).data)


def every_shape() -> str:
    return str(re.findall(r"```yaml\n(piece: One of every shape\n.*?)```", texts(), re.DOTALL)[0])


def texts() -> str:
    guide = Path(finplan.__file__).parent / "guide"
    return "\n".join(file.read_text(encoding="utf-8") for file in (README, *sorted(guide.glob("*.md"))))


def pieces() -> Iterator[tuple[str, str]]:
    yield "example", EXAMPLE
    yield "every shape", every_shape()
    for file in sorted(DEMO.glob("*.yaml")):
        if file.stem != "shop":
            yield file.stem, file.read_text(encoding="utf-8").replace("DELIVER", "2027-02-19")
    for form in forms():
        yield form.name, write_piece(form, Answers("Ours", "ash", "soap", "2027-06-18"))
        yield f"{form.name} in inches", write_piece(form, Answers("Ours", "ash", "soap", "2027-06-18", "us"))


def shops() -> Iterator[tuple[str, str]]:
    yield "demo", (DEMO / "shop.yaml").read_text(encoding="utf-8")
    yield "default", (data_dir("catalogue") / "default-shop.yaml").read_text(encoding="utf-8")
    yield "begun", write_shop(usual_shop("us", "America/Denver", "US"))


def test_they_are_schemas_themselves() -> None:
    for validator in (PIECE, SHOP):
        Draft202012Validator.check_schema(validator.schema)


@pytest.mark.parametrize(("name", "text"), list(pieces()))
def test_pieces_that_can_be_read_meet_the_schema(name: str, text: str) -> None:
    assert [f"{error.json_path}: {error.message}" for error in PIECE.iter_errors(data_of(text))] == []


@pytest.mark.parametrize(("name", "text"), list(shops()))
def test_shops_that_can_be_read_meet_the_schema(name: str, text: str) -> None:
    assert [f"{error.json_path}: {error.message}" for error in SHOP.iter_errors(data_of(text))] == []


def places(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    yield path
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for name, one in inner:
        yield from places(one, (*path, name))


def spoilt(data: dict[str, Any], path: tuple[str | int, ...], how: str) -> dict[str, Any]:
    found = copy.deepcopy(data)
    owner: Any = found
    for step in path[:-1]:
        owner = owner[step]
    if how == "renamed":
        owner[f"{path[-1]}zz"] = owner.pop(path[-1])
    elif how == "listed":
        owner[path[-1]] = [["odd"]]
    else:
        owner[path[-1]] = {"text": "sixty odd", "negative": -5, "unit": "5 furlings"}[how]
    return found


def is_name(data: dict[str, Any], path: tuple[str | int, ...]) -> bool:
    """Whether what is spoilt is a word that only the catalogue, or the file itself, knows to be wrong."""
    free = {
        "piece",
        "customer",
        "timber",
        "system",
        "from",
        "to",
        "on",
        "face",
        "deliver",
        "surface",
        "parts",
        "path",
        "strip",
    }
    own = {
        "assemblies",
        "joints",
        "accept",
        "raised",
        "start-grit",
        "stop-grit",
        "edge",
        "less",
        "back",
        "before",
        "after",
        "rise",
    }
    return len(path) < 2 or any(step in free - {"parts"} | own for step in path if isinstance(step, str))


@pytest.mark.parametrize("seed", range(3))
def test_spoilt_pieces_are_refused_by_both(seed: int) -> None:
    """What the schema refuses the program refuses, and of spoilt sizes and names of fields it misses none."""
    drawn = random.Random(seed)
    missed: list[tuple[str, tuple[str | int, ...], str]] = []
    for name, text in pieces():
        data = data_of(text)
        tried = [path for path in places(data) if path and not is_name(data, path) and isinstance(path[-1], str)]
        for path in drawn.sample(tried, min(6, len(tried))):
            how = drawn.choice(["renamed", "text", "negative", "unit", "listed"])
            if how == "renamed" and (len(path) == 2 or path[-2] in ("parts", "faces")):
                continue  # names of one's own
            wrong = spoilt(data, path, how)
            by_schema = not PIECE.is_valid(wrong)
            if by_schema != refused(wrong):
                missed.append((name, path, how))
    assert missed == []


def refused(data: dict[str, Any]) -> bool:
    try:
        read_sources([Written(Path("piece.yaml"), json.dumps(data))], None)
    except RefusedError:
        return True
    return False


@pytest.mark.parametrize(
    "text",
    ["shop: X\npeople: [{nam: Ines}]", "shop: X\nrack: {places: many}", "shop: X\npaper: a3", "units: metric",
     "shop: X\nbuffer: 3 furlongs", "shop: X\nclimate: {day: {temperature: 19 degC}}",
     "shop: X\npeople: [{name: I, hours: {mon: 9 to 5}}]", "shop: X\nholydays: GB"],
)  # fmt: skip
def test_spoilt_shops_are_refused(text: str) -> None:
    assert not SHOP.is_valid(data_of(text))


def test_the_command_prints_them(cli: Cli) -> None:
    assert json.loads(cli("schema").out) == piece_schema()
    assert json.loads(cli("schema", "piece").out) == piece_schema()
    assert json.loads(cli("schema", "shop").out) == shop_schema()
    assert cli("schema", "sheet").status == 2


def test_every_field_that_is_explained_is_in_them() -> None:
    """``length`` of turned parts, ``circumference``, logger files and a shop's own records among them."""
    piece, shop = piece_schema(), shop_schema()
    assert {"length", "elements"} <= set(piece["$defs"]["shape-turned"]["properties"])
    assert {"diameter", "radius", "circumference"} <= set(piece["$defs"]["shape-disc"]["properties"])
    assert "log" in shop["$defs"]["climate"]["properties"]
    assert {"records", "overrides", "accept"} <= set(shop["properties"])
    groups = [one["properties"] for one in piece["$defs"].values() if "properties" in one]
    assert all(field.get("description") for fields in groups for field in fields.values())
