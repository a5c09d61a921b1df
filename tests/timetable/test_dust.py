"""Dust settles before a coat is begun where it can get to it, by values on paper, and for made-up jobs by the verifier.

That it settles for half an hour is common trade practice (``work.yaml``, let-dust-settle: 20 to 60 min).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import Wishes
from finplan.telling import notes_told
from finplan.timetable import TimetableStep
from tests.timetable.read_back import Planned
from tests.timetable.shops import plan, read, shelf
from tests.timetable.verifier import broken_rules

SHOP = """\
shop: Warm and open
time-zone: UTC
people:
  - {name: Odo, hours: {mon-sun: 8:00-18:00}, skills: [sanding, assembly]}
  - {name: Una, hours: {mon-sun: 8:00-18:00}, skills: [coating]}
climate:
  day: {temperature: 23 degC, humidity: 50 %}
  night: {temperature: 23 degC, humidity: 50 %}
"""
ONE_ROOM = "rooms: {shop: {for: [sanding, assembly, coating, drying]}}\n"
DRAWN_OFF = ONE_ROOM.replace("drying]", "drying], extraction: {flow: 800 m3/h, velocity: 0.5 m/s}")
TWO_ROOMS = "rooms: {bench: {for: [sanding, assembly]}, finishing: {for: [coating, drying]}}\n"
DRY_BESIDE = "rooms: {bench: {for: [sanding, assembly, drying]}, finishing: {for: [coating]}}\n"
LABEL = "overrides: {work: {let-dust-settle: {wait: 55/60/75 min}}}\n"
ASAP = Wishes(answers=False)
HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)
NOW = datetime(2027, 3, 1, 9, 45, tzinfo=UTC)  # a shelf is sanded in a quarter of an hour: until ten


def planned(folder: Path, rooms: str, count: int = 1, wishes: Wishes = ASAP) -> Planned:
    found = plan(read(folder, [shelf("hardwax-oil", count)], SHOP + rooms), None, now=NOW, wishes=wishes)
    assert found.timetable.status == "optimal"
    assert broken_rules(found) == []
    return found


def row(found: Planned, which: str) -> TimetableStep:
    return next(one for one in found.timetable.steps if one.id == f"shelf {which}")


@pytest.mark.parametrize(
    ("rooms", "coat"),
    [
        (ONE_ROOM, (10, 30)),
        (DRY_BESIDE, (10, 30)),
        (ONE_ROOM + LABEL, (11, 0)),
        (TWO_ROOMS, (10, 0)),
        (DRAWN_OFF, (10, 0)),
    ],
    ids=["one room", "dries beside sanding", "an hour by the shop", "two rooms", "extraction"],
)
def test_a_coat_waits_for_the_dust_of_its_own_sanding(rooms: str, coat: tuple[int, int], tmp_path: Path) -> None:
    found = planned(tmp_path, rooms)
    assert row(found, "1/hardwax-oil/1").end == NOW.replace(hour=10, minute=0)
    assert row(found, "1/hardwax-oil/2").start == NOW.replace(hour=coat[0], minute=coat[1])


def test_it_waits_for_the_dust_of_others_too(tmp_path: Path) -> None:
    # Odo sands the first shelf until 10:00 and the second until 10:15; Una, who sands nothing, begins at 10:45. In
    # another room she begins at 10:00.
    assert row(planned(tmp_path, ONE_ROOM, 2), "1/hardwax-oil/2").start == NOW + HOUR
    starts = [row(planned(tmp_path, TWO_ROOMS, 2), f"{n}/hardwax-oil/2").start for n in (1, 2)]
    assert min(starts) == NOW + 15 * MINUTE


@pytest.mark.parametrize(("rooms", "wait"), [(ONE_ROOM, 20), (TWO_ROOMS, 0)])
def test_what_was_sanded_before_settles_too(rooms: str, wait: int, tmp_path: Path) -> None:
    done = {"shelf 1/hardwax-oil/1": NOW - 10 * MINUTE}
    found = planned(tmp_path, rooms, wishes=replace(ASAP, done=done))
    assert row(found, "1/hardwax-oil/2").start == NOW + wait * MINUTE


def test_sanding_waits_for_no_dust(tmp_path: Path) -> None:
    found = planned(tmp_path, ONE_ROOM, 2)
    assert row(found, "2/hardwax-oil/1").start == row(found, "1/hardwax-oil/1").end or (
        row(found, "1/hardwax-oil/1").start == row(found, "2/hardwax-oil/1").end
    )


def test_a_plan_says_so_with_its_source(tmp_path: Path) -> None:
    (told,) = notes_told(planned(tmp_path, ONE_ROOM).timetable)
    assert told == (
        "Wood is sanded where coats go on or dry, in shop: no coat is begun until dust has settled for 30 min. "
        "Source: Common trade practice; no single publication."
    )
    assert planned(tmp_path, TWO_ROOMS).timetable.notes == planned(tmp_path, DRAWN_OFF).timetable.notes == ()


def test_it_settles_in_a_life_with_longer_work_too(tmp_path: Path) -> None:
    # Both coats wait half an hour, of which the first vanishes in the night before the second: in the same draws, what
    # is ready in nine of ten cases is so half an hour later than where dust settles at once.
    at_once = "overrides: {work: {let-dust-settle: {wait: 0 min}}}\n"
    slow, quick = (planned(tmp_path, ONE_ROOM + more).timetable.surely_ready for more in ("", at_once))
    assert slow is not None
    assert quick is not None
    assert timedelta(minutes=25) <= slow - quick <= HOUR
