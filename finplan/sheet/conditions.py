"""The shop as the plan took it, each value with whether the shop file or the default shop gave it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from finplan.inputs import Climate, DayAndNight, Person
from finplan.moments import MONTHS, show_day, show_long_day, show_stretches, show_week
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.showing import plain, show_temperature
from finplan.telling import buffer_rule_words

_NAMES: dict[str, Callable[[Plan], str]] = {
    "time-zone": lambda plan: str(plan.shop.time_zone),
    "people": lambda plan: "; ".join(
        f"{person.name}: {_hours(person, plan)} ({', '.join(person.skills)})" for person in plan.shop.people
    ),
    "closed": lambda plan: _closed(plan),
    "holidays": lambda plan: plan.shop.holidays or "none",
    "rooms": lambda plan: "; ".join(f"{name}: {', '.join(room.for_)}" for name, room in plan.shop.rooms.items()),
    "rack": lambda plan: f"{plan.shop.rack.places} flat places, {plan.shop.rack.hooks} hooks",
    "climate": lambda plan: _climate(plan.shop.climate, plan.units),
    "methods": lambda plan: ", ".join(_methods(plan)),
    "grits": lambda plan: ", ".join(plan.shop.grits) or "all",
    "buffer": lambda plan: buffer_rule_words(plan.shop, plan.catalogue),
    "in-time": lambda plan: f"in {plan.shop.in_time_pct:g} of 100 cases",
}
"""How every field of the shop file that bears on the plan is shown, by its name in that file."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One field of the shop."""

    name: str
    value: str
    given: bool
    """Whether the shop file said so; the default shop otherwise."""


def conditions(plan: Plan) -> tuple[Condition, ...]:
    """Return the conditions that a plan rests on."""
    document = plan.shop_file.document
    given = set(document.data) if document else set()
    return tuple(Condition(name.replace("-", " "), show(plan), name in given) for name, show in _NAMES.items())


def _hours(person: Person, plan: Plan) -> str:
    """Return when a person works: every week, and on single days that lie within the plan."""
    steps = plan.timetable.steps
    last = max((step.end for step in steps), default=None)
    days = [
        f"{show_day(day)} {show_stretches(shift.minutes for shift in shifts) or 'off'}"
        for day, shifts in sorted(person.days.items())
        if last is not None and steps[0].start.date() <= day <= last.date()
    ]
    week = show_week([[shift.minutes for shift in day] for day in person.hours])
    return "; ".join([*filter(None, [week]), *days]) or "on other days"


def _closed(plan: Plan) -> str:
    """Return the closed days that lie within the plan; a shop may close for years ahead."""
    steps = plan.timetable.steps
    if not steps:
        return "none"
    first, last = steps[0].start.date(), max(step.end for step in steps).date()
    days = sorted(day for day in plan.shop.closed if first <= day <= last)
    return ", ".join(show_day(day) for day in days) or "none within the plan"


def _climate(climate: Climate, units: Units) -> str:
    if climate.log is not None:
        first, last = climate.log[0].when.date(), climate.log[-1].when.date()
        return f"a log of {len(climate.log)} readings, {show_long_day(first)} to {show_long_day(last)}"
    if climate.months is not None:
        return "; ".join(
            f"{MONTHS[month - 1][:3]}: {_air(air, units)}" for month, air in sorted(climate.months.items())
        )
    return _air(climate, units)


def _air(air: Climate | DayAndNight, units: Units) -> str:
    texts = []
    if air.day is not None:
        hours = f"{air.day.from_.strftime('%H:%M')}–{air.day.to.strftime('%H:%M')}"
        temperature = show_temperature(air.day.temperature_c, units)
        texts.append(f"day {hours} {temperature}, {plain(air.day.humidity_pct)} % humidity")
    if air.night is not None:
        temperature = show_temperature(air.night.temperature_c, units)
        texts.append(f"night {temperature}, {plain(air.night.humidity_pct)} % humidity")
    return "; ".join(texts)


def _methods(plan: Plan) -> list[str]:
    catalogue = plan.catalogue
    known = {**catalogue.methods, **catalogue.sanding_methods}
    return [known[name].title.lower() for name in plan.shop.methods]
