"""Until when a step may begin, held against the planner itself, and what a lost day leaves of a date."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of, slips_if_late
from finplan.timetable import Slips, TimetableStep
from finplan.timetable import slips_of as timetable_slips_of
from finplan.timetable.slipping import slipping_of as lived_through
from tests.timetable.own_hours import OwnHours
from tests.timetable.read_back import Planned
from tests.timetable.shops import NIGHT_SHIFT, ONE_PERSON, TWO_PEOPLE, plan, read, shelf
from tests.timetable.verifier import broken_rules

DUE = "2027-03-19 15:00"
SETTLE = """refinish: {lead-test: clear, strip: chemical}
piece: Settle
lengths: mm
timber: ash
system: hardwax-oil
parts:
  seat: {shape: board, length: 1540, width: 430, thickness: 26}
  back: {shape: board, length: 1540, width: 660, thickness: 20}
"""


def slips_of(planned: Planned) -> Slips:
    return slips_if_late(planned.pieces, planned.deliveries, planned.timetable, now=planned.now, wishes=planned.wishes)


@pytest.mark.parametrize("system", ["hardwax-oil", "oil-varnish-blend"])
def test_the_latest_start_is_that_of_a_plan_begun_then(system: str, tmp_path: Path) -> None:
    """One person, one board: what is begun as soon as can be at that time is ready in time, and not much later."""
    pieces = read(tmp_path, [shelf(system)], ONE_PERSON)
    planned = plan(pieces, DUE, wishes=Wishes(asap=True, answers=False))
    first = planned.timetable.steps[0]
    latest = slips_of(planned).latest[first.id]
    assert latest > first.start
    begun = plan(pieces, DUE, now=latest, wishes=Wishes(asap=True, answers=False))
    assert begun.timetable.has_plan
    assert begun.timetable.start == latest
    assert not plan(pieces, DUE, now=latest + timedelta(minutes=5), wishes=Wishes(answers=False)).timetable.has_plan


def test_whoever_begins_several_items_that_late_has_all_of_them_in_time(tmp_path: Path) -> None:
    """Not the one item alone while the others went on: by the planner itself all is ready that is begun then."""
    pieces = read(tmp_path, [shelf("hardwax-oil", count=6)], ONE_PERSON)
    planned = plan(pieces, DUE, wishes=Wishes(asap=True, answers=False))
    rows = [row for row in planned.timetable.steps if row.kind == "attended" and row.deed != "clean-up"]
    latest = slips_of(planned).latest
    assert max(latest[row.id] for row in rows if row.step == rows[0].step) > latest[rows[0].id] > rows[0].start
    assert plan(pieces, DUE, now=latest[rows[0].id], wishes=Wishes(answers=False)).timetable.has_plan
    assert all(7 <= moment.hour < 18 for moment in latest.values())


def test_a_stripping_that_is_begun_late_is_in_time_and_lies_over_no_break(tmp_path: Path) -> None:
    """Stripper is brushed on no later than leaves time to lift it off and wash up in the same stretch of work."""
    pieces = read(tmp_path, [SETTLE], ONE_PERSON)
    planned = plan(pieces, DUE, wishes=Wishes(asap=True, answers=False))
    latest = slips_of(planned).latest
    rows = [row for row in planned.timetable.steps if row.extra is not None]
    brushed = [row for row in rows if row.extra == "strip-chemical"]
    assert len(brushed) > 2
    assert {row.id for row in rows} & set(latest) == {row.id for row in brushed}
    hours = OwnHours.of(pieces[0].source.shop, planned.now.date(), datetime.fromisoformat(DUE).date())
    for row in brushed:
        last = max(other.end for other in rows if other.item == row.item and _portion(other) == _portion(row))
        assert hours.works(row.person or "", latest[row.id], latest[row.id] + (last - row.start))
    begun = plan(pieces, DUE, now=latest[brushed[0].id], wishes=Wishes(asap=True, answers=False))
    assert latest[brushed[0].id] > brushed[0].start + timedelta(days=1)
    assert begun.timetable.has_plan
    assert begun.timetable.start == latest[brushed[0].id]
    assert broken_rules(begun) == []


def test_no_stripping_may_begin_later_than_a_plan_is_found_for(tmp_path: Path) -> None:
    """Where none is found for the first of its latest starts all are earlier, where none is at all it is as planned."""
    pieces = read(tmp_path, [SETTLE], ONE_PERSON)
    planned = plan(pieces, DUE, wishes=Wishes(asap=True, answers=False))
    steps = planned.timetable.steps
    starts = {row.id: row.start for row in reversed(steps)}
    job = job_of(pieces, planned.deliveries, planned.now, planned.wishes)
    free = slips_of(planned).latest
    limit = free[steps[0].id] - timedelta(hours=5)
    limited = timetable_slips_of(job, steps, lambda moment: moment <= limit).latest
    assert starts[steps[0].id] < limited[steps[0].id] <= limit
    assert all(starts[name] <= limited[name] <= free[name] for name in free)
    never = timetable_slips_of(job, steps, lambda _moment: False).latest
    assert never == {name: starts[name] for name in free}


PEGS = """piece: Row of pegs
lengths: mm
timber: ash
system: hardwax-oil
parts:
  peg: {shape: rod, diameter: 12, length: 90, count: 9}
  post: {shape: rod, diameter: 40, length: 900, count: 3}
  knob: {shape: rod, diameter: 30, length: 60, count: 5}
