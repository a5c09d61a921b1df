"""Tiny problems, and every schedule of each tried slot by slot: what the solver and the checker are held against."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate, product

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
    Scheduled,
    SerialBatch,
    Slots,
)

Schedule = Mapping[str, Scheduled]


# --- the rules, slot by slot ----------------------------------------------------------------------------------------


def is_open(problem: Problem, calendar: str | None, slot: int) -> bool:
    return calendar is None or any(span.start <= slot < span.end for span in problem.calendars[calendar])


def end_of(problem: Problem, mode: Mode, start: int) -> int | None:
    """When an activity that starts at a slot ends, counted slot by slot; None where it cannot start there."""
    if not is_open(problem, mode.calendar, start):
        return None
    if mode.duration == 0:
        return start
    if callable(mode.duration):
        return mode.duration(start)
    left = mode.duration
    for slot in range(start, problem.horizon):
        if is_open(problem, mode.calendar, slot):
            left -= 1
        elif not mode.pausable:
            return None
        if left == 0:
            return slot + 1
    return None


def places(problem: Problem, activity: Activity) -> list[Scheduled | None]:
    """Every start in every mode that the activity's own fields allow; None for leaving it out."""
    found: list[Scheduled | None] = [None] if activity.optional else []
    for start in range(problem.horizon + 1):
        if start < activity.earliest or (activity.latest is not None and start > activity.latest):
            continue
        if activity.starts is not None and not any(start in range(span.start, span.end) for span in activity.starts):
            continue
        for index, mode in enumerate(activity.modes):
            end = end_of(problem, mode, start)
            if end is not None and end <= problem.horizon:
                found.append(Scheduled(start, end, index))
    return found


def relation_holds(relation: Relation, schedule: Schedule) -> bool:
    if relation.first not in schedule or relation.second not in schedule or relation.unless in schedule:
        return True
    first, second = schedule[relation.first], schedule[relation.second]
    if isinstance(relation, Lag):
        return second.start >= first.start + relation.at_least
    moment: int | None = first.start if relation.since == "start" else first.end
    if relation.rule is not None and moment is not None:
        moment = relation.rule(moment)
    if isinstance(relation, NotBefore):
        return moment is not None and second.start >= moment
    return moment is None or second.start <= moment


def deadline_holds(deadline: Deadline, schedule: Schedule) -> bool:
    if deadline.activity not in schedule:
        return True
    end: int | None = schedule[deadline.activity].end
    if deadline.rule is not None and end is not None:
        end = deadline.rule(end)
    return end is not None and end <= deadline.at


def capacities_hold(problem: Problem, schedule: Schedule, *, holds: bool) -> bool:
    modes = {activity.name: activity.modes for activity in problem.activities}
    for resource, capacity in problem.capacities.items():
        for slot in range(problem.horizon):
            taken = 0
            for name, one in schedule.items():
                if one.start <= slot < one.end:
                    taken += modes[name][one.mode].demands.get(resource, 0)
            for hold in problem.holds if holds else ():
                if hold.resource == resource and hold.activity in schedule and held(hold, schedule, slot):
                    taken += hold.amount
            if taken > capacity:
                return False
    return True


def held(hold: Hold, schedule: Schedule, slot: int) -> bool:
    one = schedule[hold.activity]
    if slot < one.start:
        return False
    moment = hold.rule(one.end) if hold.rule is not None else None
    if moment is not None and slot >= moment:
        return False
    return hold.until is None or hold.until not in schedule or slot < schedule[hold.until].start


def batch_holds(problem: Problem, batch: SerialBatch, schedule: Schedule) -> bool:
    names = {
        activity.name: activity.modes[schedule[activity.name].mode].name
        for activity in problem.activities
        if activity.name in schedule
    }

    def follows(other: str, one: str) -> bool:
        return schedule[other].start == schedule[one].end and names[other] == names[one]

    loose = []
    for name, tail in zip(batch.members, batch.tails, strict=True):
        if tail in schedule and (name not in schedule or not follows(tail, name)):
            return False
        if name in schedule and tail not in schedule:
            loose.append(name)
    done = [name for name in batch.members if name in schedule]
    candidates = [
        [
            other
            for other in done
            if other != name and follows(other, name) and (batch.follow is None or (name, other) in batch.follow)
        ]
        for name in loose
    ]
    return any(
        len(set(following)) == len(loose) and not too_long(batch, dict(zip(loose, following, strict=True)), schedule)
        for following in product(*candidates)
    )


