"""Plans of tiny pieces against what is best by reasoning on paper.

A shelf of 600 x 200 x 20 mm takes hardwax oil in two coats: sand, coat 1, abrade, coat 2. How long each is worked on is
taken from the operations; when it can be worked on is derived here. In air of 23 °C and 50 % a finish takes its nominal
hours exactly: hardwax oil can be recoated after 12 h and used lightly after 48 h. All is done in one room, so dust
settles for half an hour (``work.yaml``, let-dust-settle) between sanding and a coat.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import PlannedPiece, Wishes
from finplan.timetable import Operation
from tests.timetable.shops import NOW, plan, read, shelf

HOUR = timedelta(hours=1)
STANDARD_AIR = """\
shop: Standard air
time-zone: UTC
people:
  - {name: Wynn, hours: HOURS}
climate:
  day: {temperature: 23 degC, humidity: 50 %}
  night: {temperature: 23 degC, humidity: 50 %}
in-time: 50 %
"""
# So sure of the date these plans are at their latest start: what is best on paper asks for no more.
LATE = Wishes(answers=False)
RECOAT, LIGHT_USE = 12 * HOUR, 48 * HOUR
SETTLE = HOUR / 2
ROOMS = "rooms: {bench: {for: [sanding, assembly]}, finishing: {for: [coating, spraying, drying]}}\n"


def oiled(folder: Path, hours: str, more: str = "") -> tuple[PlannedPiece, dict[str, timedelta]]:
    """Return a shelf and how long each of its operations takes."""
    (piece,) = read(folder, [shelf("hardwax-oil")], STANDARD_AIR.replace("HOURS", hours) + more)
    sand, coat_1, abrade, coat_2 = piece.operations
    return piece, {
        "sand": _time(sand),
        "coat 1": _time(coat_1),
        "clean-up": _time(coat_1.clean_up),
        "abrade": _time(abrade),
        "coat 2": _time(coat_2),
    }


def _time(operation: Operation | None) -> timedelta:
    assert operation is not None
    return timedelta(minutes=operation.work_min)


def at(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 3, day, hour, minute, tzinfo=UTC)


def test_asap_round_the_clock(tmp_path: Path) -> None:
    # Somebody is always there: every operation begins when the one before, its drying, or its dust lets it.
    piece, takes = oiled(tmp_path, "{mon-sun: 0:00-24:00}")
    found = plan([piece], None).timetable
    ready = NOW + takes["sand"] + SETTLE + takes["coat 1"] + RECOAT
    ready += takes["abrade"] + SETTLE + takes["coat 2"] + LIGHT_USE
    assert found.start == NOW
    assert found.ready == ready
    assert found.status == "optimal"


def test_asap_by_day(tmp_path: Path) -> None:
    # From 8:00 to 16:00 on all days. Sanding and coat 1 on Monday; 12 h later it is night, so coat 2 is put on as
    # Tuesday begins, after abrading and its dust, and used lightly 48 h after it.
    piece, takes = oiled(tmp_path, "{mon-sun: 8:00-16:00}")
    found = plan([piece], None).timetable
    assert found.ready == at(2, 8) + takes["abrade"] + SETTLE + takes["coat 2"] + LIGHT_USE


def test_as_late_as_leaves_the_buffer(tmp_path: Path) -> None:
    # Delivered on Friday 12 March at 16:00 with a buffer of 4 h: ready by Friday 12:00, so coat 2 ends by Wednesday
    # 12:00. Somebody is there from 8:00 to 16:00; coat 2 and the abrading before it need no break, so they can begin at
    # 12:00 less both. Coat 1 has to end 12 h before the abrading, which is in the night to Wednesday: so by Tuesday
    # 16:00, its clean-up included. Sanding goes before it, and half an hour for its dust between them.
    piece, takes = oiled(tmp_path, "{mon-sun: 8:00-16:00}", "buffer: 4 h\n")
    found = plan([piece], "2027-03-12 16:00", wishes=LATE).timetable
    assert found.start == at(9, 16) - takes["clean-up"] - takes["coat 1"] - SETTLE - takes["sand"]
    assert found.ready is not None
    assert found.ready <= at(12, 12)
    assert found.short_of_buffer is False


def test_as_late_as_a_long_drying_lets_it(tmp_path: Path) -> None:
    # Round the clock nothing but work, dust and drying lies between start and ready, 4 h before Friday 16:00.
    piece, takes = oiled(tmp_path, "{mon-sun: 0:00-24:00}", "buffer: 4 h\n")
    found = plan([piece], "2027-03-12 16:00", wishes=LATE).timetable
    busy = takes["sand"] + SETTLE + takes["coat 1"] + takes["abrade"] + SETTLE + takes["coat 2"]
    assert found.ready == at(12, 12)
    assert found.start == at(12, 12) - LIGHT_USE - RECOAT - busy
    assert found.buffer_h == 4.0


def test_a_night_in_the_frost_stops_the_clock(tmp_path: Path) -> None:
    # Hardwax oil stands still at 0 °C. From 8:00 to 20:00 the air is 23 °C, and the piece an hour later: 11 h of a day
    # count towards the next coat. Wood is sanded in another room; coat 1 goes on before 9:00 on Monday, so that one of
    # the 12 h is left on Tuesday.
    _, takes = oiled(tmp_path, "{mon-sun: 8:00-20:00}")
    cold = STANDARD_AIR.replace("HOURS", "{mon-sun: 8:00-20:00}")
    cold = cold.replace("day: {", "day: {from: 8:00, to: 20:00, ", 1).replace(
        "night: {temperature: 23", "night: {temperature: -1"
    )
    (piece,) = read(tmp_path, [shelf("hardwax-oil")], cold + ROOMS)
    found = plan([piece], None).timetable
    assert takes["sand"] + takes["coat 1"] <= timedelta(hours=1)
    abrade = next(row for row in found.steps if row.id.endswith("hardwax-oil/3"))
    assert abrade.start == at(2, 10)
    # 48 h for light use are four days of 12 h: coat 2 ends on Tuesday, and is fit at the same hour on Saturday.
    assert found.ready == at(6, 10) + takes["abrade"] + takes["coat 2"]


def test_ten_degrees_colder_takes_twice_as_long(tmp_path: Path) -> None:
    # Oxidation by the 10 °C rule: at 13 °C 12 h become 24 h and 48 h become 96 h.
    shop = STANDARD_AIR.replace("HOURS", "{mon-sun: 0:00-24:00}").replace("23 degC", "13 degC")
    (piece,) = read(tmp_path, [shelf("hardwax-oil")], shop)
    found = plan([piece], None).timetable
    busy = sum((_time(one) for one in piece.operations), start=timedelta(0))
    assert found.ready == NOW + busy + 2 * SETTLE + 2 * (RECOAT + LIGHT_USE)


def test_the_largest_buffer_is_that_of_beginning_at_once(tmp_path: Path) -> None:
    # Ready as soon as can be, as in the test by day, whatever the delivery; then begun as late as keeps that: coat 1
    # and its clean-up at the end of Monday.
    piece, takes = oiled(tmp_path, "{mon-sun: 8:00-16:00}", "buffer: 1 h\n")
    found = plan([piece], "2027-03-12 16:00", wishes=Wishes(answers=False, largest_buffer=True)).timetable
    assert found.ready == at(2, 8) + takes["abrade"] + SETTLE + takes["coat 2"] + LIGHT_USE
    assert found.start == at(1, 16) - takes["clean-up"] - takes["coat 1"] - SETTLE - takes["sand"]


@pytest.mark.parametrize("weeks", [3, 8])
def test_the_largest_buffer_of_a_date_far_away(weeks: int, tmp_path: Path) -> None:
    piece, takes = oiled(tmp_path, "{mon-sun: 8:00-16:00}", "buffer: 1 h\n")
    deliver = NOW + timedelta(weeks=weeks)
    found = plan([piece], f"{deliver:%Y-%m-%d}", wishes=Wishes(answers=False, largest_buffer=True)).timetable
    assert found.ready == at(2, 8) + takes["abrade"] + SETTLE + takes["coat 2"] + LIGHT_USE


def test_two_shelves_in_one_room_and_one_pair_of_hands(tmp_path: Path) -> None:
    # Both are sanded before either is wet, since a wet coat bears no dust; then both are coated in one go with one
    # clean-up, and likewise abraded and coated on the next day, half an hour of settling dust between. The last coat
    # ends after all of that.
    pieces = read(tmp_path, [shelf("hardwax-oil", 2)], STANDARD_AIR.replace("HOURS", "{mon-sun: 8:00-16:00}"))
    found = plan(pieces, None, wishes=Wishes()).timetable
    times = {one.id: _time(one) for one in pieces[0].operations}
    second_day = sum((times[f"shelf {n}/hardwax-oil/{step}"] for n in (1, 2) for step in (3, 4)), start=SETTLE)
    rows = [row for row in found.steps if row.kind == "attended"]
    assert max(row.end for row in rows if row.id.endswith("/4")) == at(2, 8) + second_day
    assert sum(row.deed == "clean-up" for row in rows) == 2
    # Light use 48 h later; putting together waits only for handling (24 h), on Wednesday or Thursday.
    assert found.ready == at(2, 8) + second_day + LIGHT_USE
