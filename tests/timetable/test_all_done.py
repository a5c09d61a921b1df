"""With everything done nothing is left, and a piece is ready when it was to be."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import Wishes
from finplan.timetable import all_operations
from tests.timetable.shops import NIGHT_SHIFT, NOW, ONE_PERSON, TWO_PEOPLE, plan, read, shelf

SHOPS = {"one person": ONE_PERSON, "two people": TWO_PEOPLE, "nights": NIGHT_SHIFT}
PIECES = {
    "one": [shelf("hardwax-oil")],
    "several": [shelf("wax"), shelf("shellac", 2)],
    "three": [shelf("wax"), shelf("wax"), shelf("wax")],
}

DATE = "2027-04-09 17:00"
ASKED = [(True, DATE, 1), (False, DATE, 1), (False, None, 720)]
"""Whether as early as can be, the date, and how long after the last of it one asks; after 720 min nobody is there."""


@pytest.mark.parametrize(("asap", "date", "after_min"), ASKED)
@pytest.mark.parametrize("shop", SHOPS)
@pytest.mark.parametrize("pieces", PIECES)
def test_everything_done_gives_ready(
    pieces: str, shop: str, asap: bool, date: str | None, after_min: int, tmp_path: Path
) -> None:
    found = read(tmp_path, PIECES[pieces], SHOPS[shop])
    planned = plan(found, date, wishes=Wishes(answers=False, asap=asap)).timetable
    ends: dict[str, datetime] = {}
    for row in planned.steps:
        if row.kind == "attended":
            ends[row.id] = max(row.end, ends.get(row.id, row.end))
    done = {one.id: ends[one.id] for piece in found for one in all_operations(piece.operations) if one.id in ends}
    later = max(done.values()) + timedelta(minutes=after_min)
    over = plan(found, date, now=max(NOW, later), wishes=Wishes(answers=False, done=done)).timetable
    assert over.status == "optimal"
    assert [row for row in over.steps if row.kind == "attended"] == []
    assert [piece.ready for piece in over.pieces] == [piece.ready for piece in planned.pieces]
    assert (over.in_time_probability is None) == (date is None)
