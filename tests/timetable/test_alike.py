"""That alike items take their turns loses no plan: against all orders of a small job, and a search without turns."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from finplan.planning import Wishes
from finplan.planning.job import job_of
from finplan.reading import GivenDate
from finplan.scheduling import (
    Activity,
    EarliestFinish,
    Finish,
    Lag,
    LatestStarts,
    NotBefore,
    Objective,
    Problem,
    Relation,
    broken_rules,
    solve,
)
from finplan.timetable import Job, Planner
from finplan.timetable.alike import Turns, in_turns, turns_of
from finplan.timetable.problem import Window
from tests.planning.test_sets import SHOP
from tests.timetable.shops import NOW, ONE_PERSON, read

PIECES, STEPS = 3, (2, 1, 1)
DRIES = (0, 4, 3)
"""Of three alike items each is sanded, coated and coated: how long that takes, and how long after it the item waits."""


def by_hand(people: int) -> int:
    """Return when the last of the items has dried at the soonest, trying every order in which work can be begun.

    Every schedule in which nothing could be begun sooner comes of such an order, and one of them is best.
    """
    names = [item for item in range(PIECES) for _ in STEPS]
    best = 10**6
    for order in set(permutations(names)):
        free, ready, done = [0] * people, [0] * PIECES, [0] * PIECES
        for item in order:
            step = done[item]
            person = min(range(people), key=lambda one: max(free[one], ready[item]))
            start = max(free[person], ready[item])
            free[person] = start + STEPS[step]
            ready[item] = free[person] + DRIES[step]
            done[item] += 1
        best = min(best, max(ready))
    return best


@pytest.mark.parametrize("people", [1, 2])
def test_turns_keep_the_best_of_all_orders(people: int) -> None:
    steps = range(len(STEPS))
    activities = [Activity.of(f"{i}-{s}", STEPS[s], {"hand": 1}) for i in range(PIECES) for s in steps]
    waits: list[Relation] = [
        NotBefore(f"{i}-{s}", f"{i}-{s + 1}", lambda end, dries=DRIES[s]: end + dries)  # type: ignore[misc]
        for i in range(PIECES)
        for s in steps[:-1]
    ]
    turns = [Lag(f"{i}-{s}", f"{i + 1}-{s}", 0) for i in range(PIECES - 1) for s in steps]
    finishes = tuple(Finish(f"{i}-{steps[-1]}", lambda end: end + DRIES[-1]) for i in range(PIECES))
    wanted: list[Objective] = [EarliestFinish(finishes)]
    found = [
        solve(Problem(tuple(activities), 60, tuple(relations), capacities={"hand": people}), wanted, workers=1)
        for relations in (waits, [*waits, *turns])
    ]
    assert [one.stages[0].value for one in found] == [by_hand(people)] * 2


SETS = {
    "stools": ("set: 3", "parts:\n  seat: {shape: disc, diameter: 340, thickness: 25}\n"),
    "two items each": (
        "set: 2",
        "assemblies: {base: {parts: [leg]}}\nparts:\n  top: {shape: disc, diameter: 340, thickness: 25}\n"
        "  leg: {shape: rod, diameter: 30, length: 400, count: 3}\n",
    ),
}


@pytest.mark.parametrize("late", [True, False], ids=["late", "early"])
@pytest.mark.parametrize("shop", [ONE_PERSON, SHOP], ids=["one person", "two people"])
@pytest.mark.parametrize("name", SETS)
def test_a_set_is_planned_as_well_as_without_turns(name: str, shop: str, late: bool, tmp_path: Path) -> None:
    set_, parts = SETS[name]
    found = read(tmp_path, [f"piece: Set\nlengths: mm\ntimber: ash\nsystem: wax\n{set_}\n{parts}"], shop)
    job: Job = job_of(found, [GivenDate.parse("2027-03-05 12:00")], NOW, Wishes())
    planner = Planner(job)
    (piece,) = job.pieces
    first = planner.setting.first
    due = planner.setting.slot_up_to(job.delivery(piece) or NOW)
    windows = {piece.key: Window(first, due, due)}
    values = []
    for turns in (True, False):
        placement = planner.placement(windows, turns=turns)
        finishes = placement.finishes[piece.key]
        wanted: Objective = LatestStarts(placement.chains) if late else EarliestFinish(finishes)
        result = solve(placement.problem, [wanted], limit_s=60, workers=1)
        assert result.stages[0].proven
        values.append(result.stages[0].value)
    assert values[0] == values[1]


def test_a_plan_in_turns_keeps_every_wait(tmp_path: Path) -> None:
    """Two stools done in the wrong order have exchanged their places, coats with their clean-ups."""
    set_, parts = SETS["two items each"]
    (found,) = read(tmp_path, [f"piece: Set\nlengths: mm\ntimber: ash\nsystem: wax\n{set_}\n{parts}"], SHOP)
    planner = Planner(job_of((found,), (None,), NOW, Wishes()))
    (piece,) = planner.job.pieces
    turns = turns_of(piece, {one.id: planner.setting.slots_of(one) for one in piece.open})
    plan = planner.maker.early(lambda _: (0,), {}, {})
    swapped = in_turns(plan, [Turns(one.items[::-1]) for one in turns])
    assert swapped != plan
    pairs = [pair for one in turns for pair in one.pairs()]
    assert any(swapped[one].start > swapped[other].start for one, other in pairs)
    again = in_turns(swapped, turns)
    assert all(again[one].start <= again[other].start for one, other in pairs)
    window = Window(planner.setting.first, planner.setting.slots - 1)
    problem = planner.placement({piece.key: window}, turns=False).problem
    assert broken_rules(problem, swapped) == broken_rules(problem, again) == []
