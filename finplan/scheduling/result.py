"""What a solver found: a status, a schedule, and how good it is proven to be."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from finplan.scheduling.objective import Objective

ResultStatus = Literal["optimal", "feasible", "impossible", "unknown"]
"""Proven best; the best found in the time given; proven not to exist; nothing found and nothing proven."""


SearchProgress = Callable[[Objective, int, int], None]
"""Told of every improvement: the objective, the value reached and the best that could still be."""


@dataclass(frozen=True, slots=True)
class Scheduled:
    """An activity with its time and mode. Slots."""

    start: int
    end: int
    mode: int
    """Its place among the activity's modes."""


Schedule = Mapping[str, Scheduled]
"""When everything is done, by the names of the activities."""


@dataclass(frozen=True, slots=True)
class Attained:
    """One objective: the value reached and the best that any schedule could reach."""

    objective: Objective
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether nothing better exists."""
        return self.value == self.bound


@dataclass(frozen=True, slots=True)
class Result:
    """What ``solve`` returns. ``schedule`` is empty where there is none; optional activities left out are not in it."""

    status: ResultStatus
    schedule: Mapping[str, Scheduled] = field(default_factory=dict)
    stages: tuple[Attained, ...] = ()
    """One for each objective that was reached, in order."""
    cut_short: bool = False
    """Whether the clock ended it, or several threads together: run again, the schedule may come out otherwise."""
    effort: float = 0.0
    """What the search took of the solver's own deterministic time, over all objectives."""

    @property
    def makespan(self) -> int | None:
        """The latest end. None where there is no schedule. [slots]"""
        return max((scheduled.end for scheduled in self.schedule.values()), default=None)

    @property
    def starts(self) -> dict[str, int]:
        """When everything starts. [slots]"""
        return {name: scheduled.start for name, scheduled in self.schedule.items()}
