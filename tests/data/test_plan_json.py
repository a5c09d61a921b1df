"""The plan as JSON: whole, the same as the single commands print, and every key of it described in the schema."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from finplan.data import (
    areas_data,
    as_json,
    materials_data,
    plan_data,
    safety_data,
    sanding_data,
    timetable_data,
)
from finplan.demo import write_demo
from finplan.planning import Plan, Wishes, read_sources, timetable_of, with_stages
from tests.plan_guide import GUIDE, guide, places, read_schema
from tests.plan_schema import FILE, schema, schema_text
from tests.planned_once import made_at_once
from tests.plans import make_plan
from tests.sheet.conftest import NOW

SCHEMA = read_schema()
DEFS: dict[str, dict[str, Any]] = SCHEMA["$defs"]
VALIDATOR = Draft202012Validator(SCHEMA)
NEVER = {"purchase": {"component"}}
"""Keys that are described, but in none of these plans: components that are sold apart."""
PIECE = """\
piece: {name}
customer: Nobody in particular
lengths: mm
timber: {timber}
system: {system}
{more}parts:
  top: {{shape: board, length: 700, width: 400, thickness: 20{part}}}
"""
SHOP = """\
shop: Copper Beech joinery
spray-without-booth: I have read the local code
rooms: {shop: {for: [sanding, assembly, coating, drying, spraying], volume: 15 m3, air-changes: 1, fan: 60 m3/h}}
suppliers: {default: 1 d}
shelf:
  - {finish: shellac, left: 100 g, opened: 2020-01-01}
  - {finish: polyurethane-2k, component: isocyanate hardener, left: 200 ml}
grits: [P80, P150, P240, P320, P400]
overrides:
  finishes:
    hardwax-oil: {packs: [{size: 1 l, price: 61.50}]}
"""
CASES = {
    "oil": ("hardwax-oil", "beech", "deliver: 2027-03-12\n", ""),
    "flakes": ("shellac", "beech", "", ""),
    "two parts": ("polyurethane-2k", "walnut", "deliver: 2027-03-12\n", ""),
    "veneer": ("waterborne-polyurethane", "beech", "", ", veneer: 0.9 mm"),
    "refinished": ("oil-varnish-blend", "beech", "refinish: {built: 1950}\n", ", surface: stripped"),
    "abraded in its vapour": ("lacquer", "beech", "", ""),
    "soaped": ("soap", "white-oak", "", ""),
    "enamelled": ("acrylic-enamel", "poplar", "", ""),
    "unlikely": ("hardwax-oil", "beech", "", ", taper: {to: 5}"),
    "too late": ("hardwax-oil", "beech", "deliver: 2027-02-02\n", ""),
    "set": ("soap", "beech", "set: 2\n", ""),
    "sample": ("soap", "beech", "deliver: 2027-03-19\nsample: approve by 2027-02-24\n", ""),
    "stripped": (
        "oil-varnish",
        "beech",
        "refinish: {lead-test: clear, strip: scrape}\nbefore: [steam-dents: 2]\nafter: [hardware: 2, wrap]\n",
        "",
    ),
}
DEMO = ("round-table", "hall-bench", "book-shelf")
NAMES = (*CASES, *DEMO, "both", "no shop", "goes on")


def plan_of(folder: Path, *names: str, shop: bool = True, wishes: Wishes | None = None) -> Plan:
    folder.mkdir(exist_ok=True)
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    files = []
    for name in names:
        system, timber, more, part = CASES[name]
        files.append(folder / f"{name}.yaml")
        text = PIECE.format(name=f"Board, {name}", system=system, timber=timber, more=more, part=part)
        files[-1].write_text(text, encoding="utf-8")
    sources = read_sources(files, folder / "shop.yaml" if shop else None)
    return make_plan(sources, now=NOW, wishes=wishes or Wishes(limit_s=20))


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plan]:
    """Plans of all sorts, of the demo's pieces, of two together, and of one that is half done."""
    folder = tmp_path_factory.mktemp("plans")
    write_demo(folder / "demo", NOW.date())
    shop = folder / "demo" / "shop.yaml"
    with made_at_once():  # "both" and "goes on" are the best
        found = {name: plan_of(folder / name, name) for name in CASES}
        found |= {
            name: make_plan(read_sources([folder / "demo" / f"{name}.yaml"], shop), now=NOW, wishes=Wishes(limit_s=20))
            for name in DEMO
        }
    first = next(step for step in found["oil"].timetable.steps if step.deed == "coat")
    hasty = found["abraded in its vapour"]  # as one is that was made without a thought to the air
    table = timetable_of(hasty.pieces, hasty.deliveries, now=NOW, wishes=Wishes(asap=True, answers=False))
    found["abraded in its vapour"] = with_stages(Plan(hasty.pieces, NOW), timetable=table)
    found["goes on"] = plan_of(folder / "oil", "oil", wishes=Wishes(limit_s=20, done={first.id: NOW}))
    return {
        **found,
        "both": plan_of(folder / "both", "oil", "two parts"),
        "no shop": plan_of(folder / "none", "soaped", shop=False),
    }


@pytest.fixture(scope="module")
def told(plans: dict[str, Plan]) -> dict[str, dict[str, Any]]:
    """The same as data, as another program reads it."""
    return {name: json.loads(as_json(plan_data(plan))) for name, plan in plans.items()}


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def nodes(node: Any) -> Iterator[dict[str, Any]]:
    """Give every object in the schema."""
    if isinstance(node, dict):
        yield node
        for value in node.values():
            yield from nodes(value)
    elif isinstance(node, list):
        for value in node:
            yield from nodes(value)


