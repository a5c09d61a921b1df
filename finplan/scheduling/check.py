"""A schedule held against its problem, rule by rule on the real time axis: it knows nothing of how it was made."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from finplan.scheduling.problem import Activity, Hold, Lag, Mode, NotBefore, Problem, Relation, SerialBatch, Slots
from finplan.scheduling.result import Scheduled


def broken_rules(problem: Problem, schedule: Mapping[str, Scheduled]) -> list[str]:
    """Return every rule of a problem that a schedule breaks, in words; nothing where it keeps them all.

    Examples
    --------
    >>> problem = Problem((Activity.of("sand", 2, {"ann": 1}),), horizon=3, capacities={"ann": 1})
    >>> broken_rules(problem, {"sand": Scheduled(start=0, end=2, mode=0)})
    []
    >>> broken_rules(problem, {"sand": Scheduled(start=2, end=4, mode=0)})
    ["'sand' runs from 2 to 4, outside 0 to 3"]
    """
    activities = {activity.name: activity for activity in problem.activities}
    broken = [f"{name!r} is no activity" for name in schedule if name not in activities]
    calendars = {name: _Opening(spans) for name, spans in problem.calendars.items()}
    for name, activity in activities.items():
        if name in schedule:
            broken += _of_activity(problem, activity, schedule[name], calendars)
        elif not activity.optional:
            broken.append(f"{name!r} is not done")
    if broken:
        return broken
    modes = {name: activities[name].modes[scheduled.mode] for name, scheduled in schedule.items()}
    for relation in problem.relations:
        broken += _of_relation(relation, schedule)
    broken += _of_capacities(problem, modes, schedule)
    for deadline in problem.deadlines:
        if deadline.activity in schedule:
            end = schedule[deadline.activity].end
            moment = end if deadline.rule is None else deadline.rule(end)
            if moment is None or moment > deadline.at:
                broken.append(f"{deadline.activity!r} is finished at {moment}, after {deadline.at}")
    for batch in problem.batches:
        broken += _of_batch(batch, modes, schedule)
    return broken


class _Opening:
    """The open stretches of a calendar, those that touch as one."""

    def __init__(self, spans: Sequence[Slots]) -> None:
        self.starts: list[int] = []
        self.ends: list[int] = []
        for span in spans:
            if self.ends and self.ends[-1] == span.start:
                self.ends[-1] = span.end
            else:
                self.starts.append(span.start)
                self.ends.append(span.end)

    def end_of(self, start: int, duration: int, *, pausable: bool) -> int | None:
        """Return when so many open slots from *start* on are over; None where it cannot start there."""
        index = bisect_right(self.starts, start) - 1
        if index < 0 or start >= self.ends[index]:
            return None
        left = duration - (self.ends[index] - start)
        while left > 0 and pausable and index + 1 < len(self.starts):
            index += 1
            left -= self.ends[index] - self.starts[index]
        return self.ends[index] + left if left <= 0 else None


def _of_activity(
    problem: Problem, activity: Activity, done: Scheduled, calendars: Mapping[str, _Opening]
) -> Iterator[str]:
    name, start, end = activity.name, done.start, done.end
    if not 0 <= done.mode < len(activity.modes):
        yield f"{name!r} has no mode {done.mode}"
        return
    if start < 0 or end > problem.horizon:
        yield f"{name!r} runs from {start} to {end}, outside 0 to {problem.horizon}"
    if start < activity.earliest:
        yield f"{name!r} starts at {start}, before {activity.earliest}"
    if activity.latest is not None and start > activity.latest:
        yield f"{name!r} starts at {start}, after {activity.latest}"
    if activity.starts is not None and not any(span.start <= start < span.end for span in activity.starts):
        yield f"{name!r} starts at {start}, where it may not"
    ends = _end_of(activity.modes[done.mode], start, calendars)
    if ends is None:
        yield f"{name!r} cannot start at {start} in mode {done.mode}"
    elif ends != end:
        yield f"{name!r} starts at {start} and ends at {end} instead of {ends}"


def _end_of(mode: Mode, start: int, calendars: Mapping[str, _Opening]) -> int | None:
    if not isinstance(mode.duration, int):
        opened = mode.calendar is None or calendars[mode.calendar].end_of(start, 0, pausable=False) is not None
        return mode.duration(start) if opened else None
    if mode.calendar is None:
        return start + mode.duration
    return calendars[mode.calendar].end_of(start, mode.duration, pausable=mode.pausable)


def _of_relation(relation: Relation, schedule: Mapping[str, Scheduled]) -> Iterator[str]:
    first, second = schedule.get(relation.first), schedule.get(relation.second)
    if first is None or second is None or (relation.unless is not None and relation.unless in schedule):
        return
    begins = f"{relation.second!r} starts at {second.start}"
    if isinstance(relation, Lag):
        if second.start - first.start < relation.at_least:
            yield f"{begins}, less than {relation.at_least} after {relation.first!r} at {first.start}"
        return
    since = first.start if relation.since == "start" else first.end
    moment = since if relation.rule is None else relation.rule(since)
    if isinstance(relation, NotBefore):
        if moment is None or second.start < moment:
            yield f"{begins}, before {moment}, which the {relation.since} of {relation.first!r} at {since} asks"
    elif moment is not None and second.start > moment:
        yield f"{begins}, after {moment}, which the {relation.since} of {relation.first!r} at {since} allows"


def _of_capacities(problem: Problem, modes: Mapping[str, Mode], schedule: Mapping[str, Scheduled]) -> Iterator[str]:
    changes: dict[str, list[tuple[int, int]]] = defaultdict(list)

    def take(resource: str, amount: int, start: int, end: int) -> None:
        if start < end:
            changes[resource] += [(start, amount), (end, -amount)]

    for name, scheduled in schedule.items():
        for resource, amount in modes[name].demands.items():
            take(resource, amount, scheduled.start, scheduled.end)
    for hold in problem.holds:
        if hold.activity in schedule:
            take(hold.resource, hold.amount, schedule[hold.activity].start, _let_go(problem, hold, schedule))
    for resource, moves in changes.items():
        taken = 0
        for slot, group in groupby(sorted(moves), key=lambda move: move[0]):
            taken += sum(amount for _, amount in group)
            if taken > problem.capacities[resource]:
                yield f"{taken} of {problem.capacities[resource]} {resource!r} are taken at {slot}"


def _let_go(problem: Problem, hold: Hold, schedule: Mapping[str, Scheduled]) -> int:
    moments = [problem.horizon]
    if hold.rule is not None:
        moment = hold.rule(schedule[hold.activity].end)
        moments += [] if moment is None else [moment]
    if hold.until is not None and hold.until in schedule:
        moments.append(schedule[hold.until].start)
    return min(moments)


def _of_batch(batch: SerialBatch, modes: Mapping[str, Mode], schedule: Mapping[str, Scheduled]) -> Iterator[str]:
    done = [name for name in batch.members if name in schedule]
    starting: dict[tuple[str, int], list[str]] = defaultdict(list)
    for name in done:
        starting[modes[name].name, schedule[name].start].append(name)
    following: dict[str, str] = {}
    for name, tail in zip(batch.members, batch.tails, strict=True):
        if name not in schedule:
            if tail in schedule:
                yield f"{tail!r} is done without {name!r}"
            continue
        key = (modes[name].name, schedule[name].end)
        if tail in schedule:
            if (modes[tail].name, schedule[tail].start) != key:
                yield f"{tail!r} does not follow {name!r} at {key[1]} in the same way"
            continue
        after = [
            other
            for other in starting.get(key, ())
            if other != name and other not in following and (batch.follow is None or (name, other) in batch.follow)
        ]
        if not after:
            yield f"{tail!r} is not done though nothing follows {name!r}"
            continue
        following[after[0]] = name
    if batch.longest is not None:
        yield from _too_long(done, following, schedule, batch.longest)


def _too_long(
    done: Sequence[str], following: Mapping[str, str], schedule: Mapping[str, Scheduled], longest: int
) -> Iterator[str]:
    for name in done:
        first, seen = name, {name}
        while first in following and following[first] not in seen:
            first = following[first]
            seen.add(first)
        length = schedule[name].end - schedule[first].start
        if first != name and length > longest:
            yield f"the run from {first!r} to {name!r} lasts {length}, longer than {longest}"
