"""A scheduling problem as plain data: activities, lags, resources with calendars. It knows no solver.

Time is counted in whole slots from 0 to the horizon; what a slot is long is the caller's to know. All spans are half
open: the slot at their end is not part of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

Rule = Callable[[int], int | None]
"""A moment that depends on another: never earlier for a later one. None: not before the horizon."""
Since = Literal["start", "end"]
NO_DEMAND: Mapping[str, int] = {}


class ProblemError(ValueError):
    """The problem contradicts itself: an unknown name, half a slot, a negative duration, a calendar out of order."""


@dataclass(frozen=True, slots=True, order=True)
class Slots:
    """The slots from *start* up to but without *end*."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Mode:
    """One way of doing an activity.

    ``duration`` is in open slots of the calendar; a rule gives the end for every start instead (a start-dependent
    duration, which runs whatever the calendar says). Without a calendar every slot is open. An activity that is not
    pausable needs one open stretch; a pausable one stands still while the calendar is closed and keeps its resources.
    """

    duration: int | Rule
    demands: Mapping[str, int] = field(default_factory=dict)
    calendar: str | None = None
    pausable: bool = False
    name: str = ""
    """Modes of the same name in different activities are the same way, a person say."""


@dataclass(frozen=True, slots=True)
class Activity:
    """Something that is done once, in one of its modes; not at all where it is optional and nothing asks for it."""

    name: str
    modes: tuple[Mode, ...]
    earliest: int = 0
    """No start before."""
    latest: int | None = None
    """No start after."""
    starts: tuple[Slots, ...] | None = None
    """The slots in which it may start; None for all."""
    optional: bool = False

    @classmethod
    def of(
        cls,
        name: str,
        duration: int | Rule,
        demands: Mapping[str, int] = NO_DEMAND,
        *,
        calendar: str | None = None,
        pausable: bool = False,
    ) -> Activity:
        """Return an activity with one mode."""
        return cls(name, (Mode(duration, demands, calendar, pausable),))


@dataclass(frozen=True, slots=True)
class Lag:
    """``start(second) - start(first) >= at_least``; negative: *first* starts at most so long after *second*.

    Holds where both are done, and not where the optional activity ``unless`` is done.
    """

    first: str
    second: str
    at_least: int
    unless: str | None = None


@dataclass(frozen=True, slots=True)
class NotBefore:
    """``start(second) >= rule(start or end of first)``; without a rule, not before that moment itself.

    Holds where both are done, and not where the optional activity ``unless`` is done.
    """

    first: str
    second: str
    rule: Rule | None = None
    since: Since = "end"
    unless: str | None = None


@dataclass(frozen=True, slots=True)
class NotAfter:
    """``start(second) <= rule(start or end of first)``; no limit where the rule says None.

    Holds where both are done, and not where the optional activity ``unless`` is done.
    """

    first: str
    second: str
    rule: Rule | None = None
    since: Since = "end"
    unless: str | None = None


Relation = Lag | NotBefore | NotAfter


@dataclass(frozen=True, slots=True)
class Hold:
    """So much of a resource held from the start of an activity, beside its own demands, until something.

    Until a rule of the activity's end, or until the start of another activity; with both, until the earlier of the two,
    and with neither, until the horizon.
    """

    resource: str
    amount: int
    activity: str
    rule: Rule | None = None
    until: str | None = None


@dataclass(frozen=True, slots=True)
class Deadline:
    """``end(activity) <= at``, or what a rule makes of its end, if it is done. A rule of None is never in time."""

    activity: str
    at: int
    rule: Rule | None = None


