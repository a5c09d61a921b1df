"""What the events of the calendar say, and when they ring; and their times in plans across a change of summer time."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from dateutil.tz import tzical

from finplan.calendar import plan_calendar
from finplan.planning import Plan, Wishes, read_sources, with_stages
from finplan.safety import Duty, NoClothLeft
from tests.calendar.named import named
from tests.plans import make_plan

NOW = datetime(2027, 2, 1, 8, tzinfo=UTC)
LEG = """\
piece: Shelf legs
lengths: mm
timber: beech
system: shellac
parts:
  leg: {shape: square-leg, side: 40, length: 700, count: 4}
"""
TRAY = """\
piece: Tray
lengths: mm
timber: white-oak
system: oil-varnish-blend
parts:
  tray: {shape: board, length: 500, width: 300, thickness: 12}
"""
DOOR = """\
piece: Door
lengths: mm
timber: beech
system: polyurethane-2k
parts:
  door: {shape: board, length: 700, width: 450, thickness: 22}
"""
TWO_SYSTEMS = """\
piece: Table of two finishes
lengths: mm
timber: beech
system: polyurethane-2k
parts:
  top: {shape: rectangle, length: 900, width: 500, thickness: 25}
  leg: {shape: square-leg, side: 50, length: 700, count: 4, system: hardwax-oil}
"""
READ = "spray-without-booth: I have read the local code\n"
LABEL = "overrides: {finishes: {oil-varnish-blend: {recoat-limit: 76/120/168 h}}}\n"  # so that it closes by day


def plan_of(folder: Path, *pieces: str, zone: str = "Europe/London", now: datetime = NOW) -> Plan:
    files = [folder / f"piece-{number}.yaml" for number, _ in enumerate(pieces)]
    for file, text in zip(files, pieces, strict=True):
        file.write_text(text, encoding="utf-8")
    shop = f"shop: Copper Beech joinery\n{READ}time-zone: {zone}\n{LABEL}"
    (folder / "shop.yaml").write_text(shop, encoding="utf-8")
    return make_plan(read_sources(files, folder / "shop.yaml"), now=now, wishes=Wishes(answers=False))


def events(plan: Plan) -> list[icalendar.Event]:
    return icalendar.Calendar.from_ical(plan_calendar(plan, NOW)).events


def said(plan: Plan) -> dict[str, str]:
    return {named(event): str(event.get("description", "")) for event in events(plan)}


def clock(moment: datetime) -> str:
    return f"{moment:%a} {moment.day} {moment:%b %H:%M}"


@pytest.fixture(scope="module")
def tray(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Three coats of a blend, the second put on the first without abrading."""
    return plan_of(tmp_path_factory.mktemp("tray"), TRAY)


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A door coated first on its back, then on its front."""
    return plan_of(tmp_path_factory.mktemp("door"), DOOR)


@pytest.fixture(scope="module")
def two_systems(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A lacquered top on oiled legs."""
    return plan_of(tmp_path_factory.mktemp("two-systems"), TWO_SYSTEMS)


def test_a_finish_is_not_blamed_for_what_another_brings(two_systems: Plan, tmp_path: Path) -> None:
    """Isocyanate is in the lacquer; the oil has none, and is told of it only where it goes on beside wet lacquer."""
    isocyanate = next(line for line in two_systems.cautions if line.code == "isocyanate-mask")
    lacquered = [words for summary, words in said(two_systems).items() if re.fullmatch(r"top: coat \d", summary)]
    assert len(lacquered) >= 2
    assert all(isocyanate.text in words for words in lacquered)
    weeks_later = TRAY.replace("timber", "deliver: 2027-04-30 12:00\ntimber")
    apart = plan_of(tmp_path, DOOR.replace("timber", "deliver: 2027-03-12 12:00\ntimber"), weeks_later)
    for plan, item, beside in ((two_systems, "leg", True), (apart, "tray", False)):
        attended = [row for row in plan.timetable.steps if row.kind == "attended" and row.item == item]
        oiled = [row for row in attended if row.deed in ("coat", "clean-up")]
        told = [words for summary, words in said(plan).items() if re.search(rf"{item}: (clean up|coat \d$)", summary)]
        assert len(told) >= 4
        wet = {row for report in plan.safety.sessions if report.session.isocyanate for row in report.steps}
        assert wet
        assert {row.id in wet for row in oiled} == {beside}
        assert {isocyanate.title in words for words in told} == {beside}


