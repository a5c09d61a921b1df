"""Nothing wet is touched, turned or moved before its printed time, whatever the system and the shop."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.moments import not_before, show_moment
from finplan.planning import Plan, Wishes, read_source
from finplan.sheet.days import working_days
from finplan.tags import tags
from finplan.timetable import TimetableStep, following
from tests.planned_once import made_at_once
from tests.plans import make_plan
from tests.safety.grid import Cell, plan_of, sample
from tests.sheet.changed import with_steps
from tests.sheet.left_alone import coats_of, in_calendar, in_days, on_tags, sent_too_early, touched_too_early

BOOTH = "a large room with a fan"
"""The shop that has one; the others are refused what has to be sprayed in it."""
SPRAYED = ("lacquer", "catalysed-lacquer", "polyurethane-2k")
CELLS = [replace(cell, shop=BOOTH) if cell.system in SPRAYED else cell for cell in sample()]
TWO_DOORS = """\
piece: Two heron doors
lengths: mm
timber: ash
system: waterborne-polyurethane
deliver: 2027-10-08
set: 2
parts:
  door: {shape: board, width: 700, length: 1700, thickness: 30}
"""
TWO_PEOPLE = """\
shop: Two at doors
time-zone: Europe/Paris
people:
  - {name: Orla, hours: {mon-fri: [8:30-12:30, 14:00-18:00]}}
  - {name: Nils, hours: {mon-thu: [9:00-12:00, 13:30-17:30]}}
"""
HANDLED = [
    Cell("linseed-oil", "stool", "a small room"),
    Cell("hardwax-oil-2k", "stool", "a small room"),
    Cell("waterborne-polyurethane", "stool", BOOTH),
    Cell("polyurethane-2k", "stool", BOOTH),
    Cell("catalysed-lacquer", "stool", BOOTH),
]


@pytest.mark.parametrize("cell", CELLS, ids=str)
def test_nothing_is_touched_before_its_printed_time(cell: Cell, tmp_path: Path) -> None:
    plan = plan_of(cell, tmp_path)
    coats = {row.id for row in coats_of(plan)}
    assert coats
    for told in (on_tags, in_days, in_calendar):
        assert {one.row.id for one in told(plan)} == coats, told
    assert touched_too_early(plan) == []


def test_items_of_a_set_that_are_turned_in_turn_are_told_so(tmp_path: Path) -> None:
    """Two doors that share a row: the first is turned over before the second is fit to handle."""
    (tmp_path / "doors.yaml").write_text(TWO_DOORS, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(TWO_PEOPLE, encoding="utf-8")
    source = read_source(tmp_path / "doors.yaml", tmp_path / "shop.yaml")
    with made_at_once():
        plan = make_plan([source], now=datetime(2027, 9, 20, tzinfo=UTC), wishes=Wishes(answers=False))
    rows = [row for day in working_days(plan) for row in day.rows if row.label.endswith(", back")]
    assert "door 1 and 2" in {row.item for row in rows}  # but where cartridges are changed between the two
    in_turn = [row.window for row in rows if "one after the other" in row.window]
    assert in_turn
    assert all(re.search("; turn each then, from .*, for coat [123], front and edges", window) for window in in_turn)
    assert sent_too_early(row.window for row in rows) == []
    assert sent_too_early(["Fit to handle Thu 23 Sep 16:45: turn it over then; next: Thu 23 Sep 16:25 coat 1, front."])


@pytest.mark.parametrize("cell", HANDLED, ids=str)
def test_after_the_last_coat_it_is_fit_to_handle_first(cell: Cell, tmp_path: Path) -> None:
    """Tag, day and calendar tell of a last coat when the plan has it fit to handle, not when it may be recoated."""
    plan = plan_of(cell, tmp_path)
    last = last_coats(plan)
    for told in (on_tags, in_days, in_calendar):
        moments = {one.row.id: one.until for one in told(plan) if one.row.id in last}
        assert moments == {row.id: not_before(row.handle_from) for row in last.values() if row.handle_from}
        assert len(moments) == len(last)


def test_a_recoat_time_told_after_the_last_coat_would_be_found(tmp_path: Path) -> None:
    """Oil with a hardener is fit to handle long before another coat would bond."""
    plan = plan_of(HANDLED[1], tmp_path)
    last = last_coats(plan)
    steps = [replace(row, alone_until=row.next_from) if row.id in last else row for row in plan.timetable.steps]
    assert any(found.startswith("tag") for found in touched_too_early(with_steps(plan, steps)))


def test_a_tag_of_what_cures_before_it_is_rubbed_out(tmp_path: Path) -> None:
    """It is not touched when another coat could go on, but when it has cured."""
    plan = plan_of(Cell("shellac", "shelf", "a large room with a fan"), tmp_path)
    rubbing = next(row for row in plan.timetable.steps if row.deed == "rub-out")
    cured = [row for row in coats_of(plan) if row.alone_until and row.next_from and row.alone_until > row.next_from]
    assert cured
    (tag, *_) = (tag for tag in reversed(tags(plan)) if "Coat 4" in tag.coat)
    assert tag.moment == show_moment(not_before(max(row.alone_until for row in cured if row.alone_until)))
    assert tag.then == f"Then {rubbing.step}, {show_moment(rubbing.start)}."


def last_coats(plan: Plan) -> dict[str, TimetableStep]:
    steps = {step.id: (one, step) for one in plan.treatments for step in one.steps}
    return {row.id: row for row in coats_of(plan) if following(*steps[row.of_step or ""]) == "nothing"}
