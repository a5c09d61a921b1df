"""When people work, worked out anew: shares nothing with the program's calendar."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import holidays

from finplan.inputs import Shop

Stretch = tuple[datetime, datetime]


@dataclass(frozen=True)
class OwnHours:
    """The stretches in which each person works, in universal time."""

    people: dict[str, list[Stretch]]

    @classmethod
    def of(cls, shop: Shop, first: date, last: date, closed: frozenset[date] = frozenset()) -> OwnHours:
        """Return the hours from one day to another; shifts belong to the day on which they begin."""
        country, _, subdivision = (shop.holidays or "").partition("-")
        years = range(first.year, last.year + 1)
        free = set(shop.closed | closed)
        if country:
            free |= set(holidays.country_holidays(country, subdiv=subdivision or None, years=years))
        people: dict[str, list[Stretch]] = {}
        for person in shop.people:
            found: list[Stretch] = []
            day = first
            while day <= last:
                usual = person.hours[day.weekday()] if day not in free else ()
                named = () if day in shop.closed | closed else person.days.get(day, ())
                for shift in named if day in person.days else usual:
                    begins, ends = (_at(day, minutes, shop) for minutes in (shift.start_min, shift.end_min))
                    if begins < ends:
                        found.append((begins, ends))
                day += timedelta(days=1)
            people[person.name] = _joined(found)
        return cls(people)

    @property
    def anybody(self) -> list[Stretch]:
        """When somebody works."""
        return _joined(sorted(stretch for stretches in self.people.values() for stretch in stretches))

    def works(self, person: str, start: datetime, end: datetime) -> bool:
        """Whether a person works all through a stretch of time."""
        return any(begins <= start and end <= ends for begins, ends in self.people[person])

    def worked(self, stretches: list[Stretch], start: datetime, end: datetime) -> timedelta:
        """Return how much of a span lies within stretches."""
        return sum(
            (max(timedelta(0), min(end, ends) - max(start, begins)) for begins, ends in stretches), start=timedelta(0)
        )

    def longest(self, person: str) -> timedelta:
        """Return the longest stretch of a person."""
        return max((ends - begins for begins, ends in self.people[person]), default=timedelta(0))

    def somebody_from(self, moment: datetime) -> datetime | None:
        """Return the first moment from one on at which somebody works."""
        return next((max(moment, begins) for begins, ends in self.anybody if ends > moment), None)


def _at(day: date, minutes: int, shop: Shop) -> datetime:
    clock = datetime(day.year, day.month, day.day) + timedelta(minutes=minutes)
    return clock.replace(tzinfo=shop.time_zone).astimezone(UTC)


def _joined(stretches: list[Stretch]) -> list[Stretch]:
    joined: list[Stretch] = []
    for begins, ends in stretches:
        if joined and begins <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], ends))
        else:
            joined.append((begins, ends))
    return joined
