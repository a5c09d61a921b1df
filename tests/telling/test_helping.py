"""Whoever helps at a coat is told so on the front, at the day and on a page of that person's, and has what is worn."""

from __future__ import annotations

from pathlib import Path

import pytest
from icalendar import Calendar

import finplan
from finplan.calendar import plan_calendar
from finplan.planning import Plan
from finplan.sheet import OnlyDays, sheet_html
from finplan.telling import agenda_of, helps

TABLE = (Path(__file__).parents[1] / "pieces" / "long-table.yaml").read_text(encoding="utf-8")
SHOP = """\
shop: Alder Yard
holidays: GB
people:
  - {name: Osric, hours: {mon-fri: 8:00-17:00}}
  - {name: Wenna, hours: {mon-fri: 8:00-17:00}, skills: [assembly]}
climate:
  day: {from: 7:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 55 %}
"""


def planned(skills: str) -> Plan:
    piece = TABLE.replace("tinted-oil-2k", "hardwax-oil").replace("length: 2400", "length: 3400")
    return finplan.plan(piece, shop=SHOP.replace("assembly", skills), start="2027-03-01 06:00")


@pytest.fixture(scope="module")
def helped() -> Plan:
    return planned("coating")


def test_nobody_helps_who_cannot_coat() -> None:
    assert helps(planned("assembly")) == ()


def test_who_helps_is_told_on_the_front_and_at_the_day(helped: Plan) -> None:
    found = helps(helped)
    assert found
    days = {line.first: line for line in agenda_of(helped)}
    page = sheet_html(helped)
    for one in found:
        of_day = [person for person in days[one.row.start.date()].people if person.who.endswith(f" {one.person}")]
        assert any(f"Helps at step {one.row.number}" in person.jobs for person in of_day)
        assert one.words in page


def test_the_page_of_one_person_holds_the_days_on_which_that_one_helps(helped: Plan) -> None:
    own = {(row.start.date(), row.person) for row in helped.timetable.steps if row.kind == "attended"}
    for one in helps(helped):
        page = sheet_html(helped, OnlyDays(person=one.person))
        assert one.words in page
        if (one.row.start.date(), one.person) not in own:
            assert f"{one.row.person} " in page


def test_who_helps_has_what_is_worn(helped: Plan) -> None:
    worn = {one.name: one for one in helped.precautions.gear.have if one.people}
    for one in helps(helped):
        care = helped.precautions.rows[one.row.id]
        needed = [worn[name] for name in care.needs if name in worn]
        assert needed
        for had in needed:
            assert {one.person, one.row.person} <= set(had.people)


def test_who_helps_is_called_by_the_calendar(helped: Plan) -> None:
    """An event of that person's own, with what is worn."""
    events = list(Calendar.from_ical(plan_calendar(helped, helped.now)).walk("VEVENT"))
    calls = {
        (event.decoded("dtstart"), event.decoded("dtend")): event
        for event in events
        if " helps at " in str(event["summary"])
    }
    assert len({str(event["uid"]) for event in events}) == len(events)
    assert len(calls) == len(helps(helped))
    for one in helps(helped):
        event = calls[one.row.start, one.row.end]
        assert str(event["summary"]).endswith(f": {one.person} helps at {one.row.step}")
        told = str(event["description"])
        assert told.startswith(f"For {one.person}, who helps {one.row.person}.")
        assert "Wet edge: " in told
        assert "gloves" in told


def test_a_latest_start_says_that_all_hands_are_counted_on(helped: Plan) -> None:
    """Also those for whom the plan has no work; of one person alone nothing is said of others."""
    counted = "if nothing takes longer than planned and everybody who is in the shop works on it."
    assert counted in sheet_html(helped)
    alone = finplan.plan(TABLE, shop="shop: Alone\nholidays: GB\n", start="2027-03-01 06:00")
    page = sheet_html(alone)
    assert "if nothing takes longer than planned" in page
    assert counted not in page
