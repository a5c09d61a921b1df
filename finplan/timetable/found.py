"""A plan that was found, and what it is when none is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from finplan.problems import FinplanError
from finplan.scheduling import Finish, Result, Scheduled, broken_rules
from finplan.timetable.problem import Placement, Window
from finplan.timetable.timetable import Buffer


class NotFoundYetError(FinplanError):
    """No plan was found in the time given, and none was proven impossible."""

    exit_code = 4


@dataclass(frozen=True, slots=True)
class Found:
    """A schedule with what it was made from."""

    result: Result
    placement: Placement
    buffer: Buffer
    windows: Mapping[str, Window]
    """By piece key."""

    @property
    def schedule(self) -> Mapping[str, Scheduled]:
        """When everything is."""
        return self.result.schedule


def finished(finish: Finish, schedule: Mapping[str, Scheduled]) -> int:
    """Return the slot at which what an operation leaves is finished."""
    end = schedule[finish.activity].end
    moment = end if finish.rule is None else finish.rule(end)
    return end if moment is None else moment


def broken(placement: Placement, schedule: Mapping[str, Scheduled]) -> list[str]:
    """Return what a schedule breaks of every rule, on the clock: no solver is believed unchecked."""
    return broken_rules(placement.problem, schedule)
