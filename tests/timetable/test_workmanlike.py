"""A plan that is more workmanlike is never a worse one: no piece begins sooner, none is ready later."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.planning import Wishes, job_of
from finplan.scheduling import Schedule, broken_rules
from finplan.timetable import Planner
from finplan.timetable.construct.laid_out import LaidOut
from finplan.timetable.construct.last_hand import with_last_hand
from finplan.timetable.construct.plans import Maker
from finplan.timetable.construct.workmanlike import awkward_min, idle_days
from finplan.timetable.late import plan_late
from finplan.timetable.problem import Window
from finplan.timetable.sure_enough import sure_last_hand as sure_with_last_hand
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import COOL_SHOP, NOW, ONE_PERSON, read, shelf
from tests.timetable.shops import plan as planned
from tests.timetable.test_construct import made_up_job

DAY = 24 * 60 // 5
"""Slots."""


def soonest(maker: Maker) -> Schedule:
    """Return a plan that is ready early, made without a look at how awkward it is."""
    return maker.early(lambda plan: tuple(maker.ready(plan).values()), {}, {})


@pytest.mark.parametrize(("seed", "pieces"), [(2, 3), (1, 6), (3, 6), (2, 12)])
def test_no_date_start_or_rule_is_the_worse_for_it(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    maker, setting = planner.maker, planner.setting
    plan = soonest(maker)
    found = maker.workmanlike(plan)
    window = Window(setting.first, setting.slots - 1)
    whole = planner.placement({piece.key: window for piece in planner.job.pieces}, turns=False)
    assert broken_rules(whole.problem, found) == []
    assert awkward_min(found, maker.network, setting) <= awkward_min(plan, maker.network, setting)
    before, after = maker.ready(plan), maker.ready(found)
    assert all(after[key] <= before[key] for key in before)
    before, after = maker.begun(plan), maker.begun(found)
    assert all(after[key] >= before[key] for key in before)
    assert maker.extras(found)[0] <= maker.extras(plan)[0]
    assert maker.workmanlike(plan) == found


def test_some_plans_become_less_awkward(tmp_path: Path) -> None:
    gained = []
    for seed, pieces in ((0, 1), (1, 2), (2, 3)):
        planner = Planner(made_up_job(seed, pieces, tmp_path))
        maker = planner.maker
        plan = soonest(maker)
        was, now = (awkward_min(one, maker.network, planner.setting) for one in (plan, maker.workmanlike(plan)))
        gained.append(was - now)
    assert max(gained) > 0


def test_what_is_awkward_by_hand(tmp_path: Path) -> None:
    (piece,) = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON)
    planner = Planner(job_of((piece,), (None,), NOW, Wishes()))
    network, setting = planner.maker.network, planner.setting
    plan = dict(planner.maker.early(lambda _: (0,), {}, {}))
    weights = setting.catalogue.workmanship["common"]
    *_, last = network.tasks.values()
    was, idle = awkward_min(plan, network, setting), idle_days(plan, network, setting)
    done = plan[last.name]  # a week later, at the same time of day
    later = plan | {last.name: replace(done, start=done.start + 7 * DAY, end=done.end + 7 * DAY)}
    assert idle_days(later, network, setting) == idle + 5  # nobody is there on the other two
    worth = 5 * weights.idle_day_h * 60
    other = (weights.half_day_h + 2 * weights.change_over_h) * 60  # it may begin a half day, and no longer part two
    assert awkward_min(later, network, setting) - was == pytest.approx(worth, abs=other)
    clean_up = next(one.clean_up.name for one in network.tasks.values() if one.clean_up is not None)
    without = {name: one for name, one in plan.items() if name != clean_up}
    assert was - awkward_min(without, network, setting) == pytest.approx(weights.clean_up_h * 60)


# --- the last hand --------------------------------------------------------------------------------------------------

JOBS = [(0, 1), (2, 2), (1, 3), (3, 4), (0, 6), (3, 20)]


@cache
def plans_of(seed: int, pieces: int) -> tuple[Planner, list[Schedule]]:
    """Return a planner with an early and, where there is one, a late plan that were made at once."""
    with TemporaryDirectory() as folder:
        planner = Planner(made_up_job(seed, pieces, Path(folder)))
    made = (planner.made_early(dated=False), planner.made_late(NO_BUFFER))
    return planner, [one.schedule for one in made if one is not None]


@pytest.mark.parametrize("coats", [False, True], ids=["other work", "coats too"])
@pytest.mark.parametrize(("seed", "pieces"), JOBS)
def test_the_last_hand_makes_nothing_worse(seed: int, pieces: int, coats: bool) -> None:
    planner, plans = plans_of(seed, pieces)
    maker, setting, network = planner.maker, planner.setting, planner.maker.network
    window = Window(setting.first, setting.slots - 1)
    whole = planner.placement({piece.key: window for piece in planner.job.pieces}, turns=False)
    assert plans
    for plan in plans:
        found = with_last_hand(plan, network, setting, coats=coats)
        assert broken_rules(whole.problem, found) == []
        assert awkward_min(found, network, setting) <= awkward_min(plan, network, setting)
        assert maker.extras(found)[0] == maker.extras(plan)[0]
        before, after = maker.ready(plan), maker.ready(found)
        assert all(after[key] <= before[key] for key in before)
        before, after = maker.begun(plan), maker.begun(found)
        assert all(after[key] >= before[key] for key in before)
        if not coats:
            put_on = [name for name, task in network.tasks.items() if task.wet is not None]
            assert all(found[name] == plan[name] for name in put_on)


@pytest.mark.parametrize(("seed", "pieces"), JOBS)
def test_a_few_minutes_of_work_are_not_torn_by_a_break(seed: int, pieces: int) -> None:
    planner, plans = plans_of(seed, pieces)
    network, slots_of = planner.maker.network, planner.setting.slots_of
    few_min = 60 * planner.setting.catalogue.workmanship["common"].whole_up_to_h
    short = [task for task in network.tasks.values() if task.operation.work_min <= few_min]
    assert short
    for plan in plans:
        torn = [task.name for task in short if plan[task.name].end - plan[task.name].start > slots_of(task.operation)]
        assert torn == []


def test_wood_is_sanded_on_the_day_of_its_first_coat_where_there_is_time(tmp_path: Path) -> None:
    """Sanded three days before is what no maker does: bare wood gathers dust and moisture (practice)."""
    (piece,) = read(tmp_path, [shelf("hardwax-oil", count=3)], ONE_PERSON)
    planner = Planner(job_of((piece,), (None,), NOW, Wishes()))
    network, setting = planner.maker.network, planner.setting
    tasks = network.tasks.values()
    monday = dict(planner.maker.early(lambda _: (0,), {}, {}))
    later = {name: replace(done, start=done.start + 7 * DAY, end=done.end + 7 * DAY) for name, done in monday.items()}
    sanded = {task.name for task in tasks if task.operation.on_bare_wood and task.operation.deed == "sand"}
    plan = {name: monday[name] if name in sanded else later[name] for name in monday}
    found = with_last_hand(plan, network, setting, coats=False)
    first_coats = [one for one in tasks if one.wet is not None and sanded & {name for name, _ in one.waits}]
    assert len(first_coats) == len(sanded) == 3
    for coat in first_coats:
        (before,) = (name for name, _ in coat.waits)
        days = [setting.clock_of_slot(one[at].start).date() for one, at in ((found, before), (found, coat.name))]
        assert days[0] == days[1]
    assert idle_days(plan, network, setting) >= 3 * 5
    assert idle_days(found, network, setting) <= idle_days(later, network, setting)


@pytest.mark.parametrize(("seed", "pieces"), [(1, 1), (2, 2)])
def test_the_last_hand_leaves_a_plan_as_sure_as_is_wanted(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    sure = plan_late(planner)
    assert sure is not None
    found = sure_with_last_hand(planner, sure)
    aim = planner.job.shop.in_time_pct / 100
    assert found.in_time_of.keys() == sure.in_time_of.keys()
    assert all(chance >= min(aim, sure.in_time_of[key]) for key, chance in found.in_time_of.items())
    assert planner.faults == []


@given(st.randoms(use_true_random=False), st.sampled_from(JOBS))
def test_what_is_taken_off_the_bench_and_put_back_leaves_it_as_it_was(random: Random, job: tuple[int, int]) -> None:
    planner, plans = plans_of(*job)
    network, plan = planner.maker.network, random.choice(plans)
    bench = LaidOut(network, planner.setting, plan)
    earlier = {name for name, _ in network.wet_before}
    assert {name: done for name, done in bench.plan.items() if name not in earlier} == plan
    was = levels(bench)
    for task in random.sample(list(network.tasks.values()), min(30, len(network.tasks))):
        again = task.again is not None and task.again.name in plan
        if again or not bench.is_loose(task):
            continue
        done, count = bench.plan[task.name], len(bench.plan)
        bench.drop(task)
        alone = task.clean_up is not None and len(bench.plan) < count - 1
        bench.take(task, bench.back(task, done, alone=alone))
        assert {name: one for name, one in bench.plan.items() if name not in earlier} == plan
        assert levels(bench) == was


def levels(bench: LaidOut) -> list[object]:
    """Return what is taken of everything on the bench, from when on how much."""
    profiles = [bench._sanding, bench._wet, bench._spraying, bench._places, bench._hooks]
    levels = [[*zip(one._at, one._level, strict=True)] for one in profiles]
    return [*levels, *((free._free, free.is_taken_twice) for free in bench._free.values())]


@pytest.mark.parametrize("waits", [False, True], ids=["the later sooner", "the sooner later"])
def test_two_runs_with_nothing_between_are_put_on_in_one_go(waits: bool, tmp_path: Path) -> None:
    """Nobody washes a brush and takes it up again at once for the same finish (practice): of four coats two by two."""
    (piece,) = read(tmp_path, [shelf("hardwax-oil", count=4)], ONE_PERSON)
    planner = Planner(job_of((piece,), (None,), NOW, Wishes()))
    network, setting = planner.maker.network, planner.setting
    plan = dict(planner.maker.early(lambda _: (0,), {}, {}))
    first, second, *others = (f"shelf {number}/hardwax-oil/2" for number in (1, 2, 3, 4))
    washed = network.tasks[second].clean_up
    last = network.tasks[others[-1]].clean_up
    assert washed is not None
    assert last is not None
    end = plan[second].end
    split = plan | {washed.name: replace(plan[second], start=end, end=end + washed.slots)}
    for name in (*others, last.name):
        split[name] = replace(plan[name], start=plan[name].start + washed.slots, end=plan[name].end + washed.slots)
    if waits:
        network.tasks[others[0]].earliest = split[others[0]].start
    found = with_last_hand(split, network, setting, coats=True)
    assert washed.name not in found
    assert found[first].start == (split[first].start + washed.slots if waits else split[first].start)
    run = [found[name] for name in (first, second, *others, last.name)]
    assert all(one.end == other.start for one, other in pairwise(run))
    assert {*found} == {*plan}


def test_a_coat_does_not_wait_for_closing_time_to_dry_over_a_free_day(tmp_path: Path) -> None:
    """Nothing lies idle while nobody is there: of two hours with the same date the earlier leaves time in hand."""
    (piece,) = read(tmp_path, [shelf("oil-varnish")], COOL_SHOP)
    friday = datetime(2027, 3, 5, 8, tzinfo=NOW.tzinfo)
    found = planned((piece,), now=friday, wishes=Wishes(answers=False, asap=True)).timetable
    sanded, coated = [step for step in found.steps if step.kind == "attended"][:2]
    assert (sanded.deed, coated.deed) == ("sand", "coat")
    assert coated.start - sanded.end <= timedelta(hours=1)
