"""What is put on the bench as late as can be: what is critical first, or what can end last, whichever is later."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.timetable import Planner
from finplan.timetable.construct.alone import latest_times, longest_heads
from finplan.timetable.construct.bench import Bench
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.generated import NOW as BEGINS
from tests.timetable.generated import case, dates_of, treated_case
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf

ONE_PLACE = ONE_PERSON + "rack: {places: 1, hooks: 1}\n"


def planner_of(folder: Path, system: str, count: int) -> Planner:
    (piece,) = read(folder, [shelf(system, count=count)], ONE_PLACE)
    return Planner(job_of((piece,), (GivenDate.parse("2027-06-16 17:00"),), NOW, Wishes()))


@pytest.mark.parametrize("system", ["oil-varnish-blend", "hardwax-oil", "shellac"])
@pytest.mark.parametrize("count", [3, 6])
def test_of_two_orders_a_piece_is_put_in_the_one_that_begins_it_later(system: str, count: int, tmp_path: Path) -> None:
    planner = planner_of(tmp_path, system, count)
    maker = planner.maker
    (piece,) = planner.job.pieces
    due = {piece.key: planner.due_with(piece, NO_BUFFER) or 0}
    begun = {
        put: maker._begun_of(piece.key, getattr(maker, put)(maker._empty, piece.key, due))
        for put in ("_best_late", "_critical_late", "_latest_late")
    }
    assert begun["_best_late"] == max(begun["_critical_late"], begun["_latest_late"])
    assert begun["_best_late"] <= (maker.latest(piece.key, due[piece.key]) or 0)
    # Six shelves take turns in one place: it matters which is taken further first. Of shellac others are then better.
    assert (begun["_critical_late"] > begun["_latest_late"]) == (system != "shellac")


@pytest.mark.parametrize("seed", range(6))
def test_a_head_is_as_long_as_the_longest_of_what_comes_before(seed: int, tmp_path: Path) -> None:
    made = case(seed, 2)
    planner = Planner(job_of(treated_case(made, tmp_path), dates_of(made), BEGINS, Wishes()))
    network, bench = planner.maker.network, Bench(None, planner.setting)
    looked = 0
    for piece in planner.job.pieces:
        due = planner.due_with(piece, NO_BUFFER)
        times = None if due is None else latest_times(bench, network, piece.key, due)
        if due is None or times is None:
            continue
        starts, ends = times
        of_piece = longest_heads(bench, network, piece.key, due)
        for task in network.of_piece(piece.key):
            begun = ends[task.name] - of_piece[task.name]
            assert begun <= starts[task.name]
            for name, _ in task.waits:
                assert begun <= ends[name] - of_piece[name]
            looked += 1
        assert min(ends[name] - head for name, head in of_piece.items()) == min(starts.values())
    assert looked
