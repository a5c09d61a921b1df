"""A line a day: what is done in it, and in which order."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from icalendar import Calendar

import finplan
from finplan.calendar import plan_calendar
from finplan.cli.timetable import timetable_lines
from finplan.moments import show_moment
from finplan.planning import Plan, with_stages
from finplan.telling import agenda_of
from finplan.telling.names import places
from tests.planned_once import made_at_once

TEXT = """\
piece: Two trays
lengths: mm
timber: ash
system: waterborne-polyurethane
deliver: 2027-06-18
parts:
  tray: {shape: board, length: 400, width: 300, thickness: 12}
  foot: {shape: board, length: 300, width: 60, thickness: 20}
"""


@pytest.fixture(scope="module")
def trays() -> Plan:
    return finplan.plan(TEXT, start="2027-06-01 08:00")


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (
            [("tray", "sand"), ("tray", "coat"), ("foot", "sand"), ("foot", "coat")],
            "Sand: tray and foot. Coat: tray and foot",
        ),
        ([("tray", "coat"), ("foot", "sand"), ("foot", "coat")], "Coat: tray. Sand: foot. Coat: foot"),
        (
            [("tray", "coat"), ("tray", "rub"), ("foot", "rub"), ("foot", "coat"), ("tray", "coat")],
            "Coat: tray. Rub: tray and foot. Coat: foot and tray",
        ),
    ],
)
def test_no_item_is_told_to_be_coated_before_it_is_sanded(trays: Plan, rows: list[tuple[str, str]], told: str) -> None:
    """What is alike stands together only where each item's own jobs keep their order."""
    of_item = {row.item: row for row in trays.timetable.steps if row.kind == "attended" and row.deed == "coat"}
    first = min(of_item.values(), key=lambda row: row.start)
    steps = tuple(
        replace(
            of_item[item], step=step, deed="sand", person=first.person, start=start, end=start + timedelta(minutes=9)
        )
        for n, (item, step) in enumerate(rows)
        for start in (first.start + timedelta(minutes=10 * n),)
    )
    (day, *_) = agenda_of(with_stages(trays, timetable=replace(trays.timetable, steps=steps)))
    assert day.people[0].jobs == told


def test_what_is_delivered_at_one_moment_is_told_in_one_go(tmp_path: Path) -> None:
    files = [tmp_path / f"{name}.yaml" for name in ("one", "other")]
    for file in files:
        file.write_text(TEXT, encoding="utf-8")
    with made_at_once():
        told = [words for line in agenda_of(finplan.plan(*files, start="2027-06-01 08:00")) for words in line.dates]
    assert told[-1].endswith("deliver A and B")
    assert sum("deliver" in words for words in told) == 1


@pytest.mark.parametrize(("deliver", "put_off"), [("2027-06-18", True), ("2027-06-01 08:30", False)])
def test_who_is_not_there_before_signs_at_the_delivery(deliver: str, put_off: bool) -> None:
    """The day of delivery has the step in which it is handed over, on paper, in the terminal and in the calendar."""
    piece = TEXT.replace("deliver: 2027-06-18", f"deliver: {deliver}\nafter: [hand-over]")
    with made_at_once():
        plan = finplan.plan(piece, start="2027-05-12 08:00")
    (row,) = [row for row in plan.timetable.steps if row.extra == "hand-over"]
    deliver_at = plan.timetable.deliver
    assert deliver_at is not None
    if not put_off:  # it is handed over as it is delivered
        moved = replace(row, start=deliver_at - (row.end - row.start), end=deliver_at)
        steps = tuple(moved if other is row else other for other in plan.timetable.steps)
        plan = with_stages(plan, timetable=replace(plan.timetable, steps=steps))
    moment, also = show_moment(deliver_at), f"step {row.number} then, if not before"
    (told,) = [words for line in agenda_of(plan) for words in line.dates if "deliver" in words]
    assert told == (f"{moment} deliver ({also})" if put_off else f"{moment} deliver")
    asked = f"Ask the customer to come then; else do it at the delivery, {moment}."
    assert (f"Step {row.number} (hand over, signed for): {asked}" in timetable_lines(plan)) == put_off
    (event,) = [
        event
        for event in Calendar.from_ical(plan_calendar(plan, plan.now)).walk("VEVENT")
        if str(event["summary"]).endswith(": deliver")
    ]
    assert str(event.get("description", "")) == (f"Step {row.number} then, if not before." if put_off else "")


def test_the_faces_of_a_part_are_named_behind_it_once(trays: Plan) -> None:
    tray = next(treatment for treatment in trays.treatments if treatment.item == "tray")
    assert len(tray.groups) > 1
    first, *others = places(tray.groups).split("; ")
    assert first.startswith("tray: ")
    assert not others
    assert "; foot: " in places([group for treatment in trays.treatments for group in treatment.groups])


def test_nothing_is_left_alone_for_longer_than_until_it_is_worked() -> None:
    """Tung oil is coated again after two days, and fit to handle after three: the coat is in the agenda."""
    oiled = finplan.plan(TEXT.replace("waterborne-polyurethane", "tung-oil"), start="2027-05-03 08:00")
    touched = [row.start for row in oiled.timetable.steps if row.kind == "attended" and row.deed != "clean-up"]
    idle = [line for line in agenda_of(oiled) if "Do not move" in line.idle]
    followed = [(line, min(start for start in touched if start.date() > line.last)) for line in idle[:-1]]
    assert followed
    for line, following in followed:
        assert line.idle.endswith(f" before {show_moment(following)}.")


def test_ounces_of_a_paste_are_told_from_fluid_ounces() -> None:
    """Casein paint goes by volume and the wax over it by mass: both stood on the front in ounces of some kind."""
    for units, told in (("us", ("fl oz", " oz by weight")), ("metric", ("ml", " g"))):
        text = TEXT.replace("waterborne-polyurethane", "casein-paint").replace("lengths", f"units: {units}\nlengths")
        plan = finplan.plan(text, start="2027-06-01 08:00")
        amounts = [line.amounts.replace("\xa0", " ") for line in agenda_of(plan) if line.amounts]
        assert any(words.endswith(told[0]) for words in amounts), amounts
        assert any(words.endswith(told[1]) for words in amounts), amounts
