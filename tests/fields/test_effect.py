"""No field that is read is without effect: two values of every field of the models are tried, and what they change.

What is read and used nowhere looks to whoever wrote it as if it had been heeded.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path
from typing import Any

import pytest
import trimesh

import finplan
from finplan import Plan
from finplan.data import plain_data, quote_data, safety_data, sanding_data, systems_data, timetable_data
from finplan.data.areas import areas_data
from finplan.data.materials import materials_data
from finplan.fields import described, topics
from finplan.planning import compare_systems, dust_of, found_in
from finplan.tags import sheets_html, tag_sheets
from tests.fields.tried import TRIED
from tests.fields.trying import ONE_BOARD, PIECE, SHOP, Patch, Stage, Tried, patched
from tests.planned_once import made_at_once

START = datetime(2027, 2, 1, 8, tzinfo=UTC)
ALL_TRIED = [(topic, field) for topic, fields in TRIED.items() for field in fields]
"""As they are tried; that no field of the models is lacking is a test of its own, whose reading takes a second."""
IN_SHOP = "shop"


def written(folder: Path, patch: Patch, tried: Tried, topic: str) -> tuple[Path, Path]:
    """Write a piece and a shop, one of them patched."""
    piece = patched(patched(PIECE, ONE_BOARD), tried.piece) if topic == IN_SHOP else patched(PIECE, patch)
    shop = patched(SHOP, patch if topic == IN_SHOP else {})
    files = folder / "piece.yaml", folder / "shop.yaml"
    for file, data in zip(files, (piece, shop), strict=True):
        file.write_text(json.dumps(data), encoding="utf-8")  # JSON is YAML
    return files


@pytest.fixture(autouse=True)
def _plans_made_at_once() -> Iterator[None]:
    """What is asked is whether a field counts, not whether plans are the best."""
    with made_at_once():
        yield


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the files that a field may name."""
    found = tmp_path_factory.mktemp("effect")
    for name, size in (("small", 100.0), ("large", 200.0)):
        trimesh.creation.box((size, size, size)).export(found / f"{name}.stl")
    for name, temperature in (("warm", 22), ("cold", 11)):
        hours = [f"2027-{month:02}-{day:02} {hour:02}:00,{temperature},50"
                 for month in (2, 3) for day in range(1, 29) for hour in range(24)]  # fmt: skip
        (found / f"{name}.csv").write_text("\n".join(["time,temperature,humidity", *hours]), encoding="utf-8")
    for name, gravity in (("my-records", 0.6), ("other-records", 0.4)):
        (found / name).mkdir()
        record = {"yard-ash": {"like": "ash", "title": "Ash of the yard", "specific-gravity": gravity}}
        (found / name / "timbers.yaml").write_text(json.dumps(record), encoding="utf-8")
    return found


def reckoned(stage: Stage, piece: Path, shop: Path) -> Any:
    """Return what a stage comes to, as other programs and people get it; what refuses the piece is an answer too."""
    if stage == "check":
        return [(problem.name, problem.wrong, problem.expected) for problem in found_in(piece, shop, START).problems]
    plan = finplan.plan(piece, shop=shop, start=START)
    if stage != "data":  # which alone tells how late it may begin and how soon it could be ready
        plan = Plan(plan.pieces, plan.now, wishes=replace(plan.wishes, answers=False))
    return json.loads(json.dumps(plain_data(REACHED[stage](plan)), default=str))


_RECKONED: dict[tuple[Stage, str, str], Any] = {}


def reckoned_once(stage: Stage, piece: Path, shop: Path) -> Any:
    """Return the same; what two fields have in common, mostly that there is none, is reckoned once."""
    told = stage, piece.read_text(encoding="utf-8"), shop.read_text(encoding="utf-8")
    if told not in _RECKONED:
        _RECKONED[told] = reckoned(stage, piece, shop)
    return _RECKONED[told]


def _systems(plan: Plan) -> Any:
    return systems_data("Trial", islice(compare_systems(plan.pieces[0], now=START), 1))


REACHED: dict[Stage, Callable[[Plan], Any]] = {
    "areas": lambda plan: areas_data(plan.pieces[0].surface),
    "sanding": lambda plan: sanding_data(plan.pieces[0].sanding, dust_of(plan.pieces[0])),
    "materials": lambda plan: materials_data(plan.materials),
    "timetable": lambda plan: timetable_data(plan.timetable),
    "safety": safety_data,
    "data": lambda plan: plan.data(),
    "drawing": lambda plan: plan.pieces[0].drawings,
    "sheet": lambda plan: plan.html(),
    "tags": lambda plan: sheets_html(tag_sheets(plan, plan.shop.labels)),
    "systems": _systems,
    "quote": quote_data,
}


def test_every_field_has_two_values() -> None:
    """A new field fails here until somebody says what it changes."""
    fields = {(topic.name, field.name) for topic in topics() for field in described(topic)}
    assert sorted(fields - set(ALL_TRIED)) == []
    assert sorted(set(ALL_TRIED) - fields) == []


@pytest.mark.parametrize("stage", ["check", *REACHED])
def test_the_same_files_come_to_the_same(stage: Stage, folder: Path) -> None:
    """Else the test below could not fail."""
    files = written(folder, {}, Tried(stage, {}, {}), "piece")
    assert reckoned(stage, *files) == reckoned(stage, *files)


@pytest.mark.parametrize(("topic", "field"), [pytest.param(*one, id="/".join(one)) for one in ALL_TRIED])
def test_a_field_changes_what_is_told(topic: str, field: str, folder: Path) -> None:
    tried: Tried = TRIED[topic][field]
    first, second = (
        reckoned_once(tried.stage, *written(folder, patch, tried, topic)) for patch in (tried.first, tried.second)
    )
    assert first != second, f"{topic}/{field} changes nothing in {tried.stage}"