"""


def test_what_takes_all_of_the_rack_is_not_reckoned_to_lie_there_beside_other_things(tmp_path: Path) -> None:
    """Nine pegs take all four hooks: whoever begins as late as is printed still has a place for each coat in turn."""
    pieces = read(tmp_path, [PEGS], ONE_PERSON + "rack: {places: 3, hooks: 4}\n")
    planned = plan(pieces, DUE, wishes=Wishes(asap=True, answers=False))
    first = planned.timetable.steps[0]
    latest = slips_of(planned).latest[first.id]
    assert latest > first.start
    assert plan(pieces, DUE, now=latest, wishes=Wishes(answers=False)).timetable.has_plan


def test_coats_that_come_apart_are_cleaned_up_after_each(tmp_path: Path) -> None:
    """Of many quick coats in one go: put off, each needs a clean-up of its own, within working hours, on the slot."""
    turned = PEGS.replace("hardwax-oil", "shellac").replace("count: 9", "count: 2").replace("count: 5", "count: 2")
    pieces = read(tmp_path, [turned], ONE_PERSON + "rack: {places: 3, hooks: 9}\n")
    planned = plan(pieces, DUE, wishes=Wishes(answers=False))
    first = planned.timetable.steps[0]
    latest = slips_of(planned).latest[first.id]
    assert latest > first.start
    assert plan(pieces, DUE, now=latest, wishes=Wishes(answers=False)).timetable.has_plan


def _portion(row: TimetableStep) -> str:
    return row.step.rpartition(",")[2] if "," in row.step else ""


@pytest.mark.parametrize("shop", [ONE_PERSON, TWO_PEOPLE])
def test_no_step_may_begin_later_than_what_comes_on_it(shop: str, tmp_path: Path) -> None:
    planned = plan(read(tmp_path, [shelf(count=2)], shop), DUE)
    slips = slips_of(planned)
    attended = [row for row in planned.timetable.steps if row.kind == "attended" and row.deed != "clean-up"]
    assert set(slips.latest) == {row.id for row in attended}
    for row in attended:
        assert row.start <= slips.latest[row.id]
        for later in attended:
            if later.item == row.item and later.start > row.start:
                assert slips.latest[row.id] < slips.latest[later.id]


def test_what_is_found_too_early_for_a_step_is_what_it_comes_to_after_the_one_before(tmp_path: Path) -> None:
    """An item's step is not past while one before it may still wait: here the search for the last found too little."""
    planned = plan(read(tmp_path, [shelf()], ONE_PERSON), DUE)
    slipping = lived_through(
        job_of(planned.pieces, planned.deliveries, planned.now, planned.wishes), planned.timetable.steps
    )
    assert slipping is not None
    names = list(slipping.latest())
    latest = {name: slipping.minute(slips_of(planned).latest[name]) for name in names}
    first, *_, last = sorted(names, key=slipping.planned)
    mended = slipping.carried_on({**latest, last: slipping.minute(slipping.planned(last))})
    assert latest[first] < mended[last] <= latest[last]
    assert {name: mended[name] for name in names if name != last} == {
        name: latest[name] for name in names if name != last
    }


