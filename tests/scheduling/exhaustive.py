"""Every schedule of a tiny problem, tried slot by slot: what the solver and the checker are held against."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

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
    NotBefore,
    Objective,
    Problem,
    Relation,
    Scheduled,
    SerialBatch,
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
