"""How much is left between ready and delivery, where the shop says how much and where it does not."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

import finplan
from finplan.catalogue import bundled_catalogue
from finplan.inputs import default_shop
from finplan.planning import Wishes
from finplan.scheduling import LargestSlack, Objective
from finplan.timetable.buffer import buffer_wanted, working_day_h
from finplan.timetable.found import Found
from finplan.timetable.search import Search
from tests.timetable.shops import ONE_PERSON, plan, read, shelf

DEFAULT = default_shop().shop
RULE = bundled_catalogue().time_in_hand["common"]


def test_a_shop_that_says_nothing_wants_a_working_day_a_week_of_plan() -> None:
    # The default shop works 8 h a day: at least half a day, and of a plan of two weeks two days.
    assert DEFAULT.buffer_h is None
    assert buffer_wanted(DEFAULT, 24.0, RULE).wanted_h == 4.0
    assert buffer_wanted(DEFAULT, 14 * 24.0, RULE).wanted_h == pytest.approx(16.0)
    assert buffer_wanted(DEFAULT, 24.0, RULE).working


def test_the_buffer_of_the_shop_is_of_clock_hours() -> None:
    shop = DEFAULT.model_copy(update={"buffer_h": 24.0})
    assert buffer_wanted(shop, 14 * 24.0, RULE).wanted_h == 24.0
    assert not buffer_wanted(shop, 0.0, RULE).working


def test_a_working_day_counts_people_who_work_at_the_same_time_once(tmp_path: Path) -> None:
    # 8.5 h on four days and 5 h on the fifth.
    (piece,) = read(tmp_path, [shelf()], ONE_PERSON)
    assert working_day_h(piece.source.shop) == pytest.approx((4 * 8.5 + 5) / 5)
    two = ONE_PERSON.replace("people:\n", "people:\n  - {name: Tam, hours: {mon: 9:00-11:00, sat: 8:00-9:00}}\n")
    (piece,) = read(tmp_path, [shelf()], two)
    assert working_day_h(piece.source.shop) == pytest.approx((4 * 8.5 + 5 + 1) / 6)


@pytest.mark.parametrize("buffer", ["0 h", "10 h", "1 d", "3 d"])
def test_the_buffer_wanted_is_kept(buffer: str, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("soap")], ONE_PERSON + f"buffer: {buffer}\n")
    timetable = plan(pieces, "2027-03-26").timetable
    number, unit = buffer.split()
    wanted_h = float(number) * (24 if unit == "d" else 1)
    assert timetable.buffer_wanted_h == wanted_h
    assert timetable.buffer_h is not None
    assert timetable.buffer_h >= wanted_h
    assert not timetable.short_of_buffer


def test_a_buffer_proven_to_be_the_largest_is_looked_for_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a shelf is ready five hours before its date at best, which is not sure, no larger buffer is looked for."""
    pieces = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON + "buffer: 3 d\n")
    soonest = plan(pieces, None).timetable.ready
    assert soonest is not None
    searched: list[Objective] = []

    def told(self: Search, windows: Any, buffer: Any, objectives: Sequence[Objective], **asked: Any) -> Found | None:
        searched.extend(objectives)
        return solved(self, windows, buffer, objectives, **asked)

    solved = Search.solved
    monkeypatch.setattr(Search, "solved", told)
    found = plan(pieces, f"{soonest + timedelta(hours=5):%Y-%m-%d %H:%M}").timetable
    assert found.unsure
    assert sum(isinstance(objective, LargestSlack) for objective in searched) == 1


def test_where_the_buffer_cannot_be_kept_as_much_as_can_be_is(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("soap")], ONE_PERSON + "buffer: 3 d\n")
    soonest = plan(pieces, None).timetable.ready
    assert soonest is not None
    deliver = f"{soonest + timedelta(hours=5):%Y-%m-%d %H:%M}"
    timetable = plan(pieces, deliver).timetable
    assert timetable.buffer_h == 5.0
    assert timetable.short_of_buffer
    assert timetable.ready == soonest


def test_no_more_is_left_than_wanted_unless_asked(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("soap")], ONE_PERSON + "buffer: 1 d\n")
    usual, largest = (
        plan(pieces, "2027-03-26", wishes=Wishes(answers=False, largest_buffer=largest)).timetable
        for largest in (False, True)
    )
    soonest = plan(pieces, None).timetable.ready
    assert usual.start is not None
    assert largest.start is not None
    assert largest.ready == soonest
    assert usual.start - largest.start > timedelta(days=14)


@pytest.mark.parametrize("day", [24, 25, 26])
def test_work_begins_no_sooner_than_what_is_sure_and_leaves_the_buffer(day: int) -> None:
    # How sure a plan is jumps with hours and Sundays: moving the date up had left the later plan out, which leaves the
    # buffer and is sure enough, and was told as the latest start beside a sooner one. Invented.
    stool = f"""\
piece: Stool
timber: white-oak
system: hardwax-oil
deliver: 2027-03-{day} 15:00
parts:
  seat: {{shape: rectangle, length: 440 mm, width: 400 mm, thickness: 22 mm}}
  leg: {{shape: square-leg, side: 40 mm, length: 430 mm, count: 2}}
"""
    shop = """\
shop: Slate Lane loft
people:
  - {name: Orla, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 18 degC, humidity: 50 %}
  night: {temperature: 11 degC, humidity: 62 %}
"""
    timetable = finplan.plan(finplan.read(stool, shop=finplan.read_shop(shop)), start="2027-03-01").timetable
    assert timetable.start == timetable.latest_safe_start
    assert not timetable.short_of_buffer
    assert timetable.in_time_probability is not None
    assert timetable.in_time_probability >= 0.9
