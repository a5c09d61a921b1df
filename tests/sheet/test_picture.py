"""The picture of the time: inside its frame, to scale, and readable from three days to half a year."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from finplan.planning import Plan, with_stages
from finplan.sheet.picture import LEAST_WORK, WIDTH, picture


def test_everything_is_inside_and_in_order(table: Plan) -> None:
    found = picture(table)
    assert found is not None
    assert [row.item for row in found.rows] == ["top", "base", "whole piece"]
    attended = [step for step in table.timetable.steps if step.kind == "attended"]
    drawn = [step for step in attended if step.deed not in ("coat", "clean-up")]
    stretches = [sum(step.item == row.item for step in drawn) for row in found.rows]
    assert [len(row.work) for row in found.rows] == stretches, "gluing up and putting together too; no cleaning up"
    for row in found.rows[:2]:
        assert len(row.coats) == 2
        assert len(row.drying) == 2
        for bar in (*row.work, *row.coats, *row.drying, *row.windows):
            assert 0 <= bar.x <= bar.end <= WIDTH + 0.2
        assert all(bar.width >= LEAST_WORK for bar in (*row.coats, *row.work))
        assert row.deliver_x is not None
        assert max(bar.end for bar in row.drying) <= row.ready_x <= row.deliver_x <= WIDTH


def test_drying_is_drawn_to_scale(table: Plan) -> None:
    """Until it is fit to handle, which is later than fit for the next coat, or until work on it begins."""
    found = picture(table)
    assert found is not None
    steps = [step for step in table.timetable.steps if step.kind == "drying" and step.item == "top"]
    row = next(row for row in found.rows if row.item == "top")
    days = (found.ticks[1].x - found.ticks[0].x) / 24
    for step, bar in zip(steps, row.drying, strict=True):
        assert step.handle_from is not None
        begun = [one.start for one in table.timetable.steps if one.item == "top" and one.start >= step.end]
        wet_until = min([max(step.end, step.handle_from), *begun])
        hours = (wet_until - step.start) / timedelta(hours=1)
        assert bar.width == pytest.approx(hours * days, abs=0.3)


def test_hatching_stays_in_its_bars(table: Plan) -> None:
    found = picture(table)
    assert found is not None
    for row in found.rows[:2]:
        lines = re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", row.hatching)
        assert lines
        for x1, y1, x2, y2 in (tuple(map(float, line)) for line in lines):
            assert any(bar.x - 0.1 <= x1 < x2 <= bar.end + 0.1 for bar in row.drying)
            assert y1 - y2 == pytest.approx(x2 - x1, abs=0.2), "at 45 degrees"


@pytest.mark.parametrize("days", [3, 8, 14, 40, 150])
def test_labels_do_not_run_into_each_other(days: int, table: Plan) -> None:
    start = table.timetable.steps[0].start
    first = [replace(step, end=min(step.end, start + timedelta(days=1))) for step in table.timetable.steps[:2]]
    deliver = start + timedelta(days=days - 1)
    times = replace(table.timetable.pieces[0], ready=deliver, deliver=deliver)
    found = picture(with_stages(table, timetable=replace(table.timetable, steps=tuple(first), pieces=(times,))))
    assert found is not None
    labelled = [tick for tick in found.ticks if tick.label]
    assert labelled
    for tick, after in pairwise(labelled):
        # A figure is 1824 of 2816 units of an em wide, a mean letter less; an em is 30.
        assert after.x - tick.x >= len(tick.label) * 0.57 * 30, tick.label


def test_no_steps_no_picture(table: Plan) -> None:
    assert picture(with_stages(table, timetable=replace(table.timetable, steps=()))) is None
