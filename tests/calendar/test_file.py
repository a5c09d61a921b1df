"""The calendar file, read by another library than the one that writes it, and by the time zone in it alone."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from dateutil.tz import tzical
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finplan.calendar import plan_calendar
from finplan.calendar.time_zone import time_zone
from finplan.planning import Plan, Wishes, read_sources, with_stages
from finplan.telling import duty_words
from tests.calendar.named import named
from tests.plans import make_plan

MADE = datetime(2027, 3, 1, 8, tzinfo=UTC)
TRAY = """\
piece: Tray, small
lengths: mm
timber: beech
system: {system}
deliver: 2027-04-02 12:00
parts:
  top: {{shape: board, length: 500, width: 300, thickness: 12}}
"""
SHOP = "shop: Copper Beech joinery\ntime-zone: Europe/London\n"


def plan_of(
    folder: Path, *systems: str, zone: str = "Europe/London", start: datetime = MADE, asap: bool = False
) -> Plan:
    files = []
    for number, system in enumerate(systems, 1):
        files.append(folder / f"tray{number}.yaml")
        files[-1].write_text(TRAY.format(system=system).replace("small", f"no {number}"), encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    return make_plan(read_sources(files, folder / "shop.yaml"), now=MADE, wishes=Wishes(answers=False, asap=asap))


@pytest.fixture(scope="module")
def tray(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A tray delivered just after the clocks go forward."""
    return plan_of(tmp_path_factory.mktemp("tray"), "hardwax-oil")


