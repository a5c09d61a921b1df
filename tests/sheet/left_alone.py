"""Reads back until when a wet thing is to be left alone, from tags, days and calendar, and what touches it before."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from icalendar import Calendar

from finplan.calendar import plan_calendar
from finplan.planning import Plan
from finplan.sheet.days import working_days
from finplan.tags import tags
from finplan.timetable import TimetableStep
from tests.calendar.named import named

_MOMENT = re.compile(r"(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) (\d+) ([A-Z][a-z]{2}) (\d+):(\d+)")
_ALONE = re.compile(r"(?:not before|(?<!it lasts )until|from) (" + _MOMENT.pattern + ")")
_DRY = re.compile(r"(?:Dry|Cured|Fit to handle|Leave it alone until) (" + _MOMENT.pattern + ")")
"""On the days what is dry at night is told as dry, and when somebody works first behind it."""
_FIRST = re.compile(
    r"(?:Dry|Cured|Fit to handle|[Ll]eave it alone until)(?: one after the other,)? (" + _MOMENT.pattern + ")"
)
_NEXT = re.compile(r"(?:next: (?:turn it over )?|, from |turn it over )(" + _MOMENT.pattern + ")")
_ANY_YEAR = datetime(2027, 7, 1, tzinfo=UTC)
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True)
class Told:
    """That an item is left alone from when a coat is on until a moment."""

    where: str
    row: TimetableStep
    until: datetime


def touched_too_early(plan: Plan) -> list[str]:
    """Return every instruction that touches, turns or moves what it is told elsewhere to leave alone."""
    found: list[str] = []
    if not plan.timetable.steps:  # what does not fit touches nothing
        return found
    found += sent_too_early(row.window for day in working_days(plan) for row in day.rows)
    for told in (*on_tags(plan), *in_days(plan), *in_calendar(plan)):
        for row in touching(plan, told.row):
            if row.start < told.until:
                found.append(f"{told.where}: {told.row.id} is left alone until {told.until}, {row.id} at {row.start}")
                break
    return found


def sent_too_early(windows: Iterable[str]) -> list[str]:
    """Return what rows say of their coats that names what is done next before the first of them may be touched."""
    found = []
    for window in windows:
        dry, then = _FIRST.search(window), _NEXT.search(window)
        if dry is None or then is None:
            continue
        from_when = moment(dry[1], _ANY_YEAR)
        if moment(then[1], from_when) < from_when:
            found.append(window)
    return found


def touching(plan: Plan, coat: TimetableStep) -> Iterator[TimetableStep]:
    """Give what is done to an item after a coat, with what is done to the whole piece."""
    for row in plan.timetable.steps:
        of_item = row.piece == coat.piece and (row.item == coat.item or row.deed == "put-together")
        if row.kind == "attended" and of_item and row.deed != "clean-up" and row.start >= coat.end:
            yield row


def coats_of(plan: Plan) -> list[TimetableStep]:
    """Return the last stretch of every coat, in the order in which they are begun."""
    begun: dict[str, TimetableStep] = {}
    for row in plan.timetable.steps:
        if row.kind == "attended" and row.deed in ("coat", "fill"):
            begun[row.id] = row
    return list(begun.values())


def moment(text: str, near: datetime) -> datetime:
    """Return the moment that is printed in a text, in the year that is nearest after a moment near it."""
    found = _MOMENT.search(text)
    assert found is not None, text
    day, month, hour, minute = found.groups()
    years = [near.year - 1, near.year, near.year + 1]
    moments = [
        datetime(y, _MONTHS.index(month) + 1, int(day), int(hour), int(minute), tzinfo=near.tzinfo) for y in years
    ]
    return min(moments, key=lambda one: abs(one - near))


def on_tags(plan: Plan) -> Iterator[Told]:
    """Give what every tag says."""
    steps = {step.id: step for one in plan.treatments for step in one.steps}
    pieces = {step.id: one.pieces for one in plan.treatments for step in one.steps}
    found = iter(tags(plan))
    begun = {row.id: row for row in reversed(plan.timetable.steps) if row.kind == "attended"}
    order = sorted((begun[row.id] for row in coats_of(plan)), key=lambda row: row.start.timestamp())
    last = {row.id: row for row in coats_of(plan)}
    for row in order:
        assert row.of_step in steps
        for _ in range(pieces[row.of_step or ""]):
            tag = next(found)
            if tag.moment != "it is dry":
                yield Told("tag", last[row.id], moment(tag.moment, row.end))
    assert next(found, None) is None


def in_days(plan: Plan) -> Iterator[Told]:
    """Give what the rows of the days say."""
    by_label = {(row.item, row.step): row for row in coats_of(plan)}
    for day in working_days(plan):
        for row in day.rows:
            names = [item.item for item in row.items] or [row.item]
            label = row.label.removesuffix(", continued")
            for name in names:
                coat = by_label.get((name.partition(" (")[0], label[0].lower() + label[1:]))
                said = _DRY.search(row.window)
                if coat is not None and said is not None:
                    yield Told("day", coat, moment(said[1], coat.end))


def in_calendar(plan: Plan) -> Iterator[Told]:
    """Give what the events say of a coat, and how long those of its drying last."""
    zone = plan.shop.time_zone
    events = {
        named(event): event
        for event in Calendar.from_ical(plan_calendar(plan, datetime(2027, 1, 1, tzinfo=UTC))).walk("VEVENT")
    }
    for coat in coats_of(plan):
        said = _ALONE.search(str(events[f"{coat.item}: {coat.step}"].get("description", "")))
        if said is not None:
            yield Told("event", coat, moment(said[1], coat.end))
        drying = events[f"{coat.item}: {coat.step} dries"]
        yield Told("drying", coat, drying.decoded("dtend").astimezone(zone))
