"""What a schedule is wanted for. Several are met one after another: a later one never spoils an earlier one."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.scheduling.problem import Rule


@dataclass(frozen=True, slots=True)
class Makespan:
    """The latest end of all activities, as early as can be. [slots]"""


@dataclass(frozen=True, slots=True)
class Finish:
    """When the result of an activity counts as finished: at its end, or what the rule makes of its end."""

    activity: str
    rule: Rule | None = None
    due: int | None = None
    """By when it should be. Needed for slack."""


@dataclass(frozen=True, slots=True)
class EarliestFinish:
    """The last of several finishes, as early as can be. [slots]"""

    finishes: tuple[Finish, ...]


@dataclass(frozen=True, slots=True)
class LargestSlack:
    """The smallest slack (due less finish) of several, as large as can be, up to ``enough``; may be below 0. [slots]"""

    finishes: tuple[Finish, ...]
    enough: int | None = None


@dataclass(frozen=True, slots=True)
class LatestStarts:
    """The first starts of several groups, together as late as can be. [open slots]"""

    groups: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Fewest:
    """As few of these optional activities as can be."""

    activities: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EarliestStarts:
    """Every activity as early as can be, the first named first: a tie-break, never worth much time."""


Objective = Makespan | EarliestFinish | LargestSlack | LatestStarts | Fewest | EarliestStarts