def test_nothing_undocumented_slips_in() -> None:
    """Every object is closed, or a map from names to one form; every key has its meaning."""
    objects = [node for node in nodes(SCHEMA) if node.get("type") == "object"]
    assert len(objects) > 60
    for node in objects:
        if "properties" in node:
            assert node["additionalProperties"] is False
            assert all(form["description"] for form in node["properties"].values())
        else:
            assert node["additionalProperties"]["$ref"]


def test_the_title_of_a_definition_is_its_own() -> None:
    """The guide refers to definitions by it."""
    titles = [node["title"].lower() for node in (SCHEMA, *DEFS.values())]
    assert len(titles) == len(set(titles))


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_is_as_the_schema_says(name: str, told: dict[str, dict[str, Any]]) -> None:
    assert [f"{error.json_path}: {error.message}"[:300] for error in VALIDATOR.iter_errors(told[name])] == []


def test_the_schema_refuses_what_it_does_not_describe(told: dict[str, dict[str, Any]]) -> None:
    """Of every object of a plan one with another key, and one that lacks a key."""
    tried = set()
    for place, data in objects(told["both"]):
        if place in tried or not data:
            continue
        tried.add(place)
        data["undocumented"] = None
        assert not VALIDATOR.is_valid(told["both"]), place
        del data["undocumented"]
    assert len(tried) > 40
    assert VALIDATOR.is_valid(told["both"])


BY_NAME = {"timetable.cured", "done", "sources", "safety.sessions[].solvents_g"}
"""Objects whose keys are names and not fields."""


def objects(data: Any, at: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Give every object in data with its place."""
    if isinstance(data, dict):
        named = at in BY_NAME
        if not named:
            yield at, data
        for key, value in list(data.items()):
            yield from objects(value, f"{at}{{}}" if named else f"{at}.{key}" if at else key)
    elif isinstance(data, list):
        for value in data:
            yield from objects(value, f"{at}[]")


def test_nothing_is_described_that_is_never_told(told: dict[str, dict[str, Any]]) -> None:
    used: dict[str, set[str]] = {}
    for data in told.values():
        for place, found in objects(data):
            used.setdefault(place, set()).update(found)
    stale = {}
    for name, where in places(SCHEMA).items():
        keys = set(DEFS[name].get("properties", ()))
        stale[name] = keys - set().union(*(used.get(place, set()) for place in where))
    assert {name: keys for name, keys in stale.items() if keys} == NEVER
    assert used[""] == set(SCHEMA["properties"])
    assert set(stale) == set(DEFS)


def test_the_schema_is_made_from_the_types() -> None:
    """If it is not: ``python -m tests.plan_guide``."""
    assert FILE.read_text(encoding="utf-8") == schema_text(schema())


def test_the_guide_is_made_from_the_schema() -> None:
    """If it is not: ``python -m tests.plan_guide``."""
    assert GUIDE.read_text(encoding="utf-8") == guide(SCHEMA)


def test_the_guide_names_every_key() -> None:
    text = GUIDE.read_text(encoding="utf-8")
    for node in (SCHEMA, *DEFS.values()):
        section = text.split(f"\n## {node['title']}\n")[1].split("\n## ")[0]
        for key in node.get("properties", ()):
            assert f"\n| `{key}` | " in section, (node["title"], key)


def test_it_holds_what_the_single_commands_print(plans: dict[str, Plan]) -> None:
    plan = plans["both"]
    data = plan_data(plan)
    assert data.timetable == timetable_data(plan.timetable)
    assert data.materials == materials_data(plan.materials, plan.precautions.gear.buy)
    assert data.safety == safety_data(plan)
    for one, piece in zip(data.pieces, plan.pieces, strict=True):
        assert one.areas == areas_data(piece.surface)
        assert one.sanding == sanding_data(piece.sanding, plan.safety.dust)


def test_every_id_of_the_timetable_is_a_step_or_what_hangs_on_one(told: dict[str, dict[str, Any]]) -> None:
    data = told["both"]
    known = {step["id"] for piece in data["pieces"] for treatment in piece["treatments"] for step in treatment["steps"]}
    known |= {step["id"] for piece in data["pieces"] for step in piece["sanding"]["order"]}
    for step in data["timetable"]["steps"]:
        assert any(step["id"] == one or step["id"].startswith(f"{one}/") for one in known), step["id"]


def test_every_source_that_is_named_is_there(told: dict[str, dict[str, Any]]) -> None:
    for name, data in told.items():
        named = {
            found[key] for _, found in objects(data["safety"]) for key in ("source", "extractor_source") if key in found
        }
        assert named, name
        assert named <= set(data["sources"]), name


def test_what_is_sure_is_told(plans: dict[str, Plan], told: dict[str, dict[str, Any]]) -> None:
    probability = plans["oil"].timetable.in_time_probability
    assert probability is not None
    assert told["oil"]["chance"]["in_time_probability"] == probability
    assert told["too late"]["chance"] == {
        "in_time_probability": None,
        "in_time_wanted": 0.0,
        "surely_ready": None,
        "words": [],
    }


def test_the_default_shop_has_no_name_and_fills_in_everything(told: dict[str, dict[str, Any]]) -> None:
    shop = told["no shop"]["shop"]
    assert shop["shop"] is None
    assert {"people", "rooms", "climate"} <= set(shop["assumed"])


def test_it_is_the_same_each_time(plans: dict[str, Plan]) -> None:
    assert as_json(plan_data(plans["oil"])) == as_json(plan_data(plans["oil"]))


def test_what_does_not_fit_says_so(told: dict[str, dict[str, Any]]) -> None:
    timetable = told["too late"]["timetable"]
    assert timetable["status"] == "impossible"
    assert timetable["clashes"]
    assert timetable["steps"] == []