@pytest.fixture(scope="module")
def trays(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The same tray with another of its kind."""
    return plan_of(tmp_path_factory.mktemp("trays"), "hardwax-oil", "wax")


def events(plan: Plan) -> list[icalendar.Component]:
    return list(icalendar.Calendar.from_ical(plan_calendar(plan, MADE)).walk("VEVENT"))


def uids(plan: Plan) -> dict[str, datetime]:
    return {str(event["uid"]): event.decoded("dtstart").astimezone(UTC) for event in events(plan)}


def test_every_stretch_is_an_event_at_its_time_for_another_reader(trays: Plan) -> None:
    read = vobject.readOne(plan_calendar(trays, MADE).decode())
    found = sorted((e.dtstart.value.astimezone(UTC), e.dtend.value.astimezone(UTC)) for e in read.vevent_list)
    planned = [(step.start.astimezone(UTC), step.end.astimezone(UTC)) for step in trays.timetable.steps]
    dates = [moment for one in trays.timetable.pieces for moment in (one.ready, one.deliver) if moment is not None]
    planned += [(moment.astimezone(UTC), moment.astimezone(UTC) + timedelta(minutes=15)) for moment in dates]
    assert found == sorted(planned)


def test_a_changed_plan_moves_the_events(tray: Plan, tmp_path: Path) -> None:
    """The same identifiers at other times: RFC 5545, section 3.8.4.7."""
    sooner = plan_of(tmp_path, "hardwax-oil", asap=True)
    before, after = uids(tray), uids(sooner)
    assert set(before) == set(after)
    deliveries = sum(one.deliver is not None for one in tray.timetable.pieces)
    assert sum(before[uid] != after[uid] for uid in before) == len(before) - deliveries


def test_a_piece_keeps_its_events_when_others_are_planned_beside_it(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "both").mkdir()
    alone, both = plan_of(tmp_path / "one", "hardwax-oil"), plan_of(tmp_path / "both", "hardwax-oil", "wax")
    lost = set(uids(alone)) - set(uids(both))
    cleaning = {str(event["uid"]) for event in events(alone) if "clean up" in str(event["summary"])}
    assert lost <= cleaning, "a clean-up may be shared with another piece's coat"


def test_identifiers_are_told_once(trays: Plan) -> None:
    found = [str(event["uid"]) for event in events(trays)]
    assert len(found) == len(set(found))


@pytest.mark.parametrize(
    ("zone", "change", "source"),
    [
        ("Europe/London", "2027-03-28 01:00", "last Sunday of March, 01:00 UTC: Directive 2000/84/EC"),
        ("America/New_York", "2027-03-14 07:00", "second Sunday of March, 02:00 EST: 15 U.S.C. 260a"),
    ],
)
def test_the_zone_in_the_file_is_right_across_a_change(zone: str, change: str, source: str) -> None:
    """Read by a library that knows no zone but the one in the text."""
    at = datetime.strptime(change, "%Y-%m-%d %H:%M").replace(tzinfo=UTC)
    component = time_zone(ZoneInfo(zone), at - timedelta(days=40), at + timedelta(days=300))
    read = tzical(io.StringIO(component.to_ical().decode())).get(zone)
    for hours in (-900, -30, -2, 3, 24, 2000, 5000, 7000):
        moment = at + timedelta(hours=hours)
        wall = moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
        assert wall.replace(tzinfo=read).astimezone(UTC) == moment, source
    onsets = [one.decoded("dtstart") for one in component.subcomponents]
    standard = (at - timedelta(days=1)).astimezone(ZoneInfo(zone)).utcoffset()
    assert standard is not None
    assert (at + standard).replace(tzinfo=None) in onsets, "in the local time before it: RFC 5545, section 3.6.5"


def test_times_right_across_a_change_of_summer_time(tray: Plan) -> None:
    first, last = tray.timetable.steps[0].start, tray.timetable.pieces[0].ready
    assert first.utcoffset() != last.utcoffset(), "the plan does span the change"
    text = plan_calendar(tray, MADE).decode()
    zone = re.search(r"BEGIN:VTIMEZONE.*?END:VTIMEZONE", text, flags=re.DOTALL)
    assert zone is not None
    read = tzical(io.StringIO(zone.group())).get("Europe/London")
    walls = re.findall(r"DTSTART;TZID=Europe/London:(\w+)", text)
    found = sorted(datetime.strptime(wall, "%Y%m%dT%H%M%S").replace(tzinfo=read).astimezone(UTC) for wall in walls)
    assert found == sorted(uids(tray).values())


def test_an_hour_that_comes_twice_is_given_in_universal_time(tray: Plan) -> None:
    """31 October 2027, 01:30 in London is 00:30 and then 01:30 UTC."""
    london = ZoneInfo("Europe/London")
    for fold, hour in ((0, 0), (1, 1)):
        start = datetime(2027, 10, 31, 1, 30, fold=fold, tzinfo=london)
        end = datetime(2027, 10, 31, 2, 30, tzinfo=london)
        step = replace(tray.timetable.steps[0], start=start, end=end)
        text = plan_calendar(with_stages(tray, timetable=replace(tray.timetable, steps=(step,))), MADE).decode()
        assert f"DTSTART:20271031T{hour:02d}3000Z" in text
        assert "DTEND;TZID=Europe/London:20271031T023000" in text


def test_what_the_standard_asks_of_every_event(trays: Plan) -> None:
    """RFC 5545: 3.1 lines of 75 octets that end with CRLF, 3.6.1 UID and DTSTAMP, 3.6.6 alarms."""
    data = plan_calendar(trays, MADE)
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert (data.count(b"PRODID:"), data.count(b"VERSION:2.0")) == (1, 1)
    for event in events(trays):
        assert {"uid", "dtstamp", "dtstart", "dtend", "summary", "sequence"} <= {name.lower() for name in event}
        for alarm in event.walk("VALARM"):
            assert {"action", "trigger", "description"} <= {name.lower() for name in alarm}


def test_cloths_that_heat_themselves_ring(tray: Plan) -> None:
    alarms = [str(alarm["description"]) for event in events(tray) for alarm in event.walk("VALARM")]
    assert alarms
    assert sorted(alarms) == sorted(duty_words(tick, tray) for tick in tray.precautions.ticks)


def test_the_phone_says_how_much_and_from_when(tray: Plan) -> None:
    said = {named(event): str(event.get("description", "")) for event in events(tray)}
    need_ml = tray.materials.materials[0].coats[0].needed_ml
    typical, high = (math.ceil(amount_ml / 5) * 5 for amount_ml in (need_ml.typical, need_ml.high))  # marks of a cup
    assert f"Hardwax oil: pour out {typical} ml, up to {high} ml." in said["top: coat 1"]
    assert "Next coat not before" in said["top: coat 1"]
    assert "not after" not in said["top: coat 1"], "it is abraded before the next coat anyway"
    assert "Leave it alone until" in said["top: coat 2"]


def test_same_plan_same_bytes_and_a_later_issue_counts_higher(tray: Plan) -> None:
    assert plan_calendar(tray, MADE) == plan_calendar(tray, MADE)
    assert b"SEQUENCE:1\r\n" in plan_calendar(tray, MADE)
    assert b"SEQUENCE:2\r\n" in plan_calendar(tray, MADE, issue=2)


CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")
"""What no text of a calendar may hold (RFC 5545, section 3.1), and what some readers take for the end of a line."""
HOSTILE = st.text(st.characters(codec="utf-8", categories=None), min_size=1, max_size=120)


@settings(max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=HOSTILE)
def test_names_are_words_and_nothing_else(words: str, tray: Plan) -> None:
    hostile = words + "\r\nATTACH:file:///etc/passwd"
    step = replace(tray.timetable.steps[0], item=hostile, of_step=None, room=words, person=words)
    plan = with_stages(tray, timetable=replace(tray.timetable, steps=(step,)))
    data = plan_calendar(plan, MADE)
    (event,) = (one for one in events(plan) if one.get("location") is not None)
    assert "attach" not in {name.lower() for name in event}
    assert len(data.split(b"BEGIN:VEVENT")) - 1 == len(events(plan))
    shown = CONTROL.sub(" ", words)
    assert named(event).startswith(shown)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))


def test_nothing_planned_no_calendar(tray: Plan) -> None:
    empty = with_stages(tray, timetable=replace(tray.timetable, steps=(), pieces=()))
    with pytest.raises(ValueError, match="without a step"):
        plan_calendar(empty, MADE)
