"""The plan as JSON: whole, the same as the single commands print, and every key of it explained."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import finplan
from finplan.export import (
    areas_data,
    as_json,
    materials_data,
    plan_data,
    safety_data,
    sanding_data,
    timetable_data,
)
from finplan.plan import Plan, make_plan
from finplan.source import read_sources
from finplan.timing import Wishes
from tests.sheet.conftest import NOW

GUIDE = Path(finplan.__file__).parent / "guide" / "plan-json.md"
RANGE = {"low", "typical", "high", "at_confidence"}
"""Explained once, at the head of the guide."""
BY_NAME = {"timetable.cured", "done", "sources", "safety.sessions[].solvents_g"}
"""Objects whose keys are names and not fields."""
SELDOM = {"safety.sessions[].sanded_too_early[]", "pieces[].warnings[]", "materials.materials[].buy[]"}
"""Explained, but in none of these plans."""
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
rooms: {shop: {for: [sanding, assembly, coating, drying, spraying], volume: 60 m3, air-changes: 2, fan: 300 m3/h}}
shelf:
  - {finish: shellac, left: 100 g, opened: 2020-01-01}
  - {finish: polyurethane-2k, component: isocyanate hardener, left: 200 ml}
grits: [P80, P150, P240, P320, P400]
"""
CASES = {
    "oil": ("hardwax-oil", "beech", "deliver: 2027-03-12\n", ""),
    "flakes": ("shellac", "beech", "", ""),
    "two parts": ("polyurethane-2k", "walnut", "deliver: 2027-03-12\n", ""),
    "veneer": ("waterborne-polyurethane", "beech", "", ", veneer: 0.9 mm"),
    "refinished": ("oil-varnish-blend", "beech", "refinish: {built: 1950}\n", ", surface: stripped"),
    "soaped": ("soap", "white-oak", "", ""),
    "enamelled": ("acrylic-enamel", "poplar", "", ""),
    "too late": ("hardwax-oil", "beech", "deliver: 2027-02-02\n", ""),
}


def plan_of(folder: Path, *names: str) -> Plan:
    folder.mkdir(exist_ok=True)
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    files = []
    for name in names:
        system, timber, more, part = CASES[name]
        files.append(folder / f"{name}.yaml")
        text = PIECE.format(name=f"Board, {name}", system=system, timber=timber, more=more, part=part)
        files[-1].write_text(text, encoding="utf-8")
    return make_plan(read_sources(files, folder / "shop.yaml"), now=NOW, wishes=Wishes(limit_s=20))


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plan]:
    """Plans of all sorts, and of two pieces together."""
    folder = tmp_path_factory.mktemp("plans")
    found = {name: plan_of(folder / name, name) for name in CASES}
    return {**found, "both": plan_of(folder / "both", "oil", "two parts")}


def objects(data: Any, at: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Give every object in data with its place."""
    if isinstance(data, dict):
        named = at in BY_NAME
        if not named:
            yield at, data
        for key, value in data.items():
            yield from objects(value, f"{at}{{}}" if named else f"{at}.{key}" if at else key)
    elif isinstance(data, list):
        for value in data:
            yield from objects(value, f"{at}[]")


def explained() -> dict[str, set[str]]:
    """Return the keys that the guide explains, by the place of their object."""
    found: dict[str, set[str]] = {}
    for section in GUIDE.read_text(encoding="utf-8").split("\n## ")[1:]:
        heading, _, body = section.partition("\n")
        keys = set(re.findall(r"^\| `(\w+)` \|", body, flags=re.MULTILINE))
        for place in re.findall(r"`([^`]+)`", heading) or [""]:
            found[place] = keys
    return found


def test_every_key_is_explained_and_nothing_else(plans: dict[str, Plan]) -> None:
    guide = explained()
    used: dict[str, set[str]] = {}
    for plan in plans.values():
        for place, data in objects(plan_data(plan)):
            used.setdefault(place, set()).update(set(data) - RANGE)
    unexplained = {place: keys - guide.get(place, set()) for place, keys in used.items()}
    assert {place: keys for place, keys in unexplained.items() if keys} == {}
    stale = {place: keys - used.get(place, set()) for place, keys in guide.items()}
    assert {place for place, keys in stale.items() if keys} <= SELDOM


def test_it_holds_what_the_single_commands_print(plans: dict[str, Plan]) -> None:
    plan = plans["both"]
    data = plan_data(plan)
    assert data["timetable"] == timetable_data(plan.timetable)
    assert data["materials"] == materials_data(plan.materials)
    assert data["safety"] == safety_data(plan.safety, plan.cautions)
    for told, piece in zip(data["pieces"], plan.pieces, strict=True):
        assert told["areas"] == areas_data(piece.surface)
        assert told["sanding"] == sanding_data(piece.sanding, plan.safety.dust)


def test_every_id_of_the_timetable_is_a_step_or_what_hangs_on_one(plans: dict[str, Plan]) -> None:
    data = plan_data(plans["both"])
    known = {step["id"] for piece in data["pieces"] for one in piece["treatments"] for step in one["steps"]}
    known |= {step["id"] for piece in data["pieces"] for step in piece["sanding"]["order"]}
    for step in data["timetable"]["steps"]:
        assert any(step["id"] == one or step["id"].startswith(f"{one}/") for one in known), step["id"]


def test_every_source_is_there(plans: dict[str, Plan]) -> None:
    for plan in plans.values():
        data = plan_data(plan)
        named = {line["source"] for line in data["safety"]["cautions"]}
        assert named <= set(data["sources"])


def test_it_is_json_and_the_same_each_time(plans: dict[str, Plan]) -> None:
    text = as_json(plan_data(plans["oil"]))
    assert json.loads(text)["format"] == "finplan-plan/1"
    assert text == as_json(plan_data(plans["oil"]))


def test_what_does_not_fit_says_so(plans: dict[str, Plan]) -> None:
    data = plan_data(plans["too late"])
    assert data["timetable"]["status"] == "impossible"
    assert data["timetable"]["clashes"]