def test_dust_of_an_oil_is_told_where_it_is_abraded(two_systems: Plan) -> None:
    dust = next(line for line in two_systems.cautions if line.code == "oily-dust")
    told = said(two_systems)
    assert dust.text in told["leg: abrade P320"]
    assert dust.text not in told["top: abrade P320"]


def test_a_coat_that_is_rubbed_out_cures_first(tmp_path: Path) -> None:
    """The wax comes after rubbing out, days later, not when another coat of shellac could go on."""
    plan = plan_of(tmp_path, LEG)
    dries = [row for row in plan.timetable.steps if row.kind == "drying"]
    cured = next(row.end for row in dries if row.step == "coat 4 dries")
    told = said(plan)
    assert f"Rub out P600 not before {clock(cured)}, when it has cured." in told["leg: coat 4"]
    assert "Next coat" not in told["leg: coat 4"]
    assert "Next coat not before" in told["leg: coat 3"]


def test_the_sides_of_a_coat(door: Plan) -> None:
    rows = {row.id: row for row in door.timetable.steps}
    first = next(row for row in door.timetable.steps if row.id.endswith("/first-side"))
    second = rows[first.id.replace("/first-side", "/second-side")]
    assert second.next_from is not None
    assert second.handle_from is not None
    opens = max(second.next_from, second.handle_from)  # it is turned over once more
    told = said(door)
    assert f"not before {clock(second.start)}" in told[f"door: {first.step}"]
    assert f"Next coat not before {clock(opens)}" in told[f"door: {second.step}"]
    for row in (first, second):
        measured = door.materials.measured_at(row.of_step or "", row.side)
        assert measured is not None
        poured = f"pour out {measured.mix.decant.volume_ml:.0f} ml, up to {measured.mix.up_to_ml:.0f} ml"
        assert poured in told[f"door: {row.step}"]


def test_the_grits_of_bare_wood(tray: Plan) -> None:
    (group, *_) = tray.pieces[0].sanding.groups
    assert ", ".join(step.grit for step in group.steps) in said(tray)["tray: sand bare wood"]


def test_a_window_that_closes_rings_while_there_is_time(tray: Plan) -> None:
    """Only after coat 1, on which coat 2 goes without abrading; two hours before, and by day. By hand."""
    closes = next(row.next_until for row in tray.timetable.steps if row.next_until is not None)
    assert closes is not None
    assert 10 <= closes.hour < 17, "so that two hours before is by day"
    found = [
        (named(event), str(alarm["description"]), alarm.decoded("trigger"))
        for event in events(tray)
        for alarm in event.walk("VALARM")
        if "next coat" in str(alarm["description"])
    ]
    ((summary, words, trigger),) = found
    assert summary == "tray: coat 1 dries"
    assert words == f"If the next coat is not on yet: not after {clock(closes)}, or abrade first."
    assert trigger == closes.replace(hour=closes.hour - 2).astimezone(UTC)
    assert b"TRIGGER;VALUE=DATE-TIME:" in plan_calendar(tray, NOW).replace(b"\r\n ", b"")


def test_the_end_of_a_day_rings_once_though_two_stop_together(tray: Plan) -> None:
    row = next(row for row in tray.timetable.steps if row.kind == "attended")
    other = replace(row, id="tray/other", person="Somebody else")
    timetable = replace(tray.timetable, steps=(row, other))
    care = replace(tray.precautions, ticks=(Duty(row.end, None, NoClothLeft(3, 1500.0)),))
    found = events(with_stages(tray, timetable=timetable, precautions=care))
    assert sum(len(event.walk("VALARM")) for event in found) == 1
    assert sum("none is left in the shop" in str(event.get("description", "")) for event in found) == 1