def too_long(batch: SerialBatch, following: Mapping[str, str], schedule: Schedule) -> bool:
    for first in following:
        last = first
        while last in following:
            last = following[last]
            if batch.longest is not None and schedule[last].end - schedule[first].start > batch.longest:
                return True
    return False


def is_allowed(problem: Problem, schedule: Schedule) -> bool:
    """Whether a schedule of places keeps every rule."""
    return (
        all(relation_holds(relation, schedule) for relation in problem.relations)
        and all(deadline_holds(deadline, schedule) for deadline in problem.deadlines)
        and capacities_hold(problem, schedule, holds=True)
        and all(batch_holds(problem, batch, schedule) for batch in problem.batches)
    )


def all_schedules(problem: Problem) -> Iterator[dict[str, Scheduled]]:
    """Every schedule there is."""
    activities = problem.activities
    names = [activity.name for activity in activities]
    choices = [places(problem, activity) for activity in activities]
    # A relation is tried as soon as all that it names have been placed.
    settled: list[list[Relation]] = [[] for _ in names]
    for relation in problem.relations:
        named = [relation.first, relation.second, *([] if relation.unless is None else [relation.unless])]
        settled[max(names.index(name) for name in named)].append(relation)
    # A tail, always named after its member, is nowhere but at its end.
    behind = {tail: one for batch in problem.batches for one, tail in zip(batch.members, batch.tails, strict=True)}

    def placed(index: int, schedule: dict[str, Scheduled]) -> Iterator[dict[str, Scheduled]]:
        if index == len(names):
            if is_allowed(problem, schedule):
                yield schedule
            return
        for choice in choices[index]:
            if choice is not None and names[index] in behind and schedule[behind[names[index]]].end != choice.start:
                continue
            longer = schedule if choice is None else {**schedule, names[index]: choice}
            if all(relation_holds(relation, longer) for relation in settled[index]) and (
                choice is None or capacities_hold(problem, longer, holds=False)
            ):
                yield from placed(index + 1, longer)

    return placed(0, {})


def values(problem: Problem, objectives: Sequence[Objective], schedule: Schedule) -> tuple[int, ...]:
    """What objectives say of a schedule, the smaller the better."""
    whole = counts_every_slot(problem, objectives)
    return tuple(value(problem, objective, schedule, whole=whole) for objective in objectives)


def value(problem: Problem, objective: Objective, schedule: Schedule, *, whole: bool) -> int:

    def finish(one: Finish) -> int:
        end = schedule[one.activity].end
        moment = end if one.rule is None else one.rule(end)
        assert moment is not None
        return moment

    match objective:
        case Makespan():
            return max((one.end for one in schedule.values()), default=0)
        case EarliestFinish(finishes):
            return max(finish(one) for one in finishes)
        case LargestSlack(finishes, enough):
            slack = min((one.due or 0) - finish(one) for one in finishes)
            return -(slack if enough is None else min(slack, enough))
        case LatestStarts(groups):
            firsts = [min(schedule[name].start for name in group) for group in groups]
            return -sum(first if whole else opened_before(problem, first) for first in firsts)
        case Fewest(activities):
            return len([name for name in activities if name in schedule])
    raise AssertionError(objective)


def counts_every_slot(problem: Problem, objectives: Sequence[Objective]) -> bool:
    """Whether starts are counted in all slots: something follows no calendar, or ends where none is open and counts."""
    modes = [mode for activity in problem.activities for mode in activity.modes]
    if any(mode.calendar is None for mode in modes):
        return True
    return any(isinstance(one, Makespan) for one in objectives) and any(
        callable(mode.duration) or mode.duration == 0 for mode in modes
    )


def opened_before(problem: Problem, slot: int) -> int:
    """How many slots before this one any calendar in use opens."""
    calendars = {mode.calendar for activity in problem.activities for mode in activity.modes}
    return len([one for one in range(slot) if any(is_open(problem, calendar, one) for calendar in calendars)])


# --- tiny problems --------------------------------------------------------------------------------------------------


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
