"""What may not lie on an item for long: it is taken off before a break, in portions, and at once when it was ticked."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of, timetable_of
from finplan.telling import notes_told
from finplan.timetable import broken_by
from finplan.timetable.lying import rows_without_wait
from tests.timetable.lies import after_ticked
from tests.timetable.read_back import Planned
from tests.timetable.shops import NOW, ONE_PERSON, TWO_PEOPLE, plan, read
from tests.timetable.verifier import broken_rules

CHEST = """refinish: {lead-test: clear, strip: chemical}
piece: Chest
lengths: mm
timber: ash
system: oil-varnish
parts:
  chest: {shape: carcase, width: 900, height: 700, depth: 480, thickness: 20, count: COUNT}
"""
STRIPS = ("strip-chemical", "lift-old-film", "wash-stripper-off")


def chests(count: int = 1) -> str:
    return CHEST.replace("COUNT", str(count))


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Two chests, stripped in a shop of one person, as late as can be for a date."""
    return plan(read(tmp_path_factory.mktemp("chests"), [chests(), chests()], ONE_PERSON), "2027-04-16")


def test_nothing_lies_over_a_break_and_each_portion_is_washed_before_the_next(planned: Planned) -> None:
    assert broken_rules(planned) == []
    rows = [row for row in planned.timetable.steps if row.extra in STRIPS and row.key == "piece1/"]
    # 4.3 m² of chest in portions of 1.5 m² at most: three, each brushed, lifted off and washed.
    assert len({row.id for row in rows}) == 3 * 3
    assert [row.extra for row in rows] == [*STRIPS] * 3
    assert [row.step.rpartition(", ")[2] for row in rows[::3]] == ["1 of 3", "2 of 3", "3 of 3"]
    for first in (0, 3, 6):
        brushed, lifted, washed = rows[first : first + 3]
        assert timedelta(minutes=30) <= lifted.start - brushed.end <= timedelta(hours=4)
        assert brushed.start.date() == washed.end.date()


def test_portions_take_what_the_whole_takes(planned: Planned) -> None:
    piece = planned.pieces[0]
    for extra in STRIPS:
        parts = [one for one in piece.operations if one.extra == extra]
        (step,) = {one.step.id: one.step for one in parts if one.step is not None}.values()
        record = piece.source.catalogue.extra_steps[extra]
        assert record.speed_m2_h is not None
        assert record.handling_h is not None
        whole_h = step.area_m2 / record.speed_m2_h.typical + record.handling_h.typical
        assert sum(one.hours.typical for one in parts) == pytest.approx(whole_h)
    washed = [one for one in piece.operations if one.extra == "wash-stripper-off"]
    assert [one.wait_h for one in washed] == [0.0, 0.0, 24.0]  # it dries once


@pytest.mark.parametrize(("late_min", "on_min"), [(0, 5), (45, 90), (0, 900)])
def test_what_was_brushed_on_is_lifted_off_before_anything_else(planned: Planned, late_min: int, on_min: int) -> None:
    row = next(row for row in planned.timetable.steps if row.extra == "strip-chemical")
    end = row.end + timedelta(minutes=late_min)
    found = after_ticked(planned, row.id, end, end + timedelta(minutes=on_min))
    assert set(found) == {"kept", "anew"}
    for way, later in found.items():
        broken = [one for one in broken_rules(later) if not one.endswith("is ready after its delivery")]
        assert broken == [], way
        first = later.timetable.steps[0]
        assert first.extra == "lift-old-film", way


def test_the_check_of_the_program_itself_finds_what_lies_overnight(planned: Planned) -> None:
    job = job_of(planned.pieces, planned.deliveries, planned.now, planned.wishes)
    assert broken_by(job, planned.timetable.steps) == []
    row = next(row for row in planned.timetable.steps if row.extra == "strip-chemical")
    evening = row.start.replace(hour=16, minute=0) - timedelta(days=3)
    moved = replace(row, start=evening, end=evening + (row.end - row.start))
    rows = [moved if one is row else one for one in planned.timetable.steps]
    assert any(row.id in one for one in broken_by(job, rows))


def test_in_a_shop_with_hardly_an_hour_at_a_time_it_is_said_that_it_dries_on(tmp_path: Path) -> None:
    shop = ONE_PERSON.replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", "{mon-fri: 8:00-9:00}")
    pieces = read(tmp_path, [chests()], shop)
    found = timetable_of(pieces, (None,), now=NOW, wishes=Wishes(answers=False))
    assert found.has_plan
    assert sum("leave none on over a break" in told for told in notes_told(found)) == 3


def test_two_people_share_it_and_legs_are_done_at_once(tmp_path: Path) -> None:
    leg = chests().replace(
        "  chest: {shape: carcase, width: 900, height: 700, depth: 480, thickness: 20, count: 1}\n",
        "  leg: {shape: square-leg, side: 40, length: 400, count: 4}\n",
    )
    pieces = read(tmp_path, [chests(), leg], TWO_PEOPLE)
    found = plan(pieces, "2027-04-16")
    assert broken_rules(found) == []
    rows = list(rows_without_wait(job_of(found.pieces, found.deliveries, found.now, found.wishes).pieces[1]))
    assert [[one.extra for one in row] for row in rows] == [[*STRIPS]]


def test_stripper_is_left_alone_over_nobodys_own_break_and_a_slow_hand_is_in_time(tmp_path: Path) -> None:
    """Breaks that cross: it is over half an hour before the next one of either, who may have brushed it on."""
    crossing = TWO_PEOPLE.replace("tue-sat: [9:00-12:30, 13:00-15:00]", "mon-thu: [9:00-13:00, 13:30-16:00]")
    found = plan(read(tmp_path, [chests()], crossing), "2027-04-16", wishes=Wishes(asap=True, answers=False))
    assert broken_rules(found) == []
    rows = [row for row in found.timetable.steps if row.extra in STRIPS]
    for brushed, washed in zip(rows[::3], rows[2::3], strict=True):
        breaks = [
            brushed.start.replace(hour=hour, minute=minute) for hour, minute in ((12, 0), (13, 0), (16, 0), (17, 0))
        ]
        assert washed.end + timedelta(minutes=30) <= min(one for one in breaks if one >= brushed.end)
