"""More hands: one more person, longer days, Saturdays, going on; on one day where that is enough, else on all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from finplan.inputs import Person, Shift, days_through
from finplan.timetable.help.change import Change, Way
from finplan.timetable.job import Job
from finplan.timetable.remedy import MoreHands
from finplan.timetable.timetable import ChangeKind

_SATURDAY = 5
_MOST_DAYS = 10
"""On so many days one by one more hands are tried, the last before the delivery."""
Shifts = tuple[Shift, ...]
ShiftsByDay = Mapping[date, Shifts]


def more_hands(job: Job, last: date) -> Iterator[Way]:
    """Give one more person, longer days and Saturdays worked, from now to the day *last*."""
    first = job.earliest.astimezone(job.shop.time_zone).date()
    longer_h = job.catalogue.time_in_hand["common"].longer_day_h
    days = days_through(first, last)
    open_days = [day for day in days if day not in job.shop.closed]
    worked = [day for day in open_days if any(job.shop.shifts(person, day) for person in job.shop.people)]
    yield from _helped(job, worked)
    for number, person in enumerate(job.shop.people):
        own = {day: shifts for day in worked if (shifts := job.shop.shifts(person, day))}
        longer = {day: longer_day(shifts, longer_h) for day, shifts in own.items()}
        each_day = MoreHands(person.name, longer_h=longer_h, on="each-day", shifts=())
        yield from _on_days(longer, "hours", each_day, _with_days(job, number))
        usual = next((shifts for shifts in person.hours if shifts), ())
        free = [day for day in open_days if day.weekday() == _SATURDAY and day not in own]
        saturdays = dict.fromkeys(free, usual) if usual else {}
        all_of_them = MoreHands(person.name, longer_h=0.0, on="saturdays", shifts=usual)
        yield from _on_days(saturdays, "saturday", all_of_them, _with_days(job, number))
    yield from working_on(job, last)


def working_on(job: Job, last: date) -> Iterator[Way]:
    """Give that who stops working a week or more before the day *last* works on, as on the last day with hours."""
    first = job.earliest.astimezone(job.shop.time_zone).date()
    days = days_through(first, last)
    for number, person in enumerate(job.shop.people):
        stops = max((day for day in days if job.shop.shifts(person, day)), default=None)
        if stops is None or last - stops < timedelta(days=7):
            continue
        shifts = job.shop.shifts(person, stops)
        weekdays = [day for day in days if day > stops and day.weekday() < _SATURDAY and job.shop.open_on(day)]
        all_of_them = MoreHands(person.name, longer_h=0.0, on="weekdays", shifts=shifts, after=stops)
        yield from _on_days(dict.fromkeys(weekdays, shifts), "hours", all_of_them, _with_days(job, number))


def _helped(job: Job, worked: Sequence[date]) -> Iterator[Way]:
    """Give one more person, who can do everything, in the hours of those who are there."""
    hours = {day: job.shop.longest_day(day) for day in worked}

    def with_help(days: ShiftsByDay) -> Callable[[], Job]:
        help_ = Person.model_construct(
            name=" one more", hours=((),) * 7, days=dict(days), skills=Person.model_fields["skills"].default
        )
        return lambda: _with_people(job, (*job.shop.people, help_))

    yield from _on_days(hours, "person", MoreHands(None, longer_h=0.0, on="each-day", shifts=()), with_help)


def _on_days(
    hours: ShiftsByDay, kind: ChangeKind, all_of_them: MoreHands, job: Callable[[ShiftsByDay], Callable[[], Job]]
) -> Iterator[Way]:
    """Give a way whose first step is each of the days alone, and whose last is all of them."""
    days = sorted(hours)[-_MOST_DAYS:]
    if not days:
        return
    single = tuple(
        Change(replace(all_of_them, on=day, shifts=hours[day], after=None), kind, job({day: hours[day]}))
        for day in days
    )
    every = (Change(all_of_them, kind, job(hours)),)
    yield Way((single, every) if len(hours) > 1 else (single,))


def _with_days(job: Job, number: int) -> Callable[[ShiftsByDay], Callable[[], Job]]:
    def changed(days: ShiftsByDay) -> Callable[[], Job]:
        people = list(job.shop.people)
        people[number] = people[number].model_copy(update={"days": {**people[number].days, **days}})
        return lambda: _with_people(job, tuple(people))

    return changed


def _with_people(job: Job, people: tuple[Person, ...]) -> Job:
    return replace(job, shop=job.shop.model_copy(update={"people": people}))


def longer_day(shifts: Shifts, longer_h: float) -> Shifts:
    """Return the stretches of a day of which the last is so much longer; none of a day without any."""
    last = [Shift(shift.start_min, shift.end_min + round(longer_h * 60)) for shift in shifts[-1:]]
    return (*shifts[:-1], *last)
