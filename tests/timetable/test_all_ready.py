"""How early pieces could all be ready together: never later than the proven best, or than what trying everything finds.

The proven best is the general solver's, which knows nothing of these bounds.
"""

from __future__ import annotations

from itertools import product
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.planning import Wishes, job_of
from finplan.scheduling import EarliestFinish, Slots
from finplan.timetable import Planner
from finplan.timetable.construct.all_ready import soonest_for_work, turns_on
from finplan.timetable.construct.network import Task
from finplan.timetable.hours import Hours
from finplan.timetable.setting import Setting
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf
from tests.timetable.test_construct import made_up_job


def proven(planner: Planner) -> int:
    """Return when everything is ready at the earliest, which has to be proven. [slot]"""
    found = planner.early(tidy=False)
    assert found is not None
    assert all(stage.proven for stage in found.result.stages if isinstance(stage.objective, EarliestFinish))
    return max(planner.maker.ready(found.schedule).values())


@pytest.mark.parametrize(("seed", "pieces"), [(2, 2), (4, 2), (5, 2), (9, 2), (14, 2), (3, 3), (10, 3)])
def test_no_proven_best_is_sooner(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = Planner(made_up_job(seed, pieces, tmp_path))
    assert planner.setting.first < planner.maker.all_soonest([piece.key for piece in planner.job.pieces])
    assert planner.maker.all_soonest([piece.key for piece in planner.job.pieces]) <= proven(planner)


@pytest.mark.parametrize("places", [1, 2])
def test_a_small_rack_makes_all_of_them_later_than_each(places: int, tmp_path: Path) -> None:
    shop = ONE_PERSON + f"rack: {{places: {places}, hooks: 1}}\n"
    pieces = tuple(read(tmp_path, [shelf("hardwax-oil", count=2) for _ in range(2)], shop))
    planner = Planner(job_of(pieces, (None, None), NOW, Wishes()))
    keys = [piece.key for piece in planner.job.pieces]
    together = planner.maker.all_soonest(keys)
    assert max(map(planner.maker.soonest, keys)) < together <= proven(planner)


LAST = 14


@given(
    hold=st.integers(1, 4),
    closed=st.sets(st.integers(1, LAST - 1), max_size=5),
    capacity=st.integers(1, 2),
    count=st.integers(1, 4),
)
def test_coats_are_begun_no_sooner_than_the_rack_lets_them(
    hold: int, closed: set[int], capacity: int, count: int
) -> None:
    """Against every way to begin so many coats in the open slots, each lying until somebody takes it off."""
    worked = [slot for slot in range(LAST) if slot not in closed]

    def lifted(slot: int) -> int | None:
        return next((one for one in worked if one >= slot), None)

    def off(start: int) -> int:
        moment = lifted(start + hold)
        return LAST if moment is None else moment

    def fits(starts: tuple[int, ...]) -> bool:
        return all(sum(one <= at < off(one) for one in starts) <= capacity for at in starts)

    best = min((max(starts) for starts in product(worked, repeat=count) if fits(starts)), default=LAST)
    setting = cast("Setting", SimpleNamespace(lifted=lifted, slots=LAST))
    assert turns_on([off], 0, (count - 1) // capacity, setting) <= best


@given(
    pattern=st.lists(st.booleans(), min_size=10, max_size=20).filter(any),
    work=st.lists(st.tuples(st.integers(0, 8), st.integers(1, 3)), min_size=1, max_size=4),
)
def test_one_person_does_all_work_no_sooner_than_their_hours_let_them(
    pattern: list[bool], work: list[tuple[int, int]]
) -> None:
    """Against what comes of doing whatever can be done in every open slot, which one person cannot better."""
    slots = [slot for slot, is_open in enumerate(pattern) if is_open]
    hours = Hours([Slots(slot, slot + 1) for slot in slots])
    left, ended = dict(enumerate(work)), len(pattern)
    for slot in slots:
        number = next((one for one, (start, _) in left.items() if start <= slot), None)
        if number is None:
            continue
        start, amount = left.pop(number)
        if amount > 1:
            left[number] = (start, amount - 1)
        if not left:
            ended = slot + 1
            break
    tasks = [
        cast("Task", SimpleNamespace(name=str(number), slots=amount, ways=(SimpleNamespace(person="Wynn"),)))
        for number, (_, amount) in enumerate(work)
    ]
    starts = {str(number): start for number, (start, _) in enumerate(work)}
    assert soonest_for_work(tasks, starts, {"Wynn": hours}, len(pattern)) == ended