@pytest.mark.parametrize(
    "name",
    ["Łódź, Čapek; 東京", "Tray for \U0001f469\u200d\U0001f527", "1\u00a0× tray", "<b>tray</b> \\n & “more”"],
)
def test_names_arrive_as_they_are(name: str, tray: Plan) -> None:
    steps = (replace(tray.timetable.steps[0], item=name, of_step=None),)
    read = vobject.readOne(
        plan_calendar(with_stages(tray, timetable=replace(tray.timetable, steps=steps)), NOW).decode()
    )
    assert read.vevent_list[0].summary.value == f"1. {name}: {steps[0].step}"


def test_two_pieces_of_one_name_keep_apart(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, TRAY, TRAY)
    found = events(plan)
    assert len({str(event["uid"]) for event in found}) == len(found)
    coats = [named(event) for event in found if named(event).endswith("tray: coat 1")]
    assert sorted(coats) == ["Tray (piece-0), tray: coat 1", "Tray (piece-1), tray: coat 1"]


@pytest.mark.parametrize(
    ("zone", "deliver", "offsets_h"),
    [
        # Clocks change on the last Sundays of March and October (Directive 2000/84/EC), and on the second of March
        # (15 U.S.C. 260a): by a calendar 28 March, 31 October and 14 March 2027.
        ("Europe/London", "2027-03-29 12:00", (0, 1)),
        ("Europe/London", "2027-11-01 12:00", (1, 0)),
        ("America/New_York", "2027-03-15 12:00", (-5, -4)),
    ],
)
def test_the_instants_of_a_plan_across_a_change(
    zone: str, deliver: str, offsets_h: tuple[int, int], tmp_path: Path
) -> None:
    """By the zone in the file alone, and by another reader, they are those of the timetable."""
    due = datetime.strptime(deliver, "%Y-%m-%d %H:%M").replace(tzinfo=ZoneInfo(zone))
    start = due.replace(day=1, hour=8) if due.day > 10 else due.replace(month=due.month - 1, day=11, hour=8)
    piece = TRAY.replace("timber:", f"deliver: {deliver}\ntimber:")
    plan = plan_of(tmp_path, piece, zone=zone, now=start.astimezone(UTC))
    rows = plan.timetable.steps
    offsets = [moment.utcoffset() for moment in (rows[0].start, due)]
    assert tuple(None if one is None else one.total_seconds() / 3600 for one in offsets) == offsets_h
    planned = {(row.start.astimezone(UTC), row.end.astimezone(UTC)) for row in rows}

    text = plan_calendar(plan, start).decode()
    read = vobject.readOne(text)
    times = [(one.dtstart.value.astimezone(UTC), one.dtend.value.astimezone(UTC)) for one in read.vevent_list]
    assert planned <= set(times)

    component = re.search(r"BEGIN:VTIMEZONE.*?END:VTIMEZONE\r\n", text, flags=re.DOTALL)
    assert component is not None
    alone = tzical(io.StringIO(component.group())).get(zone)
    walls = [re.findall(rf"{name};TZID={zone}:(\w+)", text) for name in ("DTSTART", "DTEND")]
    by_file = {
        tuple(datetime.strptime(wall, "%Y%m%dT%H%M%S").replace(tzinfo=alone).astimezone(UTC) for wall in pair)
        for pair in zip(*walls, strict=True)
    }
    assert planned <= by_file


def test_the_names_of_several_pieces_are_one_text(tmp_path: Path) -> None:
    """A comma and a semicolon are escaped in a text (RFC 5545, section 3.3.11), and NAME is one (RFC 7986, 5.1)."""
    data = plan_calendar(plan_of(tmp_path, LEG.replace("Shelf legs", "Legs; tall"), TRAY), NOW)
    (line,) = (line for line in data.split(b"\r\n") if line.startswith(b"NAME:"))
    assert line == b"NAME:Legs\\; tall\\, Tray"
