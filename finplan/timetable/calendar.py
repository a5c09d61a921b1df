"""When each person works: stretches of minutes after a start in universal time, so that clock changes shift nothing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from finplan.inputs import Person, Shop

_LONGEST_SHIFT = timedelta(days=2)
"""A shift that goes on into the next day is over by then."""


@dataclass(frozen=True, slots=True, order=True)
class Stretch:
    """From one minute to another."""

    start_min: int
    end_min: int


@dataclass(frozen=True, slots=True)
class WorkingCalendar:
    """The working stretches of one person, in order, neighbours joined."""

    person: str
    stretches: tuple[Stretch, ...]

    def work_min(self, start_min: float, end_min: float) -> float:
        """Return how much working time lies between two minutes. [min]"""
        return sum(
            max(0.0, min(end_min, stretch.end_min) - max(start_min, stretch.start_min)) for stretch in self.stretches
        )


def hours_between(start: datetime, end: datetime) -> float:
    """Return how long it is from one moment to another, clock changes or not. [h]

    Two times of one zone are otherwise subtracted as the wall shows them.
    """
    return (end.astimezone(UTC) - start.astimezone(UTC)) / timedelta(hours=1)


def working_hours_between(shop: Shop, start: datetime, end: datetime) -> float:
    """Return for how long somebody works in a shop from one moment to another; of several at once it counts once. [h]

    Both may lie anywhere, also before work on a job may start.
    """
    begins = start.astimezone(UTC)
    until_min = hours_between(start, end) * 60
    days = max(0, (end.astimezone(UTC) - begins).days) + 1
    stretches = sorted(
        stretch for person in shop.people for stretch in working_calendar(shop, person, begins, days).stretches
    )
    worked_min, reached_min = 0.0, 0.0
    for stretch in stretches:
        worked_min += max(0.0, min(until_min, stretch.end_min) - max(reached_min, stretch.start_min))
        reached_min = max(reached_min, stretch.end_min)
    return worked_min / 60


def wall_clock(start: datetime, minute: float, zone: ZoneInfo) -> datetime:
    """Return the time in *zone* so many minutes after *start*."""
    return (start + timedelta(minutes=minute)).astimezone(zone)


def working_calendar(shop: Shop, person: Person, start: datetime, days: int) -> WorkingCalendar:
    """Return when a person works in the so many days from *start* on.

    Shifts belong to the day on which they begin; wall-clock times are turned into universal time day by day.
    """
    zone, start = shop.time_zone, start.astimezone(UTC)  # two times of one zone are subtracted as the wall shows them
    first_day = start.astimezone(zone).date() - timedelta(days=1)
    stretches: list[Stretch] = []
    for offset in range(days + 2):
        day = first_day + timedelta(days=offset)
        shifts = shop.shifts(person, day)
        if not shifts:
            continue
        midnight = datetime.combine(day, time(0), zone)
        since_min = (midnight - start).total_seconds() / 60
        clock_stays = midnight.utcoffset() == (midnight + _LONGEST_SHIFT).utcoffset()
        for shift in shifts:
            begins_min, ends_min = (
                round(since_min + minutes if clock_stays else _since_min(start, midnight, minutes))
                for minutes in (shift.start_min, shift.end_min)
            )
            if ends_min <= 0 or ends_min <= begins_min:
                continue
            if stretches and begins_min <= stretches[-1].end_min:
                stretches[-1] = Stretch(stretches[-1].start_min, max(stretches[-1].end_min, ends_min))
            else:
                stretches.append(Stretch(max(0, begins_min), ends_min))
    return WorkingCalendar(person.name, tuple(stretches))


def shift_day(shop: Shop, people: Iterable[Person], moment: datetime) -> date:
    """Return the day to which work of some people at a moment belongs: after midnight that on which a shift began."""
    local = moment.astimezone(shop.time_zone)
    day_before = local.date() - timedelta(days=1)
    minute = (24 + local.hour) * 60 + local.minute
    shifts = (shift for person in people for shift in shop.shifts(person, day_before))
    return day_before if any(shift.start_min <= minute < shift.end_min for shift in shifts) else local.date()


def day_begins(shop: Shop, day: date) -> datetime:
    """Return from when on work is of a day: midnight, or the end of the last shift that began before it."""
    midnight = datetime.combine(day, time(0), tzinfo=shop.time_zone).astimezone(UTC)
    evening = midnight - timedelta(days=1)
    at_midnight = 24 * 60
    ends = [
        stretch.end_min
        for person in shop.people
        for stretch in working_calendar(shop, person, evening, 1).stretches
        if stretch.start_min < at_midnight < stretch.end_min
    ]
    return wall_clock(evening, max(ends, default=at_midnight), shop.time_zone)


def _since_min(start: datetime, midnight: datetime, minutes: int) -> float:
    """Return when it is so many minutes after midnight by the clock on the wall, on a day on which that is changed."""
    return (midnight + timedelta(minutes=minutes) - start).total_seconds() / 60
