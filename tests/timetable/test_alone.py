"""What a piece could have if it were alone in the shop, against what the general solver's own rules leave open.

``finplan.scheduling.start_bounds`` knows the same waits as tables of a scheduling problem, and shares no code with it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.scheduling import start_bounds
from finplan.timetable import Planner
from finplan.timetable.construct.place import NoRoomError
from finplan.timetable.problem import Window
from tests.timetable.test_construct import made_up_job


@pytest.mark.parametrize(("seed", "pieces"), [(1, 6), (2, 6), (3, 3), (4, 3), (5, 2)])
def test_the_latest_start_alone_is_the_last_that_the_waits_leave_open(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    for piece in planner.job.pieces:
        due = planner.due(piece)
        if due is None:
            continue
        window = Window(planner.setting.first, due, due)
        bounds = start_bounds(planner.placement({piece.key: window}, turns=False).problem)
        latest = None if bounds is None else min(bounds[one.id][1] for one in piece.open)
        assert planner.maker.latest(piece.key, due) == latest


@pytest.mark.parametrize(("seed", "pieces"), [(1, 6), (2, 6), (3, 3), (5, 2)])
def test_no_plan_readies_a_piece_sooner_than_it_would_be_alone(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    try:
        plan = planner.maker.early(lambda _: (0,), {}, {})
    except NoRoomError:
        pytest.skip("something never has room")
    for key, moment in planner.maker.ready(plan).items():
        assert planner.setting.first < planner.maker.soonest(key) <= moment
