"""What the page of a job at the bench is filled with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from finplan.sheet import StepRow, WorkingDay, WorkSession
from finplan.telling import Moved


@dataclass(frozen=True, slots=True)
class NotTicked:
    """What was sent of a step and not taken."""

    number: str
    typed: Mapping[str, str]
    wrong: str
    before: bool = False
    """Whether it would be taken if what comes before it was done too."""


@dataclass(frozen=True, slots=True)
class Tickable:
    """What is ticked in one go: a step, or the same on several of a set."""

    number: str
    """As on the sheet; what is sent."""
    name: str
    """What it is, for who hears the page."""
    time: str
    key: str
    lines: tuple[str, ...]
    state: str
    """``open``; ``done``, where it is ticked; ``before``, where it has to be done since something after it is."""
    told: tuple[str, ...]
    """What is ticked of it, in words."""
    late: bool
    coat: bool
    test: bool
    """Whether it is the test of an old coating, and ticked with what that came to."""
    wet: bool
    """Whether it was put on and may be found dry."""
    unit: str
    """Of what is used; empty where nothing is."""
    person: str
    """Who does it by the plan."""
    seen: int
    """The last entry of it, by which a form knows whether it is ticked otherwise meanwhile."""
    refused: NotTicked | None
    goes_on: bool = False
    """Whether it is interrupted here, and ticked where it ends."""

    @property
    def id(self) -> str:
        """By which the page finds it."""
        return "step-" + "".join(letter if letter.isalnum() else "-" for letter in self.number)


@dataclass(frozen=True, slots=True)
class RowShown:
    """A row of the sheet, and what is ticked of it."""

    row: StepRow
    steps: tuple[Tickable, ...]

    @property
    def open(self) -> bool:
        """Whether anything of it is still to be done."""
        return any(step.state == "open" for step in self.steps)


@dataclass(frozen=True, slots=True)
class SessionShown:
    """A session of work; what is told before it where anything of it is still to be done."""

    session: WorkSession
    person: str
    rows: tuple[RowShown, ...]

    @property
    def open(self) -> bool:
        """Whether anything of it is still to be done."""
        return any(row.open for row in self.rows)


@dataclass(frozen=True, slots=True)
class DayShown:
    """A day of work."""

    day: WorkingDay
    when: str
    """``Today``, ``Before today`` or ``Next``; empty of a day that is looked up."""
    sessions: tuple[SessionShown, ...]
    whole: bool
    """Whether all of it is shown, with its evening; else what is left of it."""


@dataclass(frozen=True, slots=True)
class TickedBefore:
    """An entry of steps that the plan no longer holds, since they are done."""

    number: str
    told: str
    seen: int
    coat: str
    """The number of the last coat among them; empty where there is none."""


@dataclass(frozen=True, slots=True)
class DayLink:
    """A day of the plan, to be looked up."""

    iso: str
    words: str
    left: str


@dataclass(frozen=True, slots=True)
class BenchShown:
    """All that the page at the bench says."""

    title: str
    plan_id: int
    number: int
    state: str
    """By which a window knows whether anything was ticked or planned meanwhile."""
    today: str
    now: str
    idle: str
    """What is said of a day without work."""
    days: tuple[DayShown, ...]
    """What is to be done today, and what was left from before."""
    next_days: tuple[DayShown, ...]
    links: tuple[DayLink, ...]
    before: tuple[TickedBefore, ...]
    late: str
    wet: tuple[str, ...]
    stands: tuple[str, ...]
    left: str
    as_planned: bool
    moved: Moved | None
    in_time_with: str
    """What would keep a date that the rest misses; empty where it misses none."""
    people: tuple[str, ...]
    degree: str
    looked_up: bool = False
    told: tuple[str, ...] = field(default=())
    """What was written down or done just now."""
    wrong: tuple[str, ...] = field(default=())
