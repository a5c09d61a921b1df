"""The bench for other programs: today's steps, ticked, taken back and corrected, and the rest planned again.

What is sent is what a form of the page sends, and goes the same way: the rules are in ``jobs`` and ``bench_sent``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Query
from pydantic import BaseModel, ConfigDict, Field

from finplan.bench import NotHeldError, tick_lines
from finplan.page.api_told import REFUSALS, FileName
from finplan.page.at_bench import bench_shown, next_work
from finplan.page.bench_sent import air_sent, day_of, noted_of
from finplan.page.bench_shown import BenchShown, DayShown, RowShown, SessionShown, Tickable
from finplan.page.jobs import Jobs, Seen
from finplan.page.workbench import Workbench
from finplan.problems import FinplanError, NotPossibleError

Typed = Annotated[str, Field(max_length=300)]
DayAsked = Annotated[str | None, Query(max_length=20, description="A day to be looked up: 2027-02-10")]


class StepTold(BaseModel):
    """What is ticked in one go."""

    number: Annotated[str, Field(description="As on the sheet; what a tick names")]
    name: str
    start: str
    end: str
    person: Annotated[str, Field(description="Who does it by the plan")]
    state: Annotated[
        Literal["open", "done", "before"], Field(description="before: it counts as done, since something after it is")
    ]
    told: Annotated[list[str], Field(description="What is ticked of it, in words")]
    seen: Annotated[int, Field(description="The last entry of it; what a tick is made from")]
    unit: Annotated[str, Field(description="Of what is used; empty where nothing is")]
    late: bool
    wet: Annotated[bool, Field(description="Whether it may be found dry")]
    lines: Annotated[list[str], Field(description="How it is done, with its cautions, as on the sheet")]


class DayTold(BaseModel):
    """A day of work."""

    day: str
    heading: str
    steps: list[StepTold]
    evening: list[str]


class BenchTold(BaseModel):
    """A job as it stands."""

    plan: Annotated[int, Field(description="The plan that is held; what a tick is made from")]
    number: int
    state: Annotated[str, Field(description="Another one where anything was ticked or planned since")]
    today: str
    now: str
    days: list[DayTold]
    wet: list[str]
    late: str
    left: str
    as_planned: Annotated[bool, Field(description="Whether the files are those of the plan; else nothing is ticked")]
    said: Annotated[list[str], Field(description="What was written down or done just now")]


class JobTold(BaseModel):
    """A piece and what is next to be done to it."""

    name: str
    next: str
    late: str
    why: Annotated[str, Field(description="Why nothing is to be ticked; empty where something is")]


class JobList(BaseModel):
    """The jobs of the folder."""

    jobs: list[JobTold]


class _MadeFrom(BaseModel):
    model_config = ConfigDict(extra="forbid")
    plan: Annotated[int, Field(ge=0, le=10**11, description="The plan that it was made from")]


class _OnStep(_MadeFrom):
    step: Annotated[str, Field(max_length=40, description="By its number: 4, or 4,5 of a set")]
    seen: Annotated[int, Field(ge=0, le=10**11, description="The last entry of the step that was seen")]


class TickAsked(_OnStep):
    """A step is done, or found dry. A number without a unit is in that of the piece."""

    dry: bool = False
    believe: Annotated[bool, Field(description="That what comes before was done too")] = False
    at: Annotated[Typed, Field(description="When; else now: 13:35, or 2027-02-10 13:35")] = ""
    used: Annotated[Typed, Field(description="How much: 118, or 118 ml")] = ""
    unit: Annotated[Typed, Field(description="Of that, where it has none")] = ""
    before: Annotated[Typed, Field(description="What the can weighed before")] = ""
    after: Annotated[Typed, Field(description="And after")] = ""
    temperature: Typed = ""
    humidity: Typed = ""
    took: Annotated[Typed, Field(description="How long: 75, or 75 min")] = ""
    by: Typed = ""
    note: Typed = ""
    result: Annotated[Typed, Field(description="What a test for lead came to: lead or clear")] = ""


class TakeBackAsked(_OnStep):
    """The last entry of a step is taken back."""


class ReplanAsked(_MadeFrom):
    """The rest is planned again; with the air since what is wet was put on, where it was measured."""

    temperature: Typed = ""
    humidity: Typed = ""


@dataclass(frozen=True)
class BenchApi:
    """The routes of the bench of one folder for other programs."""

    session: Workbench
    jobs: Jobs

    def router(self) -> APIRouter:
        """Return the routes."""
        routes = APIRouter(prefix="/api", responses=REFUSALS)
        of_piece = "/pieces/{name}/bench"
        for path, does, method, summary in (
            ("/bench", self.all_jobs, "GET", "What is next of every job"),
            (of_piece, self.bench, "GET", "Today's steps of a job, or those of a day"),
            (f"{of_piece}/plan", self.plan, "POST", "Plan a piece, and hold the plan"),
            (f"{of_piece}/ticks", self.tick, "POST", "Tick a step"),
            (f"{of_piece}/take-back", self.take_back, "POST", "Take the last tick of a step back"),
            (f"{of_piece}/replan", self.replan, "POST", "Plan the rest again"),
        ):
            routes.add_api_route(path, does, methods=[method], summary=summary)
        return routes

    def all_jobs(self) -> JobList:
        """Return every piece with what is to be done next to it."""
        return JobList(jobs=[self._job(name) for name in self.session.folder.names()])

    def _job(self, name: str) -> JobTold:
        try:
            shown = self.jobs.shown(name)
        except NotHeldError:
            return JobTold(name=name, next="", late="", why="no plan of it is held yet")
        except FinplanError as error:
            return JobTold(name=name, next="", late="", why=str(error))
        bench = bench_shown(shown.job, shown.days, self.session.now())
        following = next(next_work((*bench.days, *bench.next_days)), bench.left)
        return JobTold(name=name, next=following, late=bench.late, why="")

    def bench(self, name: FileName, day: DayAsked = None) -> BenchTold:
        """Return how a job stands: today's steps, what was left, and the next ones; or the steps of a day."""
        return self._told(name, day=day)

    def plan(self, name: FileName) -> BenchTold:
        """Plan a piece and hold the plan in the workshop's record, in the place of one that is held."""
        _refuse(self.jobs.begin(name))
        return self._told(name, ["The plan is held."])

    def tick(self, name: FileName, asked: TickAsked) -> BenchTold:
        """Write down that a step is done, or a coat found dry; a step that is ticked already is corrected."""
        sent = {
            name: str(value) for name, value in asked.model_dump(exclude={"plan", "seen", "dry", "believe"}).items()
        }
        noted = noted_of(sent, self.jobs.shown(name).job.plan.units)
        seen = Seen(asked.plan, asked.seen)
        done = self.jobs.tick(name, asked.step, noted, seen, dry=asked.dry, believe=asked.believe)
        return self._told(name, tick_lines(done))

    def take_back(self, name: FileName, asked: TakeBackAsked) -> BenchTold:
        """Take the last entry of a step back."""
        return self._told(name, tick_lines(self.jobs.take_back(name, asked.step, Seen(asked.plan, asked.seen))))

    def replan(self, name: FileName, asked: ReplanAsked) -> BenchTold:
        """Plan what is left again and hold that; what was done stays done."""
        air = air_sent(asked.model_dump(include={"temperature", "humidity"}), self.jobs.shown(name).job.plan.units)
        _refuse(self.jobs.plan_again(name, asked.plan, air))
        return self._told(name, ["The rest is planned again."])

    def _told(self, name: str, said: Sequence[str] = (), day: str | None = None) -> BenchTold:
        shown = self.jobs.shown(name)
        return _bench(bench_shown(shown.job, shown.days, self.session.now(), wanted=day_of(day)), said)


