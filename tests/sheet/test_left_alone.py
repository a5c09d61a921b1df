"""Nothing wet is touched, turned or moved before its printed time, whatever the system and the shop."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from finplan.moments import not_before, show_moment
from finplan.planning import Plan
from finplan.tags import tags
from finplan.timetable import TimetableStep, following
from tests.safety.grid import Cell, plan_of, sample
from tests.sheet.changed import with_steps
from tests.sheet.left_alone import coats_of, in_calendar, in_days, on_tags, touched_too_early

BOOTH = "a large room with a fan"
"""The shop that has one; the others are refused what has to be sprayed in it."""
SPRAYED = ("lacquer", "catalysed-lacquer", "polyurethane-2k")
CELLS = [replace(cell, shop=BOOTH) if cell.system in SPRAYED else cell for cell in sample()]
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
