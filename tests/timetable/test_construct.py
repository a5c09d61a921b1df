"""Plans made at once: every one keeps every rule, whatever is planned and in whatever shop.

The rules are those of the scheduling problem, held against the plan by ``finplan.scheduling.broken_rules``, which knows
nothing of how plans are made; the jobs are made up (``generated``).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.scheduling import Slots, broken_rules
from finplan.telling import remedy_words, requirement_words
from finplan.timetable import Job, NotFoundYetError, Planner
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.place import NoRoomError, TimeIsUpError, place_early
from finplan.timetable.construct.plans import Maker
from finplan.timetable.construct.profile import Level
from finplan.timetable.explain import clashes
from finplan.timetable.help.change import Way
from finplan.timetable.hours import Hours
from finplan.timetable.problem import Window
from finplan.timetable.timetable import NO_BUFFER, Buffer
from tests.timetable import generated
from tests.timetable.generated import NOW, case, treated_case


def made_up_job(seed: int, pieces: int, folder: Path) -> Job:
    made = case(seed, pieces)
    dates = tuple(None if text is None else GivenDate.parse(text) for text in made.deliveries)
    return job_of(treated_case(made, folder), dates, NOW, Wishes(asap=made.asap))


def test_a_buffer_is_found_from_a_plan_that_is_ready_early(tmp_path: Path) -> None:
    """From a plan made for the dates with their buffer none was found for this one, and it took twice as long."""
    made = case(39, 6)
    treated = treated_case(made, tmp_path)
    dates = generated.with_dates_that_can_be_kept(made, treated).deliveries
    wanted = tuple(None if date is None else GivenDate.parse(date) for date in dates)
    planner = Planner(job_of(treated, wanted, NOW, Wishes(answers=False)))
    buffer = Buffer(24.0, working=False)
    assert planner.made_late(buffer) is None
    found = planner.late(buffer, tidy=False)
    assert found is not None
    dues = {piece.key: planner.due_with(piece, buffer) for piece in planner.job.pieces}
    assert all(due is None or planner.maker.ready(found.schedule)[key] <= due for key, due in dues.items())


@pytest.mark.parametrize("pieces", [1, 2, 3, 6, 12])
@pytest.mark.parametrize("seed", range(4))
def test_a_plan_made_at_once_keeps_every_rule(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    early = planner.made_early(dated=False)
    for made in (early, planner.made_late(NO_BUFFER)):
        if made is None:
            continue
        first, last = planner.setting.first, planner.setting.slots - 1
        windows = {piece.key: Window(first, last) for piece in planner.job.pieces}
        problem = planner.placement(windows, turns=False).problem
        assert broken_rules(problem, made.schedule) == []
    assert planner.faults == []
    if early is None:  # then something has no room even where nothing else is done
        with pytest.raises(NoRoomError) as no_room:
            planner.maker.early(lambda _: (0,), {}, {})
        empty = Bench(planner.maker.network, planner.setting)
        assert empty.earliest(no_room.value.task, planner.setting.first, 0) is None


def with_dates_that_can_be_kept(job: Job, seed: int, days: int) -> Job:
    """Return a job in which each piece is due some days after it is ready if they are made one after another at random.

    Whatever plans it may have to find that order again: such a plan keeps every date.
    """
    free = replace(job, pieces=tuple(replace(piece, deliver=None) for piece in job.pieces))
    planner = Planner(free)
    maker, setting = planner.maker, planner.setting
    order = [piece.key for piece in job.pieces]
    Random(seed).shuffle(order)
    tasks, bench = maker.network.tasks, Bench(maker.network, setting)
    number = {name: place for place, name in enumerate(tasks)}
    place_early(
        bench,
        maker.network,
        tasks,
        lambda name, _: (order.index(tasks[name].piece), number[name]),
        {},
        0,
        lambda: 1.0,
    )
    ready = maker.ready(bench.plan)
    dates = {key: setting.clock_of_slot(slot) + timedelta(days=days) for key, slot in ready.items()}
    due = {key: GivenDate.parse(f"{date:%Y-%m-%d %H:%M}") for key, date in dates.items()}
    pieces = tuple(replace(piece, deliver=due[piece.key]) for piece in job.pieces)
    return replace(job, pieces=pieces)


@pytest.mark.parametrize(("seed", "pieces"), [(0, 2), (0, 6), (3, 6), (2, 12), (3, 20)])
def test_dates_that_can_be_kept_are_kept_at_once(seed: int, pieces: int, tmp_path: Path) -> None:
    """Of these no rule of what comes first keeps all dates of the first, the second and the third by itself."""
    planner = Planner(with_dates_that_can_be_kept(made_up_job(seed, pieces, tmp_path), seed, days=1))
    early = planner.made_early(dated=True)
    assert early is not None
    dues = {piece.key: planner.due(piece) for piece in planner.job.pieces}
    ready = planner.maker.ready(early.schedule)
    assert all(due is None or ready.get(key, 0) <= due for key, due in dues.items())


def test_what_is_too_late_is_put_in_time_where_others_are_taken_out_for_it(tmp_path: Path) -> None:
    """No rule of what comes first keeps all dates of this job, which one order of its pieces is known to keep."""
    planner = Planner(with_dates_that_can_be_kept(made_up_job(25, 5, tmp_path), 25, days=0))
    assert planner.made_early(dated=True) is None
    found = planner.least_late()
    assert found is not None
    assert planner.lateness(found) == 0
    first, last = planner.setting.first, planner.setting.slots - 1
    windows = {piece.key: Window(first, last, planner.due(piece)) for piece in planner.job.pieces}
    assert broken_rules(planner.placement(windows, turns=False).problem, found.schedule) == []
    assert planner.faults == []


def test_what_is_not_proven_is_ready_sooner_by_orders_drawn_at_random(tmp_path: Path) -> None:
    planner = Planner(made_up_job(19, 2, tmp_path))
    rules, drawn = planner.made_early(dated=False), planner.early(tidy=False)
    assert rules is not None
    assert drawn is not None
    ready = [max(planner.maker.ready(one.schedule).values()) for one in (rules, drawn)]
    assert ready[0] - ready[1] > 7 * 24 * 60 // planner.setting.slot_min
    first, last = planner.setting.first, planner.setting.slots - 1
    windows = {piece.key: Window(first, last) for piece in planner.job.pieces}
    assert broken_rules(planner.placement(windows, turns=False).problem, drawn.schedule) == []
    assert planner.faults == []


def test_what_is_moved_back_begins_later_and_keeps_every_rule_and_date(tmp_path: Path) -> None:
    planner = Planner(with_dates_that_can_be_kept(made_up_job(3, 6, tmp_path), 3, days=1))
    early = planner.made_early(dated=True)
    assert early is not None
    dues = {piece.key: due for piece in planner.job.pieces if (due := planner.due(piece)) is not None}
    plan = planner.maker.moved_back(early.schedule, dues)
    assert broken_rules(early.placement.problem, early.schedule) == []
    whole = planner.placement({key: Window(planner.setting.first, due, due) for key, due in dues.items()}, turns=False)
    assert broken_rules(whole.problem, plan) == []
    was, begun = planner.maker.begun(early.schedule), planner.maker.begun(plan)
    assert sum(begun.values()) > sum(was.values())


@dataclass
class Clock:
    """Something is left of the time as often as it may be asked."""

    asks: int
    asked: int = 0

    def left_s(self) -> float:
        self.asked += 1
        return float(self.asks - self.asked)


def test_the_end_of_the_time_is_heard_before_every_task(tmp_path: Path) -> None:
    job = made_up_job(2, 3, tmp_path)
    planner = Planner(job)
    tasks = len(planner.maker.network.tasks)

    def early(asks: int) -> tuple[Clock, Maker]:
        clock = Clock(asks)
        return clock, Maker(job.pieces, planner.setting, planner.waits, clock.left_s)

    clock, maker = early(tasks)
    with pytest.raises(TimeIsUpError):
        maker.early(lambda _: (0,), {}, {})
    assert clock.asked == clock.asks
    clock, maker = early(tasks + tasks // 2)  # enough for one plan: it is the answer
    plan = maker.early(lambda _: (0,), {}, {})
    assert clock.asked == clock.asks
    assert set(maker.network.tasks) <= set(plan)
    clock, maker = early(tasks // 2)
    with pytest.raises(NotFoundYetError, match="--limit"):
        maker.late(lambda _: (0,), {piece.key: planner.setting.slots - 1 for piece in job.pieces})
    assert clock.asked == clock.asks


def test_nothing_is_tried_when_the_time_is_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = made_up_job(2, 1, tmp_path)
    tight = replace(job, pieces=(replace(job.pieces[0], deliver=GivenDate.parse("2027-03-02")),))
    planner = Planner(tight)
    assert planner.least_late() is not None
    monkeypatch.setattr(Planner, "left_s", 0.0)

    def ways(_: Collection[str]) -> list[Way]:
        raise AssertionError("worked out though no time is left")

    (clash,) = clashes(planner, ways)
    assert requirement_words(clash.requirement).endswith("; not all that may help was tried, which takes long")
    assert [remedy_words(one.change).split()[0] for one in clash.would_fit] == ["deliver", "deliver"]


taken = st.lists(st.tuples(st.integers(0, 40), st.integers(1, 10), st.integers(1, 3)), max_size=12)


@given(taken, st.integers(0, 40), st.integers(1, 15), st.integers(0, 4))
def test_a_profile_is_over_where_a_count_is(
    spans: list[tuple[int, int, int]], start: int, length: int, limit: int
) -> None:
    profile = Level()
    level = [0] * 100
    for at, long, amount in spans:
        profile.take(at, at + long, amount)
        for slot in range(at, at + long):
            level[slot] += amount
    over = [slot for slot in range(start, start + length) if level[slot] > limit]
    found = profile.over(start, start + length, limit)
    assert (found is None) == (not over)
    if found is not None:
        assert found[0] <= over[0]
        assert found[1] > over[-1]
        assert all(level[slot] > limit for slot in range(max(found[0], 0), over[0]))
    for at, long, amount in spans:
        profile.take(at, at + long, -amount)
    assert profile.over(0, 99, 0) is None


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(1, 9)), min_size=1, max_size=6))
def test_hours_count_open_slots(gaps: list[tuple[int, int]]) -> None:
    spans, at = [], 0
    for gap, length in gaps:
        spans.append(Slots(at + gap, at + gap + length))
        at += gap + length
    hours = Hours(spans)
    opened = [slot for span in spans for slot in range(span.start, span.end)]
    assert hours.total == len(opened)
    assert [hours.slot(number) for number in range(hours.total)] == opened
    assert all(hours.before(slot) == sum(one < slot for one in opened) for slot in range(at + 3))
    assert [slot for slot in range(at + 3) if hours.is_open(slot)] == opened