def _refuse(clashes: Sequence[str]) -> None:
    if clashes:
        raise NotPossibleError(" ".join(clashes))


def _bench(bench: BenchShown, said: Sequence[str]) -> BenchTold:
    return BenchTold(
        plan=bench.plan_id,
        number=bench.number,
        state=bench.state,
        today=bench.today,
        now=bench.now,
        days=[_day(day) for day in (*bench.days, *bench.next_days)],
        wet=list(bench.wet),
        late=bench.late,
        left=bench.left,
        as_planned=bench.as_planned,
        said=list(said),
    )


def _day(shown: DayShown) -> DayTold:
    return DayTold(
        day=shown.day.day.isoformat(),
        heading=shown.day.heading,
        steps=[_step(session, row, step) for session in shown.sessions for row in session.rows for step in row.steps],
        evening=list(shown.day.evening) if shown.whole else [],
    )


def _step(session: SessionShown, shown: RowShown, step: Tickable) -> StepTold:
    row = shown.row
    wear = (row.wear,) if row.wear else ()
    return StepTold(
        number=step.number,
        name=step.name,
        start=step.time or row.start,
        end=row.end,
        person=session.person,
        state=step.state,  # type: ignore[arg-type]
        told=list(step.told),
        seen=step.seen,
        unit=step.unit,
        late=step.late,
        wet=step.wet,
        lines=[*row.cautions, *wear, *row.lines, *row.warnings, *row.ticks, *step.lines],
    )