@dataclass(frozen=True, slots=True)
class SerialBatch:
    """Activities that can be done in one go, one beginning where another ends, in modes of the same name.

    Each has a tail, an optional activity that follows it at once, in the mode of the same name. A tail is left out only
    where another member follows at once in its stead, so a run of members has one tail.
    """

    members: tuple[str, ...]
    tails: tuple[str, ...]
    longest: int | None = None
    """How long a run of several members may last without its tail. None: as long as it likes."""
    follow: frozenset[tuple[str, str]] | None = None
    """Which member may come right after which, as far as that is looked at; None for any after any."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything a schedule has to keep.

    Raises
    ------
    ProblemError
        On making it: it contradicts itself. What cannot be kept together is not an error but a result.
    """

    activities: tuple[Activity, ...]
    horizon: int
    """Everything ends by then."""
    relations: tuple[Relation, ...] = ()
    capacities: Mapping[str, int] = field(default_factory=dict)
    calendars: Mapping[str, tuple[Slots, ...]] = field(default_factory=dict)
    holds: tuple[Hold, ...] = ()
    batches: tuple[SerialBatch, ...] = ()
    deadlines: tuple[Deadline, ...] = ()

    def __post_init__(self) -> None:
        for what, number in self._numbers():
            if not isinstance(number, int):
                msg = f"{what} is {number!r}, which is no whole number"
                raise ProblemError(msg)
        if self.horizon < 0:
            msg = f"the horizon is {self.horizon}"
            raise ProblemError(msg)
        names = [activity.name for activity in self.activities]
        if len(set(names)) < len(names):
            msg = f"two activities are called {next(name for name in names if names.count(name) > 1)!r}"
            raise ProblemError(msg)
        for name, spans in self.calendars.items():
            _check_spans(f"calendar {name!r}", spans)
        for activity in self.activities:
            self._check_activity(activity)
        self._check_names()

    def _numbers(self) -> Iterator[tuple[str, object]]:
        """Give every number with what it is: solvers count in whole ones."""
        yield "the horizon", self.horizon
        for name, capacity in self.capacities.items():
            yield f"the capacity of {name!r}", capacity
        for name, spans in self.calendars.items():
            yield from ((f"a bound of calendar {name!r}", at) for span in spans for at in (span.start, span.end))
        for activity in self.activities:
            yield f"the earliest start of {activity.name!r}", activity.earliest
            if activity.latest is not None:
                yield f"the latest start of {activity.name!r}", activity.latest
            for mode in activity.modes:
                if not callable(mode.duration):
                    yield f"the duration of {activity.name!r}", mode.duration
                for resource, amount in mode.demands.items():
                    yield f"what {activity.name!r} takes of {resource!r}", amount
        for relation in self.relations:
            if isinstance(relation, Lag):
                yield f"the lag from {relation.first!r} to {relation.second!r}", relation.at_least
        for hold in self.holds:
            yield f"what {hold.activity!r} holds of {hold.resource!r}", hold.amount
        for deadline in self.deadlines:
            yield f"the deadline of {deadline.activity!r}", deadline.at

    def _check_activity(self, activity: Activity) -> None:
        if not activity.modes:
            msg = f"{activity.name!r} has no mode"
            raise ProblemError(msg)
        if activity.starts is not None:
            _check_spans(f"the starts of {activity.name!r}", activity.starts)
        for mode in activity.modes:
            if isinstance(mode.duration, int) and mode.duration < 0:
                msg = f"{activity.name!r} lasts {mode.duration} slots"
                raise ProblemError(msg)
            if mode.calendar is not None and mode.calendar not in self.calendars:
                msg = f"{activity.name!r} follows calendar {mode.calendar!r}, which is not there"
                raise ProblemError(msg)
            for resource, amount in mode.demands.items():
                self._check_amount(activity.name, resource, amount)

    def _check_amount(self, who: str, resource: str, amount: int) -> None:
        if resource not in self.capacities:
            msg = f"{who!r} takes {resource!r}, which is not there"
            raise ProblemError(msg)
        if amount < 0 or self.capacities[resource] < 0:
            msg = f"{who!r} takes {amount} of {self.capacities[resource]} {resource!r}"
            raise ProblemError(msg)

    def _check_names(self) -> None:
        activities = {activity.name: activity for activity in self.activities}
        named = [
            name
            for relation in self.relations
            for name in (relation.first, relation.second, relation.unless)
            if name is not None
        ]
        named += [deadline.activity for deadline in self.deadlines]
        for hold in self.holds:
            self._check_amount(hold.activity, hold.resource, hold.amount)
            named += [name for name in (hold.activity, hold.until) if name is not None]
        for batch in self.batches:
            if len(batch.members) != len(batch.tails):
                msg = f"{len(batch.members)} members have {len(batch.tails)} tails"
                raise ProblemError(msg)
            named += [*batch.members, *batch.tails]
            modes = [mode for name in batch.members if name in activities for mode in activities[name].modes]
            if batch.longest is not None and any(callable(mode.duration) or mode.pausable for mode in modes):
                msg = f"{batch.members[0]!r} and those batched with it need fixed durations"
                raise ProblemError(msg)
        for name in named:
            if name not in activities:
                msg = f"{name!r} is no activity"
                raise ProblemError(msg)
        for hold in self.holds:
            if hold.until is not None and activities[hold.until].optional:
                msg = f"{hold.activity!r} holds {hold.resource!r} until {hold.until!r}, which is optional"
                raise ProblemError(msg)
        guards = [relation.unless for relation in self.relations if relation.unless is not None]
        for name in [*guards, *(tail for batch in self.batches for tail in batch.tails)]:
            if not activities[name].optional:
                msg = f"{name!r} is not optional"
                raise ProblemError(msg)


def _check_spans(what: str, spans: Sequence[Slots]) -> None:
    if any(span.start >= span.end for span in spans) or any(
        earlier.end > later.start for earlier, later in pairwise(spans)
    ):
        msg = f"{what}: stretches have to follow one another, each with a length"
        raise ProblemError(msg)
