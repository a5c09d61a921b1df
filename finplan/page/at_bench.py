"""A job at the bench as the page shows it: the rows of the sheet's days, each with what is ticked of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime

from finplan.bench import JobNow, entry_words, late_words, left_words, step_names
from finplan.moments import show_clock, show_day
from finplan.page.bench_shown import (
    BenchShown,
    DayLink,
    DayShown,
    NotTicked,
    RowShown,
    SessionShown,
    Tickable,
    TickedBefore,
)
from finplan.record import TypedError, steps_of
from finplan.sheet import StepRow, WorkingDay
from finplan.showing import capital
from finplan.telling import agenda_of, dry_from_words, in_time_with, moved_words


def state_of(job: JobNow) -> str:
    """Return what tells whether anything was ticked or planned since."""
    entries = [entry.id for entry in job.ticks[-3:]]
    return ".".join(map(str, (job.held.id, job.plan.digest, len(job.ticks), *entries)))


def bench_shown(
    job: JobNow,
    days: Sequence[WorkingDay],
    moment: datetime,
    *,
    wanted: date | None = None,
    refused: NotTicked | None = None,
    told: Sequence[str] = (),
    wrong: Sequence[str] = (),
) -> BenchShown:
    """Return a job as it is shown.

    Parameters
    ----------
    job, days
        How it stands, and the days of its plan
    moment
        Now
    wanted
        A day that is looked up, instead of today
    refused
        What was sent of a step and not taken
    told, wrong
        What is said of what was sent
    """
    plan = job.plan
    here = moment.astimezone(plan.shop.time_zone)
    rows = _Rows(job, refused)
    shown = _ticked_at_their_ends([_day(day, rows) for day in days])
    today = here.date()
    if wanted is not None:
        own = [day for day in shown if day.day.day == wanted]
        now, following = own, []
    else:
        before = [_left(day) for day in shown if day.day.day < today and _is_open(day)]
        own = [_called(day, "Today") for day in shown if day.day.day == today]
        later = [day for day in shown if day.day.day > today and _is_open(day)]
        following = [] if any(map(_is_open, own)) else [_called(day, "Next") for day in later[:1]]
        now = [*before, *own]
    idle = next((line.idle for line in agenda_of(plan) if line.first <= today <= line.last), "")
    return BenchShown(
        title=", ".join(piece.name for piece in plan.pieces if not piece.sample),
        plan_id=job.held.id,
        number=job.held.number,
        state=state_of(job),
        today=show_day(today),
        now=show_clock(here),
        idle="" if own else idle,
        days=tuple(now),
        next_days=tuple(following),
        links=tuple(DayLink(day.day.day.isoformat(), day.day.heading, _left_words(day)) for day in shown),
        before=tuple(_ticked_before(job)),
        late=late_words(job),
        wet=tuple(f"{capital(dry_from_words(dry_from))}." for dry_from in job.wet),
        stands=tuple(f"{capital(words)}." for words in job.stands),
        left=left_words(job.left),
        as_planned=job.as_planned,
        moved=moved_words(plan),
        in_time_with=in_time_with(plan.timetable),
        people=tuple(person.name for person in plan.shop.people),
        degree="°C" if plan.units == "metric" else "°F",
        looked_up=wanted is not None,
        told=tuple(told),
        wrong=tuple(wrong),
    )


def _ticked_before(job: JobNow) -> Iterator[TickedBefore]:
    """Give the last entries of steps that are in no row of the plan, the newest first."""
    planned = {row.id for row in job.plan.timetable.steps}
    seen: set[str] = set()
    coats = {
        operation.id for piece in job.plan.pieces for operation in piece.operations if operation.finish is not None
    }
    for entry in reversed(job.ticks):
        if planned.isdisjoint(entry.steps) and seen.isdisjoint(entry.steps):
            number = ",".join(step_names(entry.steps, job.numbers))
            words = entry_words(entry, job.plan.units, job.plan.shop.time_zone)
            on = step_names([step for step in entry.steps if step in coats], job.numbers)
            yield TickedBefore(number, words, entry.id, on[-1] if on else "")
        seen.update(entry.steps)


class _Rows:
    """Makes the rows of one job."""

    def __init__(self, job: JobNow, refused: NotTicked | None) -> None:
        self._job = job
        self._refused = refused
        self._zone = job.plan.shop.time_zone
        self._deeds = {row.id: row.deed for row in job.plan.timetable.steps if row.kind == "attended"}

    def of(self, row: StepRow, person: str) -> RowShown:
        name = f"{row.item}: {row.label}" if row.item else row.label
        if row.items:
            tickables = [
                self._step(
                    item_line.number,
                    f"{item_line.item}: {row.label}",
                    item_line.time,
                    item_line.key,
                    item_line.lines,
                    row.used,
                    person,
                )
                for item_line in row.items
            ]
        else:
            tickables = [self._step(row.number, name, "", "", (), row.used, person)]
        return RowShown(row, tuple(tickable for tickable in tickables if tickable is not None))

    def _step(
        self, number: str, name: str, time: str, key: str, lines: tuple[str, ...], unit: str, person: str
    ) -> Tickable | None:
        job = self._job
        try:
            ids = steps_of([number], job.numbers)
        except TypedError:  # it has no number
            return None
        ticks = [known for kind in ("done", "dry") for step in ids if (known := job.entry_of([step], kind)) is not None]
        entries = {tick.id: tick for tick in ticks}.values()
        done = job.done.issuperset(ids)
        ticked = [step for step in ids if job.entry_of([step])]
        coat = any(self._deeds.get(step) in ("coat", "fill") for step in ids)
        words = [entry_words(entry, job.plan.units, self._zone) for entry in entries]
        if ticked and len(ticked) < len(ids):
            words = [f"{len(ticked)} of {len(ids)}: {word}" for word in words]
        return Tickable(
            number=number,
            name=name,
            time=time,
            key=key,
            lines=lines,
            state="open" if not done else "done" if ticked else "before",
            told=tuple(words),
            late=not job.late.isdisjoint(ids),
            coat=coat,
            test=any(self._deeds.get(step) == "test" for step in ids),
            wet=bool(ticked) and all(entry.kind == "done" for entry in entries) and not job.coats_on.isdisjoint(ids),
            unit=unit,
            person=person,
            seen=max((entry.id for entry in entries), default=0),
            refused=self._refused if self._refused is not None and self._refused.number == number else None,
        )


def _day(day: WorkingDay, rows: _Rows) -> DayShown:
    sessions = [
        SessionShown(session, of_one.person, tuple(rows.of(row, of_one.person) for row in session.rows))
        for of_one in day.people
        for session in of_one.sessions
    ]
    return DayShown(day, "", tuple(sessions), whole=True)


def _ticked_at_their_ends(days: Sequence[DayShown]) -> list[DayShown]:
    """Return days in which a step that is interrupted, by a break or a night, is ticked in its last row alone."""
    seen: set[str] = set()

    def row(shown: RowShown) -> RowShown:
        steps = tuple(replace(step, goes_on=step.number in seen) for step in shown.steps)
        seen.update(step.number for step in shown.steps)
        return replace(shown, steps=steps)

    def session(shown: SessionShown) -> SessionShown:
        return replace(shown, rows=tuple(reversed([row(row_shown) for row_shown in reversed(shown.rows)])))

    turned = [
        replace(day, sessions=tuple(reversed([session(work) for work in reversed(day.sessions)])))
        for day in reversed(days)
    ]
    return turned[::-1]


def _is_open(day: DayShown) -> bool:
    return any(session.open for session in day.sessions)


def _called(day: DayShown, when: str) -> DayShown:
    return DayShown(day.day, when, day.sessions, whole=True)


def _left(day: DayShown) -> DayShown:
    """Return what is left of a day before today."""
    sessions = [
        SessionShown(session.session, session.person, tuple(row for row in session.rows if row.open))
        for session in day.sessions
        if session.open
    ]
    return DayShown(day.day, "Before today", tuple(sessions), whole=False)


def _left_words(day: DayShown) -> str:
    steps = [step for session in day.sessions for row in session.rows for step in row.steps if not step.goes_on]
    left = sum(step.state == "open" for step in steps)
    return "done" if not left else f"{left} of {len(steps)} to do"


def next_work(days: Sequence[DayShown]) -> Iterator[str]:
    """Give what is to be done next, in short: for the list of jobs."""
    for day in days:
        for session in day.sessions:
            for row in session.rows:
                if row.open:
                    yield f"{show_day(day.day.day)} {row.row.start} {row.row.item}: {row.row.label}".replace(" : ", " ")
