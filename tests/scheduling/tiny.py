"""Problems so small that every schedule of them can be tried, drawn from a seed."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import accumulate

from finplan.scheduling import (
    Activity,
    Deadline,
    EarliestFinish,
    Fewest,
    Finish,
    Hold,
    Lag,
    LargestSlack,
    LatestStarts,
    Makespan,
    Mode,
    NotAfter,
    NotBefore,
    Objective,
    Problem,
    Relation,
    Rule,
    SerialBatch,
    Slots,
)


@dataclass(frozen=True)
class Step:
    """A rule that never gives less for a later moment: a table, and None past its end."""

    values: tuple[int, ...] = field(default=())

    def __call__(self, slot: int) -> int | None:
        return self.values[slot] if slot < len(self.values) else None


def some_rule(chance: random.Random, horizon: int, *, total: bool, least: int = 0) -> Rule:
    raised = accumulate(
        (slot + chance.choice((least, least, least + 1, least + 3)) for slot in range(horizon + 1)), max
    )
    values = tuple(raised)
    if total:
        return Step(tuple(min(value, horizon) for value in values))
    return Step(values if chance.random() < 0.6 else values[: chance.randint(horizon // 2, horizon)])


def some_calendar(chance: random.Random, horizon: int) -> tuple[Slots, ...]:
    cuts = sorted(chance.sample(range(horizon + 1), chance.choice((2, 4, 4))))
    return tuple(Slots(start, end) for start, end in zip(cuts[::2], cuts[1::2], strict=True))


def some_mode(chance: random.Random, problem_size: tuple[int, Mapping[str, int], list[str]], name: str = "") -> Mode:
    horizon, capacities, calendars = problem_size
    demands = {
        resource: chance.randint(1, capacity) for resource, capacity in capacities.items() if chance.random() < 0.5
    }
    calendar = chance.choice([*calendars, None]) if calendars else None
    if chance.random() < 0.15:
        return Mode(some_rule(chance, horizon, total=False, least=1), demands, calendar, name=name)
    return Mode(chance.choice((0, 1, 1, 2, 2, 3)), demands, calendar, chance.random() < 0.5, name)


def some_relation(chance: random.Random, names: list[str], optional: list[str], horizon: int) -> Relation:
    first, second = chance.sample(names, 2)
    unless = chance.choice(optional) if optional and chance.random() < 0.3 else None
    kind = chance.random()
    if kind < 0.4:
        return Lag(first, second, chance.randint(-4, 4), unless)
    rule = None if chance.random() < 0.4 else some_rule(chance, horizon, total=False)
    since = chance.choice(("start", "end"))
    relation = NotBefore if kind < 0.8 else NotAfter
    return relation(first, second, rule, "end" if since == "end" else "start", unless)


def tiny_problem(seed: int) -> Problem:
    """A problem of two to four activities with a bit of everything but batches."""
    chance = random.Random(seed)
    horizon = chance.randint(7, 12)
    capacities = {resource: chance.randint(1, 3) for resource in chance.choice((["r"], ["r"], ["r", "s"]))}
    calendars = {name: some_calendar(chance, horizon) for name in chance.choice(([], ["day"], ["day", "late"]))}
    everywhere = bool(calendars) and chance.random() < 0.5
    size = (horizon, capacities, list(calendars))
    activities = []
    for name in "abcd"[: chance.choice((2, 3, 3, 4))]:
        modes = tuple(some_mode(chance, size) for _ in range(chance.choice((1, 1, 2))))
        if everywhere:
            modes = tuple(
                Mode(mode.duration, mode.demands, mode.calendar or chance.choice(size[2]), mode.pausable, mode.name)
                for mode in modes
            )
        activities.append(
            Activity(
                name,
                modes,
                earliest=chance.choice((0, 0, 0, 2)),
                latest=chance.choice((None, None, None, horizon - 2)),
                starts=chance.choice((None, None, None, some_calendar(chance, horizon))),
                optional=chance.random() < 0.2,
            )
        )
    names = [activity.name for activity in activities]
    optional = [activity.name for activity in activities if activity.optional]
    needed = [name for name in names if name not in optional]
    holds = []
    for name in names:
        if chance.random() < 0.25:
            resource = chance.choice(list(capacities))
            rule = some_rule(chance, horizon, total=False) if chance.random() < 0.6 else None
            others = [other for other in needed if other != name]
            until = chance.choice(others) if others and chance.random() < 0.6 else None
            holds.append(Hold(resource, chance.randint(1, capacities[resource]), name, rule, until))
    relations = tuple(some_relation(chance, names, optional, horizon) for _ in range(chance.randint(0, len(names))))
    deadlines = [
        Deadline(
            name,
            chance.randint(horizon // 2, horizon),
            some_rule(chance, horizon, total=False) if chance.random() < 0.5 else None,
        )
        for name in names
        if chance.random() < 0.15
    ]
    return Problem(
        tuple(activities), horizon, relations, capacities, calendars, tuple(holds), deadlines=tuple(deadlines)
    )


def tiny_batch(seed: int) -> Problem:
    """Two or three activities that one of two people can do in one go, each with a clean-up where the go ends."""
    chance = random.Random(seed)
    count = chance.choice((2, 2, 3))
    horizon = chance.randint(8, 11) if count == 2 else 8
    calendars = {"day": some_calendar(chance, horizon)} if chance.random() < 0.5 else {}
    calendar = "day" if calendars else None
    people = chance.choice((["ann"], ["ann", "bob"]))
    activities = []
    for index in range(count):
        duration = chance.randint(1, 2)
        modes = tuple(Mode(duration, {who: 1}, calendar, name=who) for who in people)
        activities.append(Activity(f"m{index}", modes, latest=chance.choice((None, None, horizon - 3))))
    for index in range(count):
        modes = tuple(Mode(1, {who: 1}, calendar, name=who) for who in people)
        activities.append(Activity(f"t{index}", modes, optional=True))
    members, tails = (tuple(f"{kind}{index}" for index in range(count)) for kind in "mt")
    relations = tuple(some_relation(chance, list(members), [], horizon) for _ in range(chance.randint(0, 1)))
    pairs = [(one, other) for one in members for other in members if one != other]
    follow = chance.choice((None, None, frozenset(chance.sample(pairs, len(pairs) // 2))))
    batch = SerialBatch(members, tails, chance.choice((None, 3, 4)), follow)
    return Problem(tuple(activities), horizon, relations, dict.fromkeys(people, 1), calendars, batches=(batch,))


def some_objective(problem: Problem, seed: int) -> Objective:
    """One of the objectives, other than the latest end, for a problem."""
    chance = random.Random(seed)
    needed = [activity.name for activity in problem.activities if not activity.optional]
    optional = [activity.name for activity in problem.activities if activity.optional]
    if optional and (not needed or chance.random() < 0.4):
        return Fewest(tuple(optional))
    if not needed:
        return Makespan()
    some = chance.sample(needed, chance.randint(1, len(needed)))
    kind = chance.randrange(3)
    if kind == 2:
        return LatestStarts(tuple((name,) for name in some) if chance.random() < 0.5 else (tuple(some),))
    finishes = tuple(
        Finish(
            name,
            some_rule(chance, problem.horizon, total=True) if chance.random() < 0.5 else None,
            due=chance.randint(2, problem.horizon),
        )
        for name in some
    )
    return EarliestFinish(finishes) if kind == 0 else LargestSlack(finishes, chance.choice((None, 2)))
