"""What another plan moves: a day is lost only where it has passed, and all that moves together is told in one line."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from finplan.planning import Plan, Wishes, read_source
from finplan.telling import lost_days_words, moved_words
from tests.plans import make_plan
from tests.timetable.shops import NOW

STOOL = """piece: Stool
lengths: mm
timber: ash
system: hardwax-oil
parts:
  seat: {shape: disc, diameter: 340, thickness: 28}
"""


def _replanned(folder: Path, *, asked_later: bool, stands: int = 0) -> Plan:
    """Return a plan in the place of one of three days sooner, of which the last *stands* rows stood where they do."""
    (folder / "stool.yaml").write_text(STOOL, encoding="utf-8")
    plan = make_plan([read_source(folder / "stool.yaml", None)], now=NOW, wishes=Wishes(answers=False))
    rows = plan.timetable.steps
    moved = [
        replace(row, start=row.start - timedelta(days=3), end=row.end - timedelta(days=3))
        for row in rows[: len(rows) - stands]
    ]
    before = replace(plan.timetable, steps=(*moved, *rows[len(rows) - stands :]))
    made = NOW - timedelta(days=10) if asked_later else NOW
    return replace(plan, number=2, replaced=before, wishes=replace(plan.wishes, soonest=made))


def test_no_day_is_lost_where_work_is_asked_to_begin_later(tmp_path: Path) -> None:
    moved = moved_words(_replanned(tmp_path, asked_later=True))
    assert moved is not None
    (line,) = moved.lines
    assert line.startswith("All of it moves: as was asked, it begins ")


def test_days_that_have_passed_with_nothing_done_are_lost(tmp_path: Path) -> None:
    moved = moved_words(_replanned(tmp_path, asked_later=False))
    assert moved is not None
    *lost, line = moved.lines
    assert lost
    assert all(one.endswith(" is lost: its work is planned anew.") for one in lost)
    assert line.startswith("All of it moves: it begins ")


def test_half_a_day_that_is_still_there_is_not_lost(tmp_path: Path) -> None:
    """At noon only what was to begin by noon is left undone; after midnight the day is lost."""
    plan = _replanned(tmp_path, asked_later=False)
    assert plan.replaced is not None
    zone = plan.shop.time_zone
    first = plan.replaced.steps[0].start.astimezone(zone)

    def told(made: datetime) -> str:
        moved = moved_words(replace(plan, now=made, wishes=replace(plan.wishes, soonest=made)))
        assert moved is not None
        return moved.lines[0]

    later = first + timedelta(minutes=90)
    day = f"{first:%a} {first.day} {first:%b}"
    assert told(later) == f"Nothing of {day} is done by {later:%H:%M}: its work is planned anew."
    assert told(later.astimezone(UTC)) == told(later), "by the clock of the shop"
    assert told(first.replace(hour=0) + timedelta(days=1)) == f"{day} is lost: its work is planned anew."


NIGHTS = """shop: Night yard
time-zone: Europe/London
people: [{name: Odile, hours: {sun-thu: 22:00-6:00}}]
"""


def test_a_night_shift_that_goes_on_is_not_lost_at_midnight(tmp_path: Path) -> None:
    """Its day is that on which it began, and is lost when it is over."""
    (tmp_path / "shop.yaml").write_text(NIGHTS, encoding="utf-8")
    (tmp_path / "stool.yaml").write_text(STOOL, encoding="utf-8")
    source = read_source(tmp_path / "stool.yaml", tmp_path / "shop.yaml")
    plan = make_plan([source], now=NOW + timedelta(hours=12), wishes=Wishes(answers=False))
    first = plan.timetable.steps[0].start
    assert first.hour == 22
    midnight = first.replace(hour=0, minute=0) + timedelta(days=1)
    anew = replace(plan, number=2, replaced=plan.timetable)

    def told(made: datetime) -> tuple[str, ...]:
        return lost_days_words(replace(anew, now=made, wishes=replace(plan.wishes, soonest=made)))

    day, after = (f"{moment:%a} {moment.day} {moment:%b}" for moment in (first, midnight))
    undone, lost = (
        f"Nothing of {day} is done by {{}}: its work is planned anew.",
        f"{day} is lost: its work is planned anew.",
    )
    assert told(midnight - timedelta(minutes=15)) == (undone.format("23:45"),)
    assert told(midnight + timedelta(minutes=15)) == (undone.format(f"{after} 00:15"),)
    assert told(midnight + timedelta(hours=6)) == (lost,)


def test_a_day_is_lost_though_a_clean_up_of_it_falls_away(tmp_path: Path) -> None:
    """Coats that are put on together on another day are cleaned up after once."""
    plan = _replanned(tmp_path, asked_later=False)
    assert plan.replaced is not None
    rows = [replace(row, id=f"{row.id}/alone") if row.deed == "clean-up" else row for row in plan.replaced.steps]
    assert rows != list(plan.replaced.steps)
    parted = moved_words(replace(plan, replaced=replace(plan.replaced, steps=tuple(rows))))
    moved = moved_words(plan)
    assert moved is not None
    assert parted is not None
    lost = [line for line in moved.lines if " is lost" in line]
    assert lost
    assert [line for line in parted.lines if " is lost" in line] == lost


def test_a_day_is_lost_though_some_work_of_it_falls_away(tmp_path: Path) -> None:
    """What is done for lead is left out where a test of the old coating found none; none of the day's work is done."""
    plan = _replanned(tmp_path, asked_later=False)
    assert plan.replaced is not None
    first = plan.replaced.steps[0]
    more = replace(plan.replaced, steps=(*plan.replaced.steps, replace(first, id=f"{first.item}/wiped-down")))
    without, moved = moved_words(plan), moved_words(replace(plan, replaced=more))
    assert without is not None
    assert moved is not None
    lost = [line for line in without.lines if " is lost" in line]
    assert lost
    assert [line for line in moved.lines if " is lost" in line] == lost
    gone = tuple(replace(row, id=f"{row.id}/gone") for row in plan.replaced.steps)
    other = moved_words(replace(plan, replaced=replace(plan.replaced, steps=gone)))
    assert other is not None
    assert not any(" is lost" in line for line in other.lines), "nothing of it is to be done"


def test_where_some_work_keeps_its_time_each_step_that_moves_is_told(tmp_path: Path) -> None:
    moved = moved_words(_replanned(tmp_path, asked_later=True, stands=6))
    assert moved is not None
    assert len(moved.lines) > 1
    assert all(": from " in line for line in moved.lines)
