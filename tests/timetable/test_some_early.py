"""A date that is tight makes no other piece begin sooner than it has to."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from finplan.planning import Wishes, timetable_of
from finplan.reading import GivenDate
from tests.timetable.read_back import Planned
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf
from tests.timetable.verifier import broken_rules

TIGHT, CALM = GivenDate.parse("2027-03-05 20:00"), GivenDate.parse("2027-06-01")


@pytest.mark.parametrize("others", [1, 8], ids=["all in one model", "more than one model takes"])
def test_only_what_is_not_sure_begins_at_once(others: int, tmp_path: Path) -> None:
    """A shelf is ready in the night before its date at best, and not surely then; all others are due in June."""
    pieces = read(tmp_path, [shelf("hardwax-oil"), *[shelf("wax", count=3)] * others], ONE_PERSON)
    dates, wishes = (TIGHT, *[CALM] * others), Wishes(answers=False)
    found = timetable_of(pieces, dates, now=NOW, wishes=wishes, air_waits_h={})
    assert broken_rules(Planned(tuple(pieces), dates, NOW, wishes, found)) == []
    tight, *calm = found.pieces
    (soonest,) = timetable_of(pieces[:1], dates[:1], now=NOW, wishes=Wishes(asap=True), air_waits_h={}).pieces
    assert found.unsure == (tight,)
    assert tight.ready == soonest.ready
    assert all(one.start.date() > date(2027, 5, 1) for one in calm)
    wanted_h = found.buffer_wanted_h
    assert all(one.buffer_working_h is not None and one.buffer_working_h >= wanted_h - 1 / 12 for one in calm)
