"""What a piece could have if it were alone in the shop, against what the general solver's own rules leave open.

``finplan.scheduling.start_bounds`` knows the same waits as tables of a scheduling problem, and shares no code with it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.scheduling import LatestStarts, solve, start_bounds
from finplan.timetable import Planner
from finplan.timetable.construct.alone import latest_times
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.place import NoRoomError
from finplan.timetable.problem import Window
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf
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
        found = latest_times(Bench(None, planner.setting), planner.maker.network, piece.key, due)
        assert (None if found is None else min(found[0].values())) == latest
        bound = planner.maker.latest(piece.key, due)
        assert (bound is None) == (latest is None)
        assert bound is None or latest is None or bound <= latest


DAY = 24 * 60 // 5
"""Slots."""
SMALL_RACK = ONE_PERSON + "rack: {places: 1, hooks: 1}\n"


@pytest.mark.parametrize("system", ["hardwax-oil", "wax"])
@pytest.mark.parametrize("shop", [ONE_PERSON, SMALL_RACK], ids=["roomy", "one place"])
def test_no_plan_begins_later_than_work_and_rack_leave_open(system: str, shop: str, tmp_path: Path) -> None:
    """Against the proven best of the general solver, which knows nothing of either bound."""
    (piece,) = read(tmp_path, [shelf(system, count=3)], shop)
    planner = Planner(job_of((piece,), (GivenDate.parse("2027-04-16 17:00"),), NOW, Wishes()))
    (work,) = planner.job.pieces
    due = planner.due(work)
    assert due is not None
    placement = planner.placement({work.key: Window(due - 14 * DAY, due, due)})
    result = solve(placement.problem, [LatestStarts(placement.chains)], limit_s=60, workers=1)
    assert result.stages[0].proven
    begun = planner.maker.begun(result.schedule)[work.key]
    bound = planner.maker.latest(work.key, due)
    assert bound is not None
    assert begun <= bound
    waits = latest_times(Bench(None, planner.setting), planner.maker.network, work.key, due)
    assert waits is not None
    if shop is SMALL_RACK:
        assert bound < min(waits[0].values())


@pytest.mark.parametrize(("seed", "pieces"), [(1, 6), (4, 3), (2, 6)])
def test_no_plan_made_at_once_begins_later_than_alone(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    made = planner.made_late(NO_BUFFER)
    if made is None:
        pytest.skip("no plan keeps the dates")
    begun = planner.maker.begun(made.schedule)
    for piece in planner.job.pieces:
        due = planner.due(piece)
        latest = None if due is None else planner.maker.latest(piece.key, due)
        assert latest is None or begun[piece.key] <= latest


@pytest.mark.parametrize(("seed", "pieces"), [(1, 6), (2, 6), (3, 3), (5, 2)])
def test_no_plan_readies_a_piece_sooner_than_it_would_be_alone(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    try:
        plan = planner.maker.early(lambda _: (0,), {}, {})
    except NoRoomError:
        pytest.skip("something never has room")
    for key, moment in planner.maker.ready(plan).items():
        assert planner.setting.first < planner.maker.soonest(key) <= moment
