"""The timetable as plain data: every key, times with their offset, and nothing left out."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from finplan.data import plain_data, steps_csv, timetable_data
from finplan.inputs import Shift
from finplan.timetable import (
    Buffer,
    Clash,
    DateKept,
    MoreHands,
    Obstacle,
    PieceTimes,
    RackShort,
    Timetable,
    TimetableStep,
    WouldFit,
)

LONDON = ZoneInfo("Europe/London")
START = datetime(2027, 3, 2, 8, tzinfo=LONDON)
READY = datetime(2027, 3, 29, 9, tzinfo=LONDON)  # after the clocks went forward on the 28th
HOUR = timedelta(hours=1)

COAT = TimetableStep(
    id="top/oil/2",
    piece="Table",
    item="top",
    step="coat 1",
    kind="attended",
    deed="coat",
    start=START,
    end=START + HOUR,
    person="Ines",
    room="finishing",
    next_from=START + 13 * HOUR,
    abraded_first=False,
    critical=True,
)
CLEAN_UP = TimetableStep(
    id="top/oil/2/clean-up",
    piece="Table",
    item="top",
    step="clean up after coat 1",
    kind="attended",
    deed="clean-up",
    start=START + HOUR,
    end=START + HOUR + timedelta(minutes=5),
    person="Ines",
    room="finishing",
)
TABLE = Timetable(
    status="optimal",
    steps=(COAT, CLEAN_UP),
    pieces=(PieceTimes("Table", START, READY, READY + 30 * HOUR, 30.0, 9.5),),
    start=START,
    latest_safe_start=START + 24 * HOUR,
    earliest_ready=START + 200 * HOUR,
    ready=READY,
    deliver=READY + 30 * HOUR,
    buffer_h=30.0,
    buffer=Buffer(8.0, working=True),
    notes=(RackShort("top", 14, 12, "flat place"),),
)


def test_what_a_reader_of_timetables_looks_for() -> None:
    """The keys that other programs read, with what they hold."""
    told = plain_data(timetable_data(TABLE))
    assert told["format"] == "finplan-timetable/1"
    assert (told["status"], told["gap"], told["clashes"]) == ("optimal", None, [])
    assert (told["start"], told["latest_safe_start"]) == ("2027-03-02T08:00+00:00", "2027-03-03T08:00+00:00")
    assert (told["ready"], told["deliver"]) == ("2027-03-29T09:00+01:00", "2027-03-30T15:00+01:00")
    assert told["buffer_h"] == 30.0
    coat = told["steps"][0]
    assert {key: coat[key] for key in ("id", "piece", "item", "step", "kind", "person", "room")} == {
        "id": "top/oil/2",
        "piece": "Table",
        "item": "top",
        "step": "coat 1",
        "kind": "attended",
        "person": "Ines",
        "room": "finishing",
    }
    assert (coat["start"], coat["end"]) == ("2027-03-02T08:00+00:00", "2027-03-02T09:00+00:00")
    assert (coat["next_from"], coat["next_until"]) == ("2027-03-02T21:00+00:00", None)


def test_a_coat_on_which_none_comes_has_no_window_for_another() -> None:
    """Its window had closed before it opened where the last coat dried slowly, and nothing was to go on in it."""
    last = replace(COAT, abraded_first=None, next_until=START + 12 * HOUR)
    told = plain_data(timetable_data(replace(TABLE, steps=(last,))))["steps"][0]
    assert (told["next_from"], told["next_until"], told["abraded_first"]) == (None, None, None)
    row = next(csv.DictReader(io.StringIO(steps_csv(replace(TABLE, steps=(last,))))))
    assert (row["next_from"], row["next_until"]) == ("", "")


def test_what_is_done_and_what_is_critical() -> None:
    told = plain_data(timetable_data(TABLE))["steps"]
    assert [(step["deed"], step["critical"]) for step in told] == [("coat", True), ("clean-up", False)]


def test_the_buffer_with_its_measure() -> None:
    told = plain_data(timetable_data(TABLE))
    assert (told["buffer_wanted_h"], told["buffer_measure"], told["short_of_buffer"]) == (8.0, "working time", False)
    assert told["pieces"] == [
        {
            "piece": "Table",
            "start": "2027-03-02T08:00+00:00",
            "ready": "2027-03-29T09:00+01:00",
            "deliver": "2027-03-30T15:00+01:00",
            "buffer_h": 30.0,
            "buffer_working_h": 9.5,
            "in_time_probability": None,
        }
    ]


@pytest.mark.parametrize(
    ("buffer", "short", "source"),
    [
        (Buffer(9.5, working=True), False, "9.5 working hours are left"),
        (Buffer(9.56, working=True), False, "9.5 working hours are left, and plans tell five minutes"),
        (Buffer(10.0, working=True), True, "9.5 working hours are left"),
        (Buffer(10.0, working=False), False, "30 hours of the clock are left"),
    ],
)
def test_short_is_told_in_the_measure_that_was_wanted(buffer: Buffer, short: bool, source: str) -> None:
    assert plain_data(timetable_data(replace(TABLE, buffer=buffer)))["short_of_buffer"] is short, source


def test_earliest_notes_and_what_ended_the_search() -> None:
    told = plain_data(timetable_data(TABLE))
    assert told["earliest_ready"] == "2027-03-10T16:00+00:00"
    assert told["notes"] == ["top takes 14 flat places and the rack has 12: find it others."]
    assert told["cut_short"] is False


SATURDAYS = MoreHands("Wynn", longer_h=0.0, on="saturdays", shifts=(Shift(480, 720),))
LATE = DateKept(
    piece=None,
    deliver=datetime(2027, 3, 12, 15, tzinfo=UTC),
    begins=None,
    with_=(Obstacle("closed-days"),),
    proven=True,
    all_tried=True,
)


def test_what_is_impossible_has_no_times() -> None:
    clash = Clash(LATE, 17.5, (WouldFit(SATURDAYS, "saturday", READY, 28.0, 8.0, 0.934),))
    told = plain_data(timetable_data(Timetable("impossible", clashes=(clash,), working_day_h=8.0)))
    assert (told["steps"], told["pieces"], told["start"], told["short_of_buffer"]) == ([], [], None, False)
    assert told["clashes"] == [
        {
            "requirement": "deliver by 2027-03-12 15:00, with the closed days",
            "short_by_h": 17.5,
            "would_fit": [
                {
                    "change": "Wynn works on every Saturday, 08:00–12:00",
                    "kind": "saturday",
                    "ready": "2027-03-29T09:00+01:00",
                    "gain_h": 28.0,
                    "gain_working_h": 8.0,
                    "in_time_probability": 0.934,
                    "told": "Wynn works on every Saturday, 08:00–12:00: ready Mon 29 Mar 09:00, 28 h sooner, "
                    "1 working day of it, in time in 93 % of all cases",
                }
            ],
        }
    ]
