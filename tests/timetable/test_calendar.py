"""When people work: nights, clock changes, holidays, the end of the year and weeks of closure."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Person, Shop, default_shop
from finplan.timetable.calendar import (
    Stretch,
    WorkingCalendar,
    shift_day,
    wall_clock,
    working_calendar,
    working_hours_between,
)

CATALOGUE = bundled_catalogue()
LONDON = ZoneInfo("Europe/London")
DEFAULT = default_shop().shop


def shop(hours: dict[str, Any], **fields: Any) -> Shop:
    person = Person.model_validate({"name": "Ines", "hours": hours})
    return DEFAULT.model_copy(update={"time_zone": LONDON, "people": (person,), **fields})


def calendar(where: Shop, start: datetime, days: int) -> WorkingCalendar:
    return working_calendar(where, where.people[0], start, days)


def told(where: Shop, start: datetime, days: int) -> list[str]:
    """The stretches within the days, by the clock on the wall."""
    stretches = calendar(where, start, days).stretches
    return [
        f"{wall_clock(start, one.start_min, LONDON):%d %H:%M}-{wall_clock(start, one.end_min, LONDON):%d %H:%M}"
        for one in stretches
        if one.start_min < days * 24 * 60
    ]


# The clock in London goes forward on 28 March 2027 and back on 31 October, both Sundays, at 1:00 universal time.


@pytest.mark.parametrize(
    ("day", "hours_long"),
    [(date(2027, 3, 20), 8), (date(2027, 3, 27), 7), (date(2027, 10, 30), 9), (date(2027, 11, 6), 8)],
)
def test_a_night_shift_is_as_long_as_the_night(day: date, hours_long: int) -> None:
    start = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
    (night,) = calendar(shop({"sat": "22:00-6:00"}), start, 1).stretches
    assert (night.end_min - night.start_min) / 60 == hours_long
    assert f"{wall_clock(start, night.start_min, LONDON):%H:%M}" == "22:00"
    assert f"{wall_clock(start, night.end_min, LONDON):%H:%M}" == "06:00"


def test_the_morning_after_a_clock_change_begins_by_the_wall() -> None:
    for start in (datetime(2027, 3, 26, tzinfo=UTC), datetime(2027, 10, 29, tzinfo=UTC)):
        times = told(shop({"mon-sun": "8:00-12:00"}), start, 4)
        assert [time[3:8] for time in times] == ["08:00"] * 4
        assert [time[12:] for time in times] == ["12:00"] * 4


def test_a_shift_in_the_hour_that_is_skipped() -> None:
    # From 1:15 to 1:45 there is nothing on 28 March to work in by the clock; what is worked is not less than nothing.
    stretches = calendar(shop({"sun": "1:15-2:00"}), datetime(2027, 3, 27, 12, tzinfo=UTC), 1).stretches
    assert all(one.end_min > one.start_min for one in stretches)


def test_shifts_that_meet_at_midnight_are_one() -> None:
    times = told(shop({"mon": "16:00-24:00", "tue": "0:00-8:00"}), datetime(2027, 3, 1, tzinfo=UTC), 2)
    assert times == ["01 16:00-02 08:00"]


def test_a_night_shift_belongs_to_the_day_on_which_it_begins() -> None:
    where = shop({"mon-sun": "22:00-6:00"}, closed=frozenset({date(2027, 3, 2)}))
    # Tuesday is closed: Monday's night still ends on Tuesday morning, and nobody begins on Tuesday night.
    assert told(where, datetime(2027, 3, 1, 12, tzinfo=UTC), 3) == ["01 22:00-02 06:00", "03 22:00-04 06:00"]
    # In the middle of a night, what is left of it counts.
    assert told(where, datetime(2027, 3, 2, 3, tzinfo=UTC), 1) == ["02 03:00-02 06:00"]


def test_what_is_done_after_midnight_belongs_to_the_shift_that_goes_on() -> None:
    where = shop({"mon": "22:00-6:00", "tue": "22:00-24:00", "wed": "0:00-6:00"})
    monday = date(2027, 3, 1)
    for day, clock, belongs in (
        (1, time(22, 0), 1),
        (2, time(0, 0), 1),
        (2, time(5, 55), 1),
        (2, time(6, 0), 2),
        (2, time(23, 0), 2),
        (3, time(0, 0), 3),
    ):
        moment = datetime.combine(monday.replace(day=day), clock, LONDON)
        assert shift_day(where, where.people, moment).day == belongs, (day, clock)
        assert shift_day(where, where.people, moment.astimezone(UTC)).day == belongs, "by the clock of the shop"
        assert shift_day(where, (), moment).day == day, "of nobody who works then"


def test_the_end_of_the_year_with_its_holidays() -> None:
    # Scotland keeps 25 and 26 December, 1 and 2 January; in 2027 the 25th and 26th are a Saturday and a Sunday, kept on
    # Monday 27 and Tuesday 28; 1 and 2 January 2028 likewise on Monday 3 and Tuesday 4.
    # Source: the Banking and Financial Dealings Act 1971, schedule 1, and the substitute days that go with it.
    where = shop({"mon-sun": "8:00-12:00"}, holidays="GB-SCT")
    times = told(where, datetime(2027, 12, 23, tzinfo=UTC), 14)
    assert [time[:2] for time in times] == ["23", "24", "29", "30", "31", "05"]


def test_two_weeks_closed() -> None:
    closed = frozenset(date(2027, 7, 26) + timedelta(days=n) for n in range(12))
    where = shop({"mon-fri": ["8:00-12:00", "13:00-17:00"]}, closed=closed)
    start = datetime(2027, 7, 23, tzinfo=UTC)
    found = calendar(where, start, 21)
    assert [time[:2] for time in told(where, start, 21)] == ["23", "23", "09", "09", "10", "10", "11", "11", "12", "12"]
    # From the end of Friday 23 July to the Monday after the closure, 9 August, there is no work.
    friday = 17 * 60 - 60  # London is an hour ahead
    assert found.work_min(friday, 17 * 24 * 60) == 0
    assert found.work_min(friday, 17 * 24 * 60 + 7 * 60 + 1) == 1


def test_work_between_two_minutes() -> None:
    # Monday 1 March: 8 to 12 and 13 to 17.
    found = calendar(shop({"mon": ["8:00-12:00", "13:00-17:00"]}), datetime(2027, 3, 1, tzinfo=UTC), 1)
    assert found.stretches == (Stretch(480, 720), Stretch(780, 1020))
    assert found.work_min(0, 1440) == 480
    assert found.work_min(600, 840) == 180
    assert found.work_min(720, 780) == 0


def test_nobody_works() -> None:
    where = shop({"mon": "8:00-12:00"}, closed=frozenset({date(2027, 3, 1)}))
    found = calendar(where, datetime(2027, 3, 1, tzinfo=UTC), 2)
    assert found.stretches == ()


def test_hours_of_single_days_stand_in_place_of_the_week() -> None:
    """A Saturday worked, a day off, a public holiday that is worked; where the shop is closed nobody comes."""
    days = {"2027-03-06": "8:00-12:00", "2027-03-08": [], "2027-03-26": "9:00-10:00", "2027-03-10": "8:00-9:00"}
    person = Person.model_validate({"name": "Ines", "hours": {"mon-fri": "8:00-10:00"}, "days": days})
    fields = {"people": (person,), "closed": frozenset({date(2027, 3, 10)}), "holidays": "GB-ENG"}
    where = DEFAULT.model_copy(update={"time_zone": LONDON, **fields})
    start = datetime(2027, 3, 5, tzinfo=UTC)
    assert told(where, start, 8) == [
        *("05 08:00-05 10:00", "06 08:00-06 12:00", "09 08:00-09 10:00", "11 08:00-11 10:00", "12 08:00-12 10:00")
    ]
    # The 26th of March 2027 is Good Friday: gov.uk, bank holidays; named in the file it is worked.
    assert told(where, datetime(2027, 3, 25, tzinfo=UTC), 3) == ["25 08:00-25 10:00", "26 09:00-26 10:00"]


def test_hours_in_which_somebody_works_are_counted_minute_by_minute() -> None:
    """Two people who overlap, over a clock change and a closed day, against counting every minute of the wall clock."""
    people = [
        Person.model_validate({"name": "Ines", "hours": {"mon-fri": ["8:00-12:00", "12:30-17:00"]}}),
        Person.model_validate({"name": "Tam", "hours": {"tue": "9:00-13:00", "sat": "22:00-4:00"}}),
    ]
    where = DEFAULT.model_copy(
        update={"time_zone": LONDON, "people": tuple(people), "closed": frozenset({date(2027, 3, 24)})}
    )
    start, end = datetime(2027, 3, 19, 10, 20, tzinfo=UTC), datetime(2027, 3, 30, 11, 5, tzinfo=UTC)
    calendars = [working_calendar(where, person, start, 13) for person in people]
    minutes = sum(
        any(one.start_min <= minute < one.end_min for calendar in calendars for one in calendar.stretches)
        for minute in range(int((end - start).total_seconds() / 60))
    )
    assert working_hours_between(where, start, end) == pytest.approx(minutes / 60)
    assert working_hours_between(where, end, start) == 0
    # By hand: a week from Monday to Monday has five days of 8 h 30 min, half an hour of Tuesday's dinner, and a night.
    week = DEFAULT.model_copy(update={"time_zone": LONDON, "people": tuple(people)})
    monday = datetime(2027, 3, 1, tzinfo=UTC)
    assert working_hours_between(week, monday, monday + timedelta(days=7)) == pytest.approx(5 * 8.5 + 0.5 + 6)
