"""A plan that keeps its dates is found where none made at once does, and the least late is searched for too long.

Three items come after a sample that is approved late; one person works in one room. That they can be in time follows
from a plan by hand: coats in turn with the sanding of the others, the last on Wednesday, two days before the delivery.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.timetable import Planner
from finplan.timetable.found import Found
from finplan.timetable.problem import Window
from finplan.timetable.search import Search
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import COOL_SHOP, NOW, read, shelf

CASKET = """\
piece: Casket
lengths: mm
timber: sapele
system: shellac
sample: approve by 2027-02-18
before: [fill-pores]
after: [hand-over]
parts:
  casket: {shape: drawer, width: 320, height: 140, depth: 240, thickness: 12, bottom: 6, veneer: 0.6 mm}
  lid:
    {shape: rectangle, length: 324, width: 244, thickness: 18, edge: bullnose, veneer: 0.6 mm,
     faces: {underside: {coats: 2}}}
  foot: {shape: disc, circumference: 120, thickness: 12, count: 4, faces: {top: {exposure: covered}}}
"""


def test_what_comes_after_a_sample_is_in_time(tmp_path: Path) -> None:
    pieces = read(tmp_path, [CASKET], COOL_SHOP)
    dates = tuple(GivenDate.parse("2027-02-18" if piece.key else "2027-02-26 12:00") for piece in pieces)
    planner = Planner(job_of(pieces, dates, datetime(2027, 1, 25, tzinfo=UTC), Wishes(answers=False)))
    made = planner._at_once.least_late(NO_BUFFER)
    assert made is not None
    assert planner.lateness(made) > 0  # else this shows nothing
    found = planner.least_late()
    assert found is not None
    assert planner.lateness(found) == 0
    assert not planner.faults


def test_where_a_date_has_passed_nothing_is_looked_for_a_year_from_now(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sample that was to be approved last year let its piece be late by a year too, which took 27 s to search."""
    pieces = read(tmp_path, [shelf(count=2, sample="approve by 2026-03-02")], COOL_SHOP)
    dates = tuple(GivenDate.parse("2026-03-02" if piece.key else "2027-04-30") for piece in pieces)
    planner = Planner(job_of(pieces, dates, NOW, Wishes(answers=False)))
    ends: list[int] = []

    def noted(self: Search, windows: Mapping[str, Window], *told: object, **named: Any) -> Found | None:
        ends.extend(window.last for window in windows.values())
        return solved(self, windows, *told, **named)  # type: ignore[arg-type]

    solved = Search.solved
    monkeypatch.setattr(Search, "solved", noted)
    found = planner.least_late()
    assert found is not None
    assert ends
    assert planner.setting.clock_of_slot(max(ends)) < datetime(2027, 5, 31, tzinfo=UTC)
    sample = next(piece for piece in planner.job.pieces if piece.key)
    due = planner.due(sample)
    assert due is not None
    assert planner.lateness(found) == planner.ready_slot(sample, found) - due > 300 * 24 * 60 // 5
