"""Activities of no length that only say what comes after what: left out of a search, and put back into what it finds.

With one of them that follows no calendar, closed time could not be left out any more (``axis``): it may lie there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from finplan.scheduling.problem import Activity, NotBefore, Problem
from finplan.scheduling.result import Scheduled

_MOST = 64
"""So many relations at most take the place of those of one."""


@dataclass(frozen=True, slots=True)
class Milestone:
    """One that was left out, with what it comes after."""

    name: str
    after: Sequence[NotBefore]


def without_milestones(problem: Problem) -> tuple[Problem, list[Milestone]]:
    """Return a problem without milestones, where all else follows a calendar, and those that were left out.

    What comes after one comes after all that it comes after. The latest end is the same with and without them.
    """
    modes = [mode for activity in problem.activities for mode in activity.modes]
    if all(mode.calendar is None for mode in modes) or any(mode.calendar is None and mode.duration for mode in modes):
        return problem, []
    relations = list(problem.relations)
    named = {name for batch in problem.batches for name in (*batch.members, *batch.tails)}
    named |= {name for hold in problem.holds for name in (hold.activity, hold.until) if name is not None}
    named |= {deadline.activity for deadline in problem.deadlines}
    left_out: list[Milestone] = []
    for activity in problem.activities:
        if activity.name in named or not _is_free(activity, problem):
            continue
        own = [
            relation for relation in relations if activity.name in (relation.first, relation.second, relation.unless)
        ]
        plain = [relation for relation in own if isinstance(relation, NotBefore) and _is_plain(relation)]
        after = [relation for relation in plain if relation.second == activity.name]
        before = [relation for relation in plain if relation.first == activity.name]
        if len(plain) < len(own) or len(after) * len(before) > _MOST:
            continue
        relations = [relation for relation in relations if relation not in own]
        relations += [replace(first, second=then.second) for first in after for then in before]
        left_out.append(Milestone(activity.name, after))
    names = {milestone.name for milestone in left_out}
    activities = tuple(activity for activity in problem.activities if activity.name not in names)
    return replace(problem, activities=activities, relations=tuple(relations)), left_out


def with_milestones(schedule: Mapping[str, Scheduled], left_out: Sequence[Milestone]) -> dict[str, Scheduled]:
    """Return a schedule with milestones as soon as what they come after lets them."""
    whole = dict(schedule)
    for milestone in reversed(left_out):
        after = ((whole[told.first], told.since) for told in milestone.after if told.first in whole)
        at = max((done.start if since == "start" else done.end for done, since in after), default=0)
        whole[milestone.name] = Scheduled(at, at, 0)
    return whole


def _is_free(activity: Activity, problem: Problem) -> bool:
    """Return whether an activity of no length may be at any time, for all that it says itself."""
    mode = activity.modes[0]
    is_short = len(activity.modes) == 1 and mode.duration == 0 and mode.calendar is None
    has_room = all(amount <= problem.capacities[name] for name, amount in mode.demands.items())
    return (
        is_short
        and has_room
        and not activity.optional
        and not activity.earliest
        and activity.latest is None
        and activity.starts is None
    )


def _is_plain(relation: NotBefore) -> bool:
    return relation.rule is None and relation.unless is None and relation.first != relation.second
