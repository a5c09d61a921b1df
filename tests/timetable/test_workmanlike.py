"""A plan that is more workmanlike is never a worse one: no piece begins sooner, none is ready later."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.scheduling import Schedule, broken_rules
from finplan.timetable import Planner
from finplan.timetable.construct.plans import Maker
from finplan.timetable.construct.workmanlike import awkward_min, idle_days
from finplan.timetable.problem import Window
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf
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
    for seed in range(4):
        planner = Planner(made_up_job(seed, 6, tmp_path))
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
    assert idle_days(later, network, setting) == idle + 7
    worth = 7 * weights.idle_day_h * 60
    other = (weights.half_day_h + 2 * weights.change_over_h) * 60  # it may begin a half day, and no longer part two
    assert awkward_min(later, network, setting) - was == pytest.approx(worth, abs=other)
    clean_up = next(one.clean_up.name for one in network.tasks.values() if one.clean_up is not None)
    without = {name: one for name, one in plan.items() if name != clean_up}
    assert was - awkward_min(without, network, setting) == pytest.approx(weights.clean_up_h * 60)
