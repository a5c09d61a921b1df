"""The file of a data logger: what is read, and everything that is wrong with it at once."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError
from pydantic_core import PydanticCustomError

from finplan.inputs import Climate, Reading
from finplan.inputs.logger import read_log
from finplan.problems import Finding
from finplan.reading import validate

HEADING = "time,temperature,humidity\n"
GOOD = "2027-03-01 00:00,12,60\n2027-03-01 06:00,11,62\n2027-03-01 12:00,19,48\n"


def told(folder: Path, text: str, zone: str = "Europe/London") -> list[Finding]:
    (folder / "logger.csv").write_text(text, encoding="utf-8")
    _, findings = validate(Climate, {"log": "logger.csv"}, more={"folder": folder, "time-zone": zone})
    return findings


def rows(folder: Path, text: str, zone: str = "Europe/London") -> tuple[Reading, ...]:
    (folder / "logger.csv").write_text(text, encoding="utf-8")
    climate, findings = validate(Climate, {"log": "logger.csv"}, more={"folder": folder, "time-zone": zone})
    assert climate is not None, findings
    assert climate.log is not None
    return climate.log


def test_what_is_read(tmp_path: Path) -> None:
    found = rows(tmp_path, HEADING + GOOD)
    assert [(row.temperature_c, row.humidity_pct) for row in found] == [(12, 60), (11, 62), (19, 48)]
    assert [row.when.isoformat() for row in found] == [
        "2027-03-01T00:00:00+00:00",
        "2027-03-01T06:00:00+00:00",
        "2027-03-01T12:00:00+00:00",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Time;Temperature (degC);Humidity (%)\n2027-03-01 00:00;12,5;60\n2027-03-01 06:00;11,0;61,5\n",
        "﻿humidity,no,time,temperature\n60,1,2027-03-01T00:00,12.5\n\n61.5,2,2027-03-01T06:00:00,11\n",
        'time,temperature,humidity,note\n"2027-03-01 00:00","12.5","60","cold, damp"\n2027-03-01 06:00,11,61.5\n',
    ],
    ids=["semicolons", "other columns, a byte order mark, an empty line", "quotes"],
)
def test_other_spellings(text: str, tmp_path: Path) -> None:
    found = rows(tmp_path, text)
    assert [(row.temperature_c, row.humidity_pct) for row in found] == [(12.5, 60.0), (11.0, 61.5)]


def test_everything_that_is_wrong_is_told_at_once(tmp_path: Path) -> None:
    text = HEADING + GOOD
    text += "yesterday,18,50\n2027-03-01 13:00,--,50\n2027-03-01 14:00,18\n"  # lines 5 to 7
    text += "2027-03-01 15:00,nan,50\n2027-03-01 16:00,18,0\n"  # 8 and 9
    text += "2027-03-01 11:00,18,50\n"  # 10
    text += "2027-03-01 20:00,18,50\n2027-03-02 03:30,12,60\n"  # gaps after 12:00 and 20:00
    assert [(one.wrong, one.path) for one in told(tmp_path, text)] == [
        ("'logger.csv' lines 5, 6, 7 are not readings", ("log",)),
        ("'logger.csv' lines 8, 9 are not the air of a shop", ("log",)),
        ("'logger.csv' line 10 is not later than the one before", ("log",)),
        (
            "'logger.csv' has gaps of more than 6 h: 2027-03-01 12:00 to 2027-03-01 20:00, "
            "2027-03-01 20:00 to 2027-03-02 03:30",
            ("log",),
        ),
    ]


def test_of_many_bad_rows_ten_are_named(tmp_path: Path) -> None:
    (one,) = told(tmp_path, HEADING + GOOD + "bad,bad,bad\n" * 500)
    assert one.wrong == "'logger.csv' lines 5, 6, 7, 8, 9, 10, 11, 12, 13, 14 and 490 more are not readings"


@pytest.mark.parametrize("when", ["0001-01-01 00:00", "9999-12-31 23:59", "2027-02-30 00:00", "2027-03-01 25:00", ""])
def test_times_that_are_none(when: str, tmp_path: Path) -> None:
    (one,) = told(tmp_path, f"{HEADING}{GOOD}{when},12,50\n")
    assert one.wrong == "'logger.csv' line 5 is not a reading"


@pytest.mark.parametrize("text", ["", "\n", "a,b\n1,2\n", "time;temperature\n", '"time,temperature,humidity\n' + GOOD])
def test_other_columns(text: str, tmp_path: Path) -> None:
    (one,) = told(tmp_path, text)
    assert "has the columns" in one.wrong
    assert one.expected == "expected time, temperature, humidity"


def test_degrees_fahrenheit_are_not_taken_for_celsius(tmp_path: Path) -> None:
    rows_f = "2027-03-01 00:00,20,60\n2027-03-01 06:00,25,61.5\n"  # freezing, and a warm room in °C
    for heading in ("Temperature (°F)", "temperature F", "temperature [degF]", "temperature (degrees Fahrenheit)"):
        (one,) = told(tmp_path, f"time,{heading},humidity\n{rows_f}")
        assert one.wrong == f"'logger.csv' has the column '{heading}'"
    assert rows(tmp_path, f"time,temperature of shelf,humidity\n{rows_f}")


def test_a_quote_that_never_ends(tmp_path: Path) -> None:
    (one,) = told(tmp_path, HEADING + '"' + "x,1,1\n" * 50_000)
    assert one.wrong == "'logger.csv' is not a table of columns"


@pytest.mark.parametrize("rows", ["", "2027-03-01 00:00,12,60\n"])
def test_too_few(rows: str, tmp_path: Path) -> None:
    (one,) = told(tmp_path, HEADING + rows)
    assert f"holds {rows.count(',') // 2} readings" in one.wrong


# In London the clock goes from 1:00 to 2:00 on 28 March 2027, and from 2:00 back to 1:00 on 31 October.


def test_the_hour_that_comes_twice(tmp_path: Path) -> None:
    times = ["00:30", "01:00", "01:30", "01:00", "01:30", "02:00"]
    found = rows(tmp_path, HEADING + "".join(f"2027-10-31 {time},12,60\n" for time in times))
    steps = [after.when - before.when for before, after in pairwise(found)]
    assert steps == [timedelta(minutes=30)] * 5
    # Once more is out of order.
    (one,) = told(tmp_path, HEADING + "".join(f"2027-10-31 {time},12,60\n" for time in [*times[:5], "01:00"]))
    assert one.wrong == "'logger.csv' line 7 is not later than the one before"


def test_the_hour_that_is_skipped(tmp_path: Path) -> None:
    times = ["00:30", "01:00", "01:30", "02:00"]
    (one,) = told(tmp_path, HEADING + "".join(f"2027-03-28 {time},12,60\n" for time in times))
    assert one.wrong == "'logger.csv' lines 3, 4 are at times that the clock skips"
    assert "with their offset" in one.expected
    # With its offset, winter time is as good as any; so is a place whose clock does not change.
    found = rows(tmp_path, HEADING + "".join(f"2027-03-28T{time}+00:00,12,60\n" for time in times))
    assert [f"{row.when:%H:%M}" for row in found] == ["00:30", "02:00", "02:30", "03:00"]
    assert len(rows(tmp_path, HEADING + "".join(f"2027-03-28 {time},12,60\n" for time in times), "UTC")) == 4


def test_six_hours_are_six_hours_through_a_clock_change(tmp_path: Path) -> None:
    # From 22:00 to 5:00 on the wall are 6 hours in the night of spring, 8 in that of autumn.
    assert told(tmp_path, HEADING + "2027-03-27 22:00,12,60\n2027-03-28 05:00,12,60\n") == []
    (one,) = told(tmp_path, HEADING + "2027-10-30 23:00,12,60\n2027-10-31 05:00,12,60\n")
    assert "a gap of more than 6 h: 2027-10-30 23:00 to 2027-10-31 05:00" in one.wrong


@given(st.text(max_size=300))
def test_no_text_ends_in_anything_but_readings_or_a_finding(text: str) -> None:
    for start in ("", HEADING, "time;temperature;humidity\n2027-03-01 00:00;1;1\n"):
        try:
            found = read_log("logger.csv", start + text, ZoneInfo("Europe/London"))
        except (PydanticCustomError, ValidationError):
            continue
        assert all(isinstance(row.when, datetime) for row in found)


def test_a_forecast_is_a_log_of_days_to_come(tmp_path: Path) -> None:
    assert len(rows(tmp_path, HEADING + GOOD.replace("2027", "2099"))) == 3
