"""The air of the shop by the clock on the wall: heating hours, months, a log, clock changes and the end of the year."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.climate import Air, AirTable, Drying, Weather, air_table
from finplan.inputs import Climate
from finplan.inputs.climate import MONTHS

LONDON = ZoneInfo("Europe/London")
CATALOGUE = bundled_catalogue()


def climate(from_: str = "8:00", to: str = "18:00") -> Climate:
    day = {"from": from_, "to": to, "temperature": "19 degC", "humidity": "50 %"}
    return Climate.model_validate({"day": day, "night": {"temperature": "11 degC", "humidity": "65 %"}})


def logged(folder: Path, rows: str, zone: str = "Europe/London") -> Climate:
    (folder / "logger.csv").write_text("time,temperature,humidity\n" + rows, encoding="utf-8")
    return Climate.model_validate({"log": "logger.csv"}, context={"folder": folder, "time-zone": zone})


def changes(table: AirTable) -> list[tuple[float, float]]:
    """When the air changes after the start, in hours, and how warm it then is."""
    return [(begins / 60, air.temperature_c) for begins, _, air in table.pieces() if begins > 0]


def test_heating_comes_on_at_its_minute() -> None:
    start = datetime(2027, 3, 1, tzinfo=UTC)
    table = air_table(Weather(climate("7:50", "17:05"), LONDON), start, 1)
    assert changes(table) == [(470 / 60, 19.0), (1025 / 60, 11.0)]
    assert table.at(7 * 60 + 49).temperature_c == 11.0
    assert table.at(7 * 60 + 50).temperature_c == 19.0
    # From 6:50 an hour at 11 °C counts 2^-1.2 = 0.43528 h; at 19 °C an hour of 23 °C takes 2^0.4 = 1.3195 h.
    drying = Drying(CATALOGUE.finishes["oil-polyurethane"], CATALOGUE, table)
    assert drying.reached(6 * 60 + 50, "surface", 1.43528) == pytest.approx(7 * 60 + 50 + 1.3195 * 60, abs=0.01)


@pytest.mark.parametrize("start_h", [7.75, 8.0, 8.25, 8.75, 9.0, 23.5])
def test_it_is_as_dry_whenever_the_table_begins(start_h: float) -> None:
    """What is coated at half past eight was as cold in the night, whether the plan is asked for before or after dawn.

    From 8:30 half an hour at 11 °C, which counts 2^-1.2 of it, and then hours at 19 °C of 2^-0.4 each.
    """
    midnight = datetime(2027, 3, 2, tzinfo=UTC)
    weather = Weather(climate("8:00", "18:00"), LONDON)
    table = air_table(weather, midnight + timedelta(hours=start_h), 9)
    coated_h = 8.5 if start_h <= 8.5 else 32.5
    drying = Drying(CATALOGUE.finishes["oil-polyurethane"], CATALOGUE, table)
    dry_min = drying.reached(60 * (coated_h - start_h), "through", 0.5 * 2**-1.2 + 2 * 2**-0.4)
    assert dry_min == pytest.approx(60 * (coated_h - start_h + 2.5))


@pytest.mark.parametrize(
    ("from_", "to", "expected"),
    [
        ("22:00", "6:00", [(6.0, 11.0), (22.0, 19.0)]),  # heated by night
        ("0:00", "24:00", []),  # heated all day
        ("0:00", "6:30", [(6.5, 11.0)]),
        ("18:00", "24:00", [(18.0, 19.0)]),
    ],
)
def test_heating_hours(from_: str, to: str, expected: list[tuple[float, float]]) -> None:
    table = air_table(Weather(climate(from_, to), LONDON), datetime(2027, 3, 2, tzinfo=UTC), 1)
    assert changes(table) == expected
    if not expected:
        assert set(table.air) == {Air(19.0, 50.0)}


@pytest.mark.parametrize(
    ("start", "expected"),
    [
        # In London 8:00 is 8:00 universal time in winter, 7:00 in summer; the clock goes forward on 28 March 2027 and
        # back on 31 October (the last Sundays), each at 1:00 universal time. Hours from the midnight before, universal.
        (datetime(2027, 3, 27, tzinfo=UTC), [(8, 19.0), (18, 11.0), (31, 19.0), (41, 11.0)]),
        (datetime(2027, 10, 30, tzinfo=UTC), [(7, 19.0), (17, 11.0), (32, 19.0), (42, 11.0)]),
    ],
)
def test_the_clock_changes(start: datetime, expected: list[tuple[float, float]]) -> None:
    assert changes(air_table(Weather(climate(), LONDON), start, 2)) == expected


def test_heating_in_the_hour_that_is_skipped() -> None:
    # From 1:30, which is not on the clock on 28 March, to 2:15, which is 1:15 universal time: before it.
    start = datetime(2027, 3, 28, tzinfo=UTC)
    assert changes(air_table(Weather(climate("1:30", "2:15"), LONDON), start, 1)) == []
    # From 1:30 to 6:00 it is on from half an hour after the change.
    assert changes(air_table(Weather(climate("1:30", "6:00"), LONDON), start, 1)) == [(1.5, 19.0), (5.0, 11.0)]


def month(temperature_c: int) -> dict[str, Any]:
    return {
        "day": {"temperature": f"{temperature_c} degC", "humidity": "50 %"},
        "night": {"temperature": f"{temperature_c - 8} degC", "humidity": "60 %"},
    }


def test_months_and_the_end_of_the_year() -> None:
    months = {name: month(15 + number) for number, name in enumerate(MONTHS)}  # January 15 °C … December 26 °C
    weather = Weather(Climate.model_validate({"months": months}), ZoneInfo("America/New_York"))
    table = air_table(weather, datetime(2027, 12, 31, 5, tzinfo=UTC), 2)  # midnight in New York
    assert changes(table) == [(8, 26.0), (18, 18.0), (24, 7.0), (32, 15.0), (42, 7.0)]


def test_a_log_runs_straight_between_its_readings(tmp_path: Path) -> None:
    rows = "2027-03-01 00:00,10,60\n2027-03-01 05:00,20,40\n2027-03-02 00:00,20,40\n"
    rows = rows.replace(
        "2027-03-02", "2027-03-01 10:00,20,40\n2027-03-01 15:00,20,40\n2027-03-01 20:00,20,40\n2027-03-02"
    )
    table = air_table(Weather(logged(tmp_path, rows), LONDON), datetime(2027, 3, 1, tzinfo=UTC), 1)
    # Two degrees an hour: in the middle of the quarter from 2:30 to 2:45 it is 15.25 °C.
    assert table.at(2.5 * 60).temperature_c == pytest.approx(15.25)
    assert table.at(2.5 * 60).humidity_pct == pytest.approx(49.5)
    assert table.at(7 * 60) == Air(20.0, 40.0)
    # 13 °C comes after 1.5 h. From there to 20 °C the integral of 2^((T - 23)/10) over T at 2 degrees an hour is
    # 10 / (2 ln 2) · (2^-0.3 - 2^-1) = 2.25233 h.
    drying = Drying(CATALOGUE.finishes["oil-polyurethane"], CATALOGUE, table)
    assert drying.reached(90.0, "surface", 2.25233) == pytest.approx(5 * 60, abs=0.5)


HALF_DAYS = "\n".join(
    f"2027-03-{day:02d} {hour:02d}:00,{12 if hour in (0, 6, 18) else 22},50"
    for day in (1, 2)
    for hour in (0, 6, 12, 18)
)


def test_beyond_a_log(tmp_path: Path) -> None:
    weather = Weather(logged(tmp_path, HALF_DAYS + "\n"), LONDON)
    # Before it, its first reading; after it, its last 24 hours again and again.
    before = air_table(weather, datetime(2027, 2, 20, tzinfo=UTC), 5)
    assert set(before.air) == {Air(12.0, 50.0)}
    after = air_table(weather, datetime(2027, 3, 2, tzinfo=UTC), 40)
    for minute in range(0, 18 * 60, 5):
        for day in (1, 2, 20):
            assert after.at(minute + day * 24 * 60) == after.at(minute)
    # By the clock on the wall: noon is at 11:00 universal time after 28 March.
    at_noon, summer_noon = after.at(12 * 60), after.at((29 * 24 + 11) * 60)
    assert at_noon == summer_noon
    assert at_noon.temperature_c == pytest.approx(22, abs=0.3)


def test_a_log_far_in_the_past(tmp_path: Path) -> None:
    table = air_table(Weather(logged(tmp_path, HALF_DAYS + "\n"), LONDON), datetime(2029, 7, 1, tzinfo=UTC), 2)
    # It warms from 6:00 on, which in summer is 5:00 universal time.
    assert changes(table)[0][0] == 5.0
    assert table.at(11 * 60).temperature_c == pytest.approx(22, abs=0.3)  # noon in summer
    assert table.at(17 * 60).temperature_c == pytest.approx(12, abs=0.3)


def test_a_log_through_both_clock_changes(tmp_path: Path) -> None:
    # In autumn the hour from 1:00 comes twice; readings by the clock on the wall, and with their offset.
    wall = "2027-10-31 00:00,10,50\n2027-10-31 01:00,11,50\n2027-10-31 01:00,12,50\n2027-10-31 02:00,13,50\n"
    offsets = (
        "2027-10-31T00:00+01:00,10,50\n2027-10-31T01:00+01:00,11,50\n"
        "2027-10-31T01:00+00:00,12,50\n2027-10-31T02:00Z,13,50\n"
    )
    start = datetime(2027, 10, 30, 23, tzinfo=UTC)
    tables = [air_table(Weather(logged(tmp_path, rows), LONDON), start, 1) for rows in (wall, offsets)]
    assert tables[0] == tables[1]
    # One degree an hour for three hours on end: 11.5 °C half-way.
    assert tables[0].at(90).temperature_c == pytest.approx(11.62, abs=0.01)  # in the middle of its quarter
    # In spring 3:00 comes an hour after 1:00.
    spring = logged(tmp_path, "2027-03-28 00:30,10,50\n2027-03-28 02:30,11,50\n2027-03-28 03:30,12,50\n")
    assert spring.log is not None
    hours = [(row.when - spring.log[0].when).total_seconds() / 3600 for row in spring.log]
    assert hours == [0, 1, 2]