def test_a_lost_day_makes_no_date_surer(tmp_path: Path) -> None:
    planned = plan(read(tmp_path, [shelf("oil-varnish-blend")], ONE_PERSON), DUE, wishes=Wishes())
    sure = planned.timetable.in_time_probability
    lost = slips_of(planned).lost_days
    assert sure is not None
    assert [one.day for one in lost] == sorted(
        {row.start.date() for row in planned.timetable.steps if row.kind == "attended"}
    )
    assert all(one.in_time <= sure + 1e-9 for one in lost)
    assert any(one.in_time < sure for one in lost)


def test_a_lost_night_is_lost_to_its_end(tmp_path: Path) -> None:
    """Not until midnight alone: as sure as what is begun a night later, and at midnight it was told to be far surer."""
    pieces = read(tmp_path, [shelf()], NIGHT_SHIFT)
    noon, asap = datetime(2027, 3, 1, 12, tzinfo=UTC), Wishes(asap=True, answers=False)
    soon = plan(pieces, DUE, now=noon, wishes=asap).timetable.pieces[0].ready
    due = f"{soon + timedelta(hours=32):%Y-%m-%d %H:%M}"
    first, second = (plan(pieces, due, now=now, wishes=asap) for now in (noon, noon + timedelta(days=1)))
    later = second.timetable.in_time_probability
    assert later is not None
    assert 0.2 < later < 0.8
    night = slips_of(first).lost_days[0]
    assert night.day == noon.date()
    assert night.in_time == pytest.approx(later, abs=0.05)


def test_what_has_no_date_cannot_be_late(tmp_path: Path) -> None:
    assert slips_of(plan(read(tmp_path, [shelf()], ONE_PERSON))) == Slips({}, ())


def test_what_is_late_anyway_has_no_latest_start(tmp_path: Path) -> None:
    """A plan that was made for a later date is held against a sooner one."""
    planned = plan(read(tmp_path, [shelf()], ONE_PERSON), DUE)
    ready = planned.timetable.pieces[0].ready
    sooner = plan(planned.pieces, f"{ready - timedelta(hours=30):%Y-%m-%d %H:%M}", wishes=Wishes(asap=True))
    late = Planned(planned.pieces, sooner.deliveries, planned.now, planned.wishes, planned.timetable)
    assert slips_of(late).latest == {}


STAIRS = """piece: Stairs
lengths: mm
timber: white-oak
system: hardwax-oil-2k
parts:
  tread: {shape: rectangle, length: 920, width: 270, thickness: 40, count: 13, edge: roundover 5}
  handrail: {shape: moulding, length: 3800, profile: [[0, 0], [0, 20], {arc: [60, 20], rise: 25}, [60, 0]], count: 2}
  newel: {shape: square-leg, side: 80, length: 760, count: 2}
"""
HELPED = """shop: One and a half
time-zone: UTC
people:
  - {name: Una, hours: {mon-fri: [7:30-12:00, 12:30-16:00]}}
  - {name: Pim, hours: {mon-wed: 8:00-12:00}, skills: [sanding]}
rooms:
  hall: {for: [sanding, assembly]}
  oil room: {for: [coating, drying], volume: 70 m3, air-changes: 1.5}
"""


@pytest.mark.parametrize(("shop", "asap"), [(HELPED, False), (HELPED, True), (ONE_PERSON, False)])
def test_no_step_has_to_begin_sooner_than_one_that_is_planned_before_it(shop: str, asap: bool, tmp_path: Path) -> None:
    """The first might begin at 8:25, and the next, for which there was a second pair of hands, had to at 8:10."""
    planned = plan(read(tmp_path, [STAIRS], shop), DUE, wishes=Wishes(answers=False, asap=asap))
    latest = slips_of(planned).latest
    in_order = list(dict.fromkeys(row.id for row in planned.timetable.steps if row.id in latest))
    assert len(in_order) > 5
    for name, other in pairwise(in_order):
        assert latest[name] <= latest[other], (name, other)


@pytest.mark.parametrize("asap", [False, True])
def test_who_begins_at_the_very_latest_is_in_time(asap: bool, tmp_path: Path) -> None:
    """Of a morning on which a second pair of hands is there the next was said, on which all would be late."""
    planned = plan(read(tmp_path, [STAIRS], HELPED), DUE, wishes=Wishes(answers=False, asap=asap))
    very_latest = slips_of(planned).latest[planned.timetable.steps[0].id]
    begun = plan(planned.pieces, DUE, now=very_latest, wishes=Wishes(answers=False, asap=True))
    assert begun.timetable.has_plan
    assert begun.timetable.start == very_latest
