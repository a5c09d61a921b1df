"""The latest ends of seeded problems as PyJobShop 0.0.9 (https://pyjobshop.org), a general scheduler, finds them.

Its breaks of a resource are the closed slots of our calendar: a task that allows breaks starts outside them, stands
still in them and keeps its resources; any other meets none. A task on several resources keeps the breaks of them all.

Run as a program, it asks the other scheduler for all of them anew, which takes it ten seconds, and writes the table
beside it; the test asks it for every tenth.
"""

from __future__ import annotations

import hashlib
import json
import random
from dataclasses import dataclass
from pathlib import Path

from finplan.scheduling import Activity, Lag, Problem, Slots

SEEDS = range(210)
TABLE = Path(__file__).with_suffix(".json")


@dataclass(frozen=True)
class Task:
    duration: int
    demands: dict[str, int]
    pausable: bool


@dataclass(frozen=True)
class Case:
    """A problem as plain figures, for both schedulers."""

    horizon: int
    capacities: dict[str, int]
    breaks: dict[str, list[tuple[int, int]]]
    tasks: list[Task]
    lags: list[tuple[int, int, int]]


def breaks_of(chance: random.Random, horizon: int) -> list[tuple[int, int]]:
    """Nights and pauses, each resource with its own."""
    if chance.random() < 0.3:
        return []
    day, night, first = chance.randint(8, 14), chance.randint(2, 5), chance.randint(0, 9)
    return [(start, min(start + night, horizon)) for start in range(first, horizon, day + night)]


def case_of(seed: int) -> Case:
    chance = random.Random(seed)
    count = 10 + min(seed % 31, seed * 7 % 31)  # to 40, more often few than many: the large ones take the time
    horizon = 4 * count + 60
    capacities = {name: chance.randint(2, 4) for name in "rstu"[: chance.randint(2, 4)]}
    tasks = []
    for _ in range(count):
        taken = chance.sample(sorted(capacities), min(len(capacities), chance.choice((1, 1, 2))))
        demands = {name: chance.randint(1, 2) for name in taken}
        tasks.append(Task(chance.randint(1, 6), demands, chance.random() < 0.5))
    lags = []
    for second in range(1, count):
        for first in {chance.randrange(max(0, second - 4), second) for _ in range(chance.randint(1, 2))}:
            shortest = tasks[first].duration + chance.choice((0, 0, 0, 2, 5, -2, -4))
            lags.append((first, second, shortest))
            if chance.random() < 0.3:
                lags.append((second, first, -(max(shortest, 0) + chance.randint(4, 30))))
    return Case(horizon, capacities, {name: breaks_of(chance, horizon) for name in capacities}, tasks, lags)


def opened(horizon: int, breaks: list[tuple[int, int]]) -> tuple[Slots, ...]:
    """What breaks, which may overlap, leave open."""
    spans, start = [], 0
    for closes, opens in sorted(breaks):
        if start < closes:
            spans.append(Slots(start, closes))
        start = max(start, opens)
    return (*spans, Slots(start, horizon)) if start < horizon else tuple(spans)


def ours(case: Case) -> Problem:
    calendars: dict[str, tuple[Slots, ...]] = {}
    activities = []
    for index, task in enumerate(case.tasks):
        calendar = "".join(sorted(task.demands))
        calendars[calendar] = opened(case.horizon, [one for name in task.demands for one in case.breaks[name]])
        activities.append(
            Activity.of(str(index), task.duration, task.demands, calendar=calendar, pausable=task.pausable)
        )
    lags = tuple(Lag(str(first), str(second), at_least) for first, second, at_least in case.lags)
    return Problem(tuple(activities), case.horizon, lags, case.capacities, calendars)


@dataclass(frozen=True)
class End:
    """What the other scheduler finds for a problem."""

    case: str
    """Which problem that was, so that another one of the same seed is not taken for it."""
    status: str
    latest: int | None
    """The least that the latest end can be; None where there is no plan."""


def theirs(case: Case) -> End:
    """Ask the other scheduler."""
    from pyjobshop import Model

    model = Model()
    resources = {
        name: model.add_renewable(capacity, breaks=case.breaks[name]) for name, capacity in case.capacities.items()
    }
    tasks = []
    for task in case.tasks:
        tasks.append(model.add_task(latest_end=case.horizon, allow_breaks=task.pausable))
        used = [resources[name] for name in task.demands]
        model.add_mode(tasks[-1], used, task.duration, list(task.demands.values()))
    for first, second, at_least in case.lags:
        model.add_start_before_start(tasks[first], tasks[second], at_least)
    # Else a break from the keyboard, or a test that makes one, ends this process without a word from then on.
    found = model.solve(display=False, num_workers=1, time_limit=60, catch_sigint_signal=False)
    status = {"Optimal": "optimal", "Infeasible": "impossible"}[found.status.value]
    latest = round(found.objective) if status == "optimal" else None
    return End(name_of(case), status, latest)


def kept() -> dict[int, End]:
    """Return what it was once found to say, by seed."""
    table = json.loads(TABLE.read_text(encoding="utf-8"))
    return {int(seed): End(*told) for seed, told in table.items()}


def name_of(case: Case) -> str:
    """Return what stands for a problem in the table."""
    return hashlib.sha256(repr(case).encode()).hexdigest()[:16]


if __name__ == "__main__":
    ends = ((seed, theirs(case_of(seed))) for seed in SEEDS)
    rows = (f'  "{seed}": {json.dumps([end.case, end.status, end.latest])}' for seed, end in ends)
    TABLE.write_text("{\n" + ",\n".join(rows) + "\n}\n", encoding="utf-8")
