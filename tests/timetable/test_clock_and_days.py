"""Plans across clock changes, the turn of the year, holidays and a closed shop."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from finplan.planning import Wishes
from finplan.timetable.rows import in_order
from tests.timetable.read_back import Planned
from tests.timetable.shops import NIGHT_SHIFT, ONE_PERSON, plan, read, shelf
from tests.timetable.verifier import broken_rules

HOUR = timedelta(hours=1)
EVERY_DAY = "{mon-sun: [8:00-12:00, 12:30-17:00]}"
SEVEN_DAYS = ONE_PERSON.replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", EVERY_DAY)
EVERY_NIGHT = NIGHT_SHIFT.replace("sun-thu", "mon-sun")


def good(planned: Planned) -> Planned:
    assert planned.timetable.status == "optimal"
    assert broken_rules(planned) == []
    return planned


def worked_days(planned: Planned) -> set[date]:
    return {row.start.date() for row in planned.timetable.steps if row.kind == "attended"}


# The clocks change on Sundays: in London on 28 March and 31 October 2027 at 1:00 universal time (Summer Time Order
# 2002), in New York on 14 March and 7 November 2027 at 2:00 by the wall (Energy Policy Act of 2005, section 110).
CHANGES = [
    ("Europe/London", date(2027, 3, 28)),
    ("Europe/London", date(2027, 10, 31)),
    ("America/New_York", date(2027, 3, 14)),
    ("America/New_York", date(2027, 11, 7)),
]


@pytest.mark.parametrize(("zone", "sunday"), CHANGES)
@pytest.mark.parametrize(
    ("shop", "system"),
    [(SEVEN_DAYS, "waterborne-polyurethane"), (EVERY_NIGHT, "hardwax-oil")],
    ids=["by day", "by night"],
)
def test_a_plan_across_a_clock_change(zone: str, sunday: date, shop: str, system: str, tmp_path: Path) -> None:
    shop = shop.replace("Europe/London", zone).replace("Europe/Berlin", zone)
    pieces = read(tmp_path, [shelf(system)], shop)
    begin = datetime(sunday.year, sunday.month, sunday.day, tzinfo=UTC)
    planned = good(plan(pieces, f"{sunday + timedelta(days=2)} 20:00", now=begin - timedelta(days=14)))
    (times,) = planned.timetable.pieces
    assert times.start.utcoffset() != times.ready.utcoffset()


@pytest.mark.parametrize(("zone", "sunday"), CHANGES)
def test_a_buffer_across_a_clock_change_is_of_true_hours(zone: str, sunday: date, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil-2k")], ONE_PERSON.replace("Europe/London", zone))
    now = datetime(sunday.year, sunday.month, sunday.day, tzinfo=UTC) - timedelta(days=14)
    planned = good(plan(pieces, f"{sunday + timedelta(days=1)} 10:00", now=now))
    (times,) = planned.timetable.pieces
    assert times.ready.date() < sunday
    assert times.deliver is not None
    assert times.buffer_h == (times.deliver.timestamp() - times.ready.timestamp()) / 3600


@pytest.mark.parametrize(("month", "true_h"), [(3, 7), (10, 9)])
def test_drying_over_the_night_of_a_clock_change(month: int, true_h: int, tmp_path: Path) -> None:
    # From 22:00 to 6:00 it is 7 h of drying in spring, 9 h in autumn. At 23 °C all night a coat that can be recoated
    # after 8 h, put on at 22:00, is not ready at 6:00 in spring and is at 5:00 by the wall in autumn.
    steady = (
        "climate:\n  day: {temperature: 23 degC, humidity: 50 %}\n  night: {temperature: 23 degC, humidity: 50 %}\n"
    )
    shop = NIGHT_SHIFT[: NIGHT_SHIFT.index("climate")].replace("Europe/Berlin", "Europe/London") + steady
    shop = shop.replace("sun-thu: 22:00-6:00", "sat: 19:00-21:00, sun: 0:00-23:00")
    shop += "overrides: {finishes: {hardwax-oil: {recoat: 8 h, touch-dry: 1 h}}}\n"
    sunday = date(2027, month, 28 if month == 3 else 31)
    now = datetime(2027, month, sunday.day - 1, 12, tzinfo=UTC)
    planned = good(plan(read(tmp_path, [shelf("hardwax-oil")], shop), None, now=now))
    first = next(row for row in planned.timetable.steps if row.id.endswith("hardwax-oil/2"))
    assert first.next_from is not None
    assert first.next_from.timestamp() - first.end.timestamp() == 8 * 3600
    by_the_wall = first.next_from.replace(tzinfo=None) - first.end.replace(tzinfo=None)
    assert by_the_wall == timedelta(hours=8 + 8 - true_h)
    next_step = next(row for row in planned.timetable.steps if row.id.endswith("hardwax-oil/3"))
    assert next_step.start == first.next_from


def test_rows_are_in_order_of_time_in_the_hour_that_comes_twice(tmp_path: Path) -> None:
    (row, *_) = plan(read(tmp_path, [shelf("wax")], ONE_PERSON), None).timetable.steps
    half_past_one = datetime(2027, 10, 31, 1, 30, tzinfo=ZoneInfo("Europe/London"))
    first, second = replace(row, start=half_past_one), replace(row, start=half_past_one.replace(minute=5, fold=1))
    assert in_order([second, first]) == (first, second)


def test_the_turn_of_the_year_in_scotland(tmp_path: Path) -> None:
    # Bank holidays of Scotland: 25 December 2026 (Friday) and the substitute for Saturday 26 (Monday 28); 1 January
    # 2027 (Friday) and the substitute for Saturday 2 (Monday 4).
    # Source: Banking and Financial Dealings Act 1971, schedule 1.
    pieces = read(tmp_path, [shelf("oil-varnish")], ONE_PERSON + "holidays: GB-SCT\n")
    planned = good(
        plan(pieces, "2027-01-15", now=datetime(2026, 12, 21, tzinfo=UTC), wishes=Wishes(asap=True, answers=False))
    )
    assert {day.year for day in worked_days(planned)} == {2026, 2027}
    assert not worked_days(planned) & {date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1), date(2027, 1, 4)}


@pytest.mark.parametrize(("country", "works"), [("DE", False), ("GB-SCT", True)])
def test_whit_monday_in_the_window(country: str, works: bool, tmp_path: Path) -> None:
    # Whit Monday, 17 May 2027 (50 days after Easter Sunday, 28 March), is a holiday in Germany and none in Scotland.
    pieces = read(
        tmp_path, [shelf("hardwax-oil", 4)], SEVEN_DAYS + f"holidays: {country}\nrack: {{places: 1, hooks: 0}}\n"
    )
    planned = good(plan(pieces, None, now=datetime(2027, 5, 14, 5, tzinfo=UTC)))
    assert (date(2027, 5, 17) in worked_days(planned)) is works


def test_a_shop_closed_for_two_weeks(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("oil-varnish")], ONE_PERSON + "closed: [2027-07-26 to 2027-08-08]\n")
    planned = good(plan(pieces, None, now=datetime(2027, 7, 21, tzinfo=UTC)))
    closed = {date(2027, 7, 26) + timedelta(days=n) for n in range(14)}
    assert not worked_days(planned) & closed
    # One coat dries over the closure.
    assert min(worked_days(planned)) < min(closed)
    assert max(worked_days(planned)) > max(closed)


def test_nothing_is_planned_before_a_start_in_the_future(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON)
    now = datetime(2027, 6, 2, 10, 3, 17, tzinfo=UTC)
    planned = good(plan(pieces, None, now=now))
    # 11:03:17 by the wall of London; the next step of the grid is 11:05.
    assert planned.timetable.start == datetime(2027, 6, 2, 11, 5, tzinfo=ZoneInfo("Europe/London"))


def test_a_night_shift_without_a_date(tmp_path: Path) -> None:
    planned = good(plan(read(tmp_path, [shelf("wax")], NIGHT_SHIFT), None))
    hours = {row.start.hour for row in planned.timetable.steps if row.kind == "attended"}
    assert hours
    assert hours <= {22, 23, 0, 1, 2, 3, 4, 5}


def test_a_date_without_a_time_is_the_end_of_work_on_that_day(tmp_path: Path) -> None:
    # The shop closes at 17:00 from Monday to Thursday and at 13:00 on Fridays; on a Sunday, as late as on any day.
    pieces = read(tmp_path, [shelf("wax")], ONE_PERSON)
    for deliver, hour in (("2027-03-12", 13), ("2027-03-11", 17), ("2027-03-14", 17)):
        timetable = good(plan(pieces, deliver)).timetable
        assert timetable.deliver is not None
        assert timetable.deliver.hour == hour


def test_several_rows_of_one_step_over_lunch(tmp_path: Path) -> None:
    # Sanding that takes longer than the hour from 11:00 goes on after lunch, as a second row of the same id.
    shop = ONE_PERSON.replace("[8:00-12:00, 12:30-17:00]", "[11:00-12:00, 13:00-14:00]")
    board = shelf("hardwax-oil").replace("length: 600, width: 200", "length: 2000, width: 900")
    planned = good(plan(read(tmp_path, [board], shop), None))
    sanding = [row for row in planned.timetable.steps if row.id.endswith("hardwax-oil/1")]
    assert len(sanding) > 1
    assert {row.person for row in sanding} == {"Wynn"}
    assert replace(sanding[0], start=sanding[1].start, end=sanding[1].end) == sanding[1]
