"""In which order tasks are placed: what has least time left before its end, and plans moved back and up again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.timetable import Job, Planner
from finplan.timetable.construct import early
from tests.timetable.generated import NOW, case, treated_case


def made_up(seed: int, pieces: int, folder: Path) -> Job:
    made = case(seed, pieces)
    return job_of(treated_case(made, folder), (None,) * pieces, NOW, Wishes())


def test_a_task_has_to_end_before_what_waits_for_it_by_the_wait_between_them(tmp_path: Path) -> None:
    planner = Planner(made_up(1, 1, tmp_path))
    maker = planner.maker
    ends = maker._last_ends({})
    dried = 0
    for after in maker.network.tasks.values():
        for name, rule in after.waits:
            before = maker.network.tasks[name]
            start = max(planner.setting.first, before.earliest)
            moment = start if rule is None else rule(start)
            assert moment is not None
            wait = moment - start
            dried += wait > after.slots
            assert ends[name] <= ends[after.name] - after.slots - wait
    assert dried, "something waits for a coat to dry"


def test_of_a_wait_that_never_ends_nothing_is_added(tmp_path: Path) -> None:
    maker = Planner(made_up(1, 1, tmp_path)).maker
    after = next(task for task in maker.network.tasks.values() if task.waits)
    before = maker.network.tasks[after.waits[0][0]]
    never = replace(after, waits=((before.name, lambda _: None),))
    assert maker._ends_before(never, before, {after.name: 100}) == 100 - after.slots


@pytest.mark.parametrize(("seed", "pieces", "sooner"), [(1, 6, True), (2, 4, False), (5, 3, False)])
def test_plans_moved_back_and_up_again_are_never_ready_later(
    seed: int, pieces: int, sooner: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = made_up(seed, pieces, tmp_path)

    def ready() -> int:
        planner = Planner(job)
        found = planner.made_early(dated=False)
        assert found is not None
        assert planner.faults == []
        return max(planner.maker.ready(found.schedule).values())

    moved = ready()
    monkeypatch.setattr(early, "_SHIFTED", 0)
    assert moved < ready() if sooner else moved <= ready()
