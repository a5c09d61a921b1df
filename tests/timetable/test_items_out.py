"""Some items taken out of a plan that is to be ready early: nothing is left that waits for them, and it gets far."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.scheduling import Schedule
from finplan.timetable import Planner
from finplan.timetable.construct.drawn import Moves
from finplan.timetable.construct.items_out import items_out
from finplan.timetable.construct.row import row_up_to
from tests.timetable.generated import NOW, case, treated_case


def planner_of(seed: int, pieces: int, folder: Path, *, stripped: bool = False) -> Planner:
    treated = treated_case(case(seed, pieces, stripped=stripped), folder)
    return Planner(job_of(treated, (None,) * pieces, NOW, Wishes()))


@pytest.mark.parametrize("stripped", [False, True])
def test_what_waits_goes_too_and_some_stays(stripped: bool, tmp_path: Path) -> None:
    planner = planner_of(12, 2, tmp_path, stripped=stripped)
    made = planner.made_early(dated=False)
    assert made is not None
    network, moves = planner.maker.network, Moves()
    tasks = network.tasks
    name = max(tasks, key=lambda name: made.schedule[name].end)
    last = tasks[name].piece, tasks[name].operation.item
    counts, with_last = set(), 0
    for _ in range(50):
        out = {task.name for task in items_out(network, made.schedule, last, moves)}
        counts.add(len(out))
        with_last += name in out
        for task in (tasks[taken] for taken in out):
            assert out.issuperset(task.before)
            assert out.issuperset(member.name for member in row_up_to(task, network))
    assert with_last == 50, "what is ready last is always among them"
    assert len(counts) > 10
    assert max(counts) < len(tasks)


def test_a_short_rack_is_used_to_the_full(tmp_path: Path) -> None:
    """Of two pieces with 87 tasks that wait for one place on the rack, all is ready within an hour of the bound.

    Orders of all tasks drawn at random came no nearer than two days, in twice as many draws: once a day was lost the
    rest was planned sooner than without.
    """
    planner = planner_of(12, 2, tmp_path)
    made = planner.made_early(dated=False)
    assert made is not None
    found = planner._at_once.earlier(made, dated=False, asked=False)
    assert planner.faults == []
    hour = 60 // planner.setting.slot_min
    soonest = planner.maker.all_soonest([piece.key for piece in planner.job.pieces])
    assert soonest <= max(planner.maker.ready(found.schedule).values()) <= soonest + hour
    assert max(planner.maker.ready(made.schedule).values()) > soonest + 100 * hour


@pytest.mark.parametrize(("orders", "asked", "is_tried"), [(19, False, False), (21, False, True), (19, True, True)])
def test_where_few_orders_could_be_tried_none_is_unless_it_is_what_is_asked_for(
    orders: int, asked: bool, is_tried: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planner = planner_of(12, 2, tmp_path)
    made = planner.made_early(dated=False)
    assert made is not None
    tried: list[Schedule] = []

    def moved(plan: Schedule) -> tuple[None, int]:
        tried.append(plan)
        return None, 1_000

    maker = planner.maker
    monkeypatch.setattr(maker, "_items_moved", moved)
    monkeypatch.setattr(maker, "_drawn_left", 2 * orders * len(maker.network.tasks))
    maker.drawn_early(made.schedule, lambda _: (0,), {}, asked=asked)
    assert bool(tried) is is_tried
