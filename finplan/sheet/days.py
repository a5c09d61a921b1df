"""Day by day: who does what when, with room for what really happened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import groupby

from finplan.listing import listed
from finplan.moments import show_clock, show_day, show_long_day, show_moment
from finplan.planning import Plan
from finplan.sheet.sessions import Sessions, WorkSession
from finplan.sheet.step_row import StepRow
from finplan.sheet.told_before import ToldBefore, told_once
from finplan.telling import (
    READY,
    Helping,
    Names,
    aired_until,
    duty_words,
    helps,
    leaves_last_words,
    lost_day_words,
    marked_name,
    names_together,
    ready_at,
)
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class PersonsWork:
    """What one person does on a day."""

    person: str
    begins: datetime
    hours: str
    sessions: tuple[WorkSession, ...]


@dataclass(frozen=True, slots=True)
class OnlyDays:
    """What is wanted of the days: one of them, the work of one person, or both."""

    day: date | None = None
    person: str | None = None


@dataclass(frozen=True, slots=True)
class WorkingDay:
    """One day of work."""

    day: date
    anchor: str
    """By which the front finds its page."""
    heading: str
    who: str
    """Who works, with the hours, and who helps."""
    helps: tuple[Helping, ...]
    people: tuple[PersonsWork, ...]
    drying: tuple[str, ...]
    """What is left standing wet when the work ends, from when and until when."""
    evening: tuple[str, ...]
    """What is checked before the light is put out."""
    leaves_last: str
    """Who works longest, and so checks it."""
    with_another: str
    """Who sees to the evening, where that is nobody whose work is shown; else empty."""
    lost: str
    """What it costs when nobody works on it, which the front says of all days; empty where that is not known."""
    next_work: str

    @property
    def rows(self) -> tuple[StepRow, ...]:
        """All that is done."""
        return tuple(row for _, row in self.rows_in_sessions)

    @property
    def rows_in_sessions(self) -> tuple[tuple[WorkSession, StepRow], ...]:
        """The same, each with the session that it belongs to."""
        sessions = (session for of_one in self.people for session in of_one.sessions)
        return tuple((session, row) for session in sessions for row in session.rows)


def anchor_of(day: date) -> str:
    """Return the name by which a page finds a day."""
    return f"day-{day.isoformat()}"


def only_days(days: Sequence[WorkingDay], only: OnlyDays) -> tuple[WorkingDay, ...]:
    """Return what is wanted of days; those of which nothing is wanted are left out."""
    of_one = [(day, people) for day in days if (people := _wanted(day, only.person))]
    chosen = []
    for (day, people), later in zip(of_one, [*of_one[1:], None], strict=True):
        if only.day not in (None, day.day):
            continue
        shown = replace(day, people=_told_once(people), who=_who(people, day.helps))
        if only.person is not None and day is not days[-1]:
            shown = replace(shown, next_work=_next_of(only.person, day, None if later is None else later[0]))
        last = day.leaves_last in [work.person for work in people]
        chosen.append(shown if last else replace(shown, evening=(), drying=(), with_another=_leaves_last(day)))
    return tuple(chosen)


def _wanted(day: WorkingDay, person: str | None) -> tuple[PersonsWork, ...]:
    """Return the work of a day, or that of one person alone; of who only helps, that at which he does."""
    people = tuple(work for work in day.people if person in (None, work.person))
    if people:
        return people
    helped = {hand.row.person for hand in day.helps if hand.person == person}
    return tuple(work for work in day.people if work.person in helped)


def _next_of(person: str, day: WorkingDay, later: WorkingDay | None) -> str:
    """Return when one person works again."""
    if later is None:
        return f"Last day of work of {person}."
    begins = [work.begins for work in later.people if work.person == person]
    begins += [hand.row.start for hand in later.helps if hand.person == person]
    return _next_words(f"Next work of {person}", min(begins), day.day)


def _leaves_last(day: WorkingDay) -> str:
    of_last = next(of_one for of_one in day.people if of_one.person == day.leaves_last)
    return leaves_last_words(of_last.person, of_last.hours)


def told_over(days: Sequence[WorkingDay]) -> tuple[WorkingDay, ...]:
    """Return days that are printed together: what one of them has told the later ones say by the number of its step."""
    told = ToldBefore()
    return tuple(replace(day, people=_told_once(day.people, told)) for day in days)


def _told_once(people: Sequence[PersonsWork], before: ToldBefore | None = None) -> tuple[PersonsWork, ...]:
    told = told_once([person.sessions for person in people], before)
    return tuple(replace(person, sessions=sessions) for person, sessions in zip(people, told, strict=True))


def _who(people: Sequence[PersonsWork], helping: Sequence[Helping]) -> str:
    helped = {person.person for person in people}
    told = [f"{person.person} {person.hours}".strip() for person in people]
    return "; ".join([*told, *(hand.words for hand in helping if hand.row.person in helped)])


def working_days(plan: Plan) -> tuple[WorkingDay, ...]:
    """Return the days on which somebody works."""
    sessions = Sessions(plan)
    attended = [step for step in plan.timetable.steps if step.kind == "attended"]
    by_day = {day: list(rows) for day, rows in groupby(attended, key=lambda step: step.start.date())}
    following = dict(zip(by_day, list(by_day)[1:], strict=False))
    days: list[WorkingDay] = []
    for day, planned in by_day.items():
        people = _told_once([_of_person(person, rows, sessions) for person, rows in _by_person(planned).items()])
        last = max(planned, key=lambda step: step.end.timestamp())
        helping = tuple(hand for hand in helps(plan) if hand.row.start.date() == day)
        drying, evening = _drying(plan, last.end), _evening(planned, plan)
        days.append(
            WorkingDay(
                day=day,
                anchor=anchor_of(day),
                heading=show_long_day(day),
                who=_who(people, helping),
                helps=helping,
                people=people,
                drying=drying,
                evening=evening,
                leaves_last=last.person or "",
                with_another="",
                lost=_lost(day, plan),
                next_work=_next_words("Next work", by_day[following[day]][0].start, day)
                if day in following
                else _after_last(plan),
            )
        )
    return tuple(days)


def _by_person(planned: Sequence[TimetableStep]) -> dict[str, list[TimetableStep]]:
    people: dict[str, list[TimetableStep]] = {}
    for step in planned:
        people.setdefault(step.person or "", []).append(step)
    return people


def _of_person(person: str, planned: Sequence[TimetableStep], sessions: Sessions) -> PersonsWork:
    hours = f"{show_clock(planned[0].start)}–{show_clock(max(step.end for step in planned))}"
    return PersonsWork(person, planned[0].start, hours, sessions.of(planned))


def _lost(day: date, plan: Plan) -> str:
    words = lost_day_words(day, plan)
    return f"If nobody comes on {show_day(day)}: {words}." if words else ""


def _evening(planned: list[TimetableStep], plan: Plan) -> tuple[str, ...]:
    """Return what has to be seen to at the end of a day."""
    day, end = planned[0].start.date(), max(step.end for step in planned)
    due = [tick for tick in plan.precautions.ticks if tick.row is None and tick.due.date() == day]
    lines = [duty_words(tick, plan) for tick in due]
    return (*lines, *aired_until(plan, day, end), *plan.shop.notes.every_day)


def _drying(plan: Plan, end: datetime) -> tuple[str, ...]:
    """Return what stands wet when the work of a day ends."""
    names = Names(plan)
    alike: dict[str, list[TimetableStep]] = {}
    for step in plan.timetable.steps:
        if step.kind == "drying" and step.start <= end < step.end:
            alike.setdefault(step.step, []).append(step)
    return tuple(
        f"{listed(names_together(names.of_item(step) for step in steps))} ({dries.removesuffix(' dries')})"
        for dries, steps in alike.items()
    )


def _next_words(what: str, begins: datetime, day: date) -> str:
    gap = (begins.date() - day).days - 1
    idle = "" if not gap else "; no work for a day" if gap == 1 else f"; no work for {gap} days"
    return f"{what}: {show_moment(begins)}{idle}."


def _after_last(plan: Plan) -> str:
    ready = [marked_name(show_moment(ready_at(piece)), plan.piece_of(piece), plan) for piece in plan.timetable.pieces]
    return f"Last day of work. {READY[plan.ready_for]} {listed(ready)}." if ready else ""
