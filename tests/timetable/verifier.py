"""Checks a timetable against the shop as a person would, with none of the program's own scheduling or drying code."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

from finplan.catalogue import Finish
from finplan.plan import Plan
from finplan.timetable import TimetableStep

MINUTE = timedelta(minutes=1)
QUARTER = timedelta(minutes=15)


def air_at(plan: Plan, moment: datetime) -> tuple[float, float]:
    """Temperature and humidity, by the clock on the wall."""
    climate = plan.source.shop.climate
    day, night = climate.day, climate.night
    assert day is not None
    assert night is not None
    clock = moment.astimezone(plan.source.shop.time_zone).time()
    warm = day.from_ <= clock < day.to
    return (day.temperature_c, day.humidity_pct) if warm else (night.temperature_c, night.humidity_pct)


def rate(plan: Plan, finish: Finish, moment: datetime) -> float:
    """How fast it dries, against 23 °C and 50 %."""
    temperature_c, humidity_pct = air_at(plan, moment)
    if temperature_c < finish.apply.temperature_c.low:
        return 0.0
    pace = plan.source.catalogue.drying[finish.drying]
    if finish.drying in ("oxidation", "reaction"):
        return float(2 ** ((temperature_c - 23) / (pace.doubling or math.nan)))
    if finish.drying == "solvent":
        return math.exp(
            (pace.enthalpy_kj_mol or math.nan) * 1e3 / 8.314462618 * (1 / 296.15 - 1 / (temperature_c + 273.15))
        )

    def vapour(t: float) -> float:  # Magnus, Alduchov and Eskridge 1996
        return 6.1094 * math.exp(17.625 * t / (243.04 + t))

    return vapour(temperature_c) * (1 - humidity_pct / 100) / (vapour(23.0) * 0.5)


def dried_h(plan: Plan, finish: Finish, start: datetime, end: datetime) -> float:
    """Hours of standard air between two moments, added up quarter by quarter, the ends in part."""
    total = 0.0
    moment = start.astimezone(UTC)
    while moment < end:
        into = timedelta(minutes=moment.minute % 15, seconds=moment.second, microseconds=moment.microsecond)
        step_end = min(moment - into + QUARTER, end.astimezone(UTC))
        total += rate(plan, finish, moment) * (step_end - moment) / timedelta(hours=1)
        moment = step_end
    return total


def broken_rules(plan: Plan) -> list[str]:
    """Return every rule that the timetable breaks."""
    broken: list[str] = []
    steps = plan.timetable.steps
    attended = [step for step in steps if step.kind == "attended"]
    broken += _hours(plan, attended)
    broken += _order(plan, attended)
    broken += _coats(plan, attended)
    if plan.timetable.deliver is not None:
        assert plan.timetable.ready is not None
        if plan.timetable.ready > plan.timetable.deliver:
            broken.append("ready after the delivery")
    return broken


def _hours(plan: Plan, attended: list[TimetableStep]) -> list[str]:
    broken: list[str] = []
    people = {person.name: person for person in plan.source.shop.people}
    for step in attended:
        moment = step.start
        while moment < step.end:
            local = moment.astimezone(plan.source.shop.time_zone)
            minute = local.hour * 60 + local.minute
            shifts = people[step.person or ""].hours[local.weekday()]
            if not any(shift.start_min <= minute < shift.end_min for shift in shifts):
                broken.append(f"{step.person} does not work at {local} ({step.step} of {step.item})")
                break
            if not plan.source.shop.open_on(local.date()):
                broken.append(f"the shop is closed at {local}")
                break
            moment += MINUTE
    for index, one in enumerate(attended):
        for other in attended[index + 1 :]:
            if one.person == other.person and one.start < other.end and other.start < one.end:
                broken.append(f"{one.person} does two things at {other.start}")
    return broken


def _order(plan: Plan, attended: list[TimetableStep]) -> list[str]:
    broken: list[str] = []
    for treatment in plan.treatments:
        before: datetime | None = None
        for step in treatment.steps:
            rows = [row for row in attended if row.id == step.id]
            if not rows:
                broken.append(f"{step.id} is not in the timetable")
                continue
            if before is not None and rows[0].start < before:
                broken.append(f"{step.id} starts before the step before it has ended")
            before = rows[-1].end
    return broken


def _coats(plan: Plan, attended: list[TimetableStep]) -> list[str]:
    broken: list[str] = []
    finishes = plan.source.catalogue.finishes
    by_id = {step.id: step for treatment in plan.treatments for step in treatment.steps}
    dusty = [row for row in attended if row.id.endswith("/abrade") or by_id[row.id].do in ("sand", "abrade", "rub-out")]
    for row in attended:
        step = by_id.get(row.id)
        if step is None or step.finish is None:
            continue
        finish = finishes[step.finish]
        temperature_c, humidity_pct = air_at(plan, row.start)
        if not finish.apply.temperature_c.holds(temperature_c) or not finish.apply.humidity_pct.holds(humidity_pct):
            broken.append(f"{row.id} is put on at {temperature_c} °C and {humidity_pct} %")
        later = [other for other in attended if other.item == row.item and other.start >= row.end]
        if later:
            got = dried_h(plan, finish, row.end, later[0].start)
            if got < finish.recoat_h.typical - 1e-6:
                broken.append(f"{later[0].id} follows {row.id} after {got:.2f} h of drying")
        for other in dusty:
            same_room = other.room in (row.room, plan.source.shop.room_for("drying"))
            if same_room and other.end > row.start and other.start < row.end:
                broken.append(f"{other.id} makes dust while {row.id} goes on")
            if same_room and other.start >= row.end:
                got = dried_h(plan, finish, row.end, other.start)
                surface_h = (finish.dust_free_h or finish.touch_dry_h).typical
                if got < surface_h - 1e-6:
                    broken.append(f"{other.id} makes dust {got:.2f} h after {row.id}")
    return broken
