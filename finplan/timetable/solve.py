"""From operations to a timetable: placed, checked against the date, and explained where it does not fit."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from finplan.inputs import Shop
from finplan.inputs.climate import Climate, NightAir
from finplan.timetable.plan import (
    REFINE_MIN,
    Clash,
    Job,
    Placing,
    Timetable,
    TimetableStep,
    WouldFit,
    buffer_wanted_h,
    latest_start,
)
from finplan.timetable.schedule import Placed, Stuck


def solve(job: Job) -> Timetable:
    """Return the timetable of a job.

    With a delivery it starts as late as leaves the buffer wanted; where that cannot be kept, at once, with the buffer
    that is left. Without a delivery it starts at once. Items are placed by a rule, not by search, so the plan may not
    be the best; the gap says by how much at most.
    """
    placing = Placing(job)
    found = latest_start(placing, None, None)
    if found is not None:
        start, placed = found
        return _timetable(placing, placed, _gap_of_start_h(placing, start, _buffer_h(placing, placed)))
    placed_at_once = placing.from_minute(0)
    if isinstance(placed_at_once, Stuck):
        return _impossible(placing, _stuck(placed_at_once))
    ready = placing.clock(placing.ready_min(placed_at_once))
    if placing.deliver is not None and ready > placing.deliver:
        return _impossible(placing, _too_late(placing, ready))
    return _timetable(placing, placed_at_once, _gap_of_finish_h(placing, placed_at_once))


def _buffer_h(placing: Placing, placed: tuple[Placed, ...]) -> float:
    plan_h = (placing.ready_min(placed) - placed[0].start_min) / 60
    return buffer_wanted_h(placing.job.shop, plan_h)


def _gap_of_start_h(placing: Placing, start_min: int, buffer_h: float) -> float | None:
    """Return how much later a plan could start at best. [h]

    No later than the first item has to with the people all to itself, and no later than leaves the people the working
    time that all of it takes.
    """
    alone = [latest_start(placing, [chain], buffer_h) for chain in placing.chains]
    bounds = [one[0] for one in alone if one is not None]
    if not bounds or placing.deliver is None:
        return None
    due_min = placing.minute(placing.deliver) - buffer_h * 60
    work_min = sum(operation.work_min for chain in placing.chains for operation in chain)
    bound_min: float = min(bounds)
    while bound_min > start_min and placing.working_min(bound_min, due_min) < work_min:
        bound_min = max(start_min, bound_min - REFINE_MIN)
    return max(0.0, (bound_min - start_min) / 60)


def _gap_of_finish_h(placing: Placing, placed: tuple[Placed, ...]) -> float | None:
    """Return how much earlier a plan could be ready at best: no earlier than its slowest item by itself. [h]"""
    alone = [placing.from_minute(0, [chain]) for chain in placing.chains]
    bounds = [placing.ready_min(one) for one in alone if not isinstance(one, Stuck)]
    return max(0.0, (placing.ready_min(placed) - max(bounds)) / 60) if bounds else None


def _timetable(placing: Placing, placed: tuple[Placed, ...], gap_h: float | None) -> Timetable:
    ready_min = placing.ready_min(placed)
    start = placing.clock(placed[0].start_min)
    ready = placing.clock(ready_min)
    buffer_h = (placing.deliver - ready) / timedelta(hours=1) if placing.deliver else None
    latest = latest_start(placing, None, 0.0)
    return Timetable(
        status="optimal" if gap_h is not None and gap_h < REFINE_MIN / 60 else "feasible",
        start=start,
        latest_safe_start=placing.clock(latest[0]) if latest else None,
        ready=ready,
        deliver=placing.deliver,
        buffer_h=buffer_h,
        buffer_wanted_h=_buffer_h(placing, placed),
        gap_h=gap_h,
        steps=_steps(placing, placed),
        cured=_cured(placing, placed),
        clashes=(),
    )


def _steps(placing: Placing, placed: tuple[Placed, ...]) -> tuple[TimetableStep, ...]:
    rows: list[TimetableStep] = []
    shop = placing.job.shop
    for one in placed:
        operation = one.operation
        room = placing.setting.rooms[operation.room_use]
        window = (
            placing.clock(one.next_from_min) if one.next_from_min is not None else None,
            placing.clock(one.next_until_min) if one.next_until_min is not None else None,
        )
        for stretch in one.stretches:
            rows.append(
                TimetableStep(
                    id=operation.id,
                    piece=placing.job.piece,
                    item=operation.item,
                    step=operation.label,
                    kind="attended",
                    start=placing.clock(stretch.start_min),
                    end=placing.clock(stretch.end_min),
                    person=one.person,
                    room=room,
                    next_from=window[0],
                    next_until=window[1],
                )
            )
        if operation.finish is not None:
            rows.append(_drying(placing, one, shop.room_for("drying") or room, window))
    return tuple(sorted(rows, key=lambda row: (row.start, row.kind, row.id)))


def _drying(placing: Placing, one: Placed, room: str, window: tuple[datetime | None, datetime | None]) -> TimetableStep:
    operation = one.operation
    drying = placing.setting.drying[operation.finish or ""]
    end_min = one.next_from_min if one.next_from_min is not None else float(one.end_min)
    stands_still = drying.stands_still(one.end_min, end_min)
    return TimetableStep(
        id=f"{operation.id}/dry",
        piece=placing.job.piece,
        item=operation.item,
        step=f"{operation.label} dries",
        kind="drying",
        start=placing.clock(one.end_min),
        end=placing.clock(end_min),
        person=None,
        room=room,
        next_from=window[0],
        next_until=window[1],
        still_below_c=drying.finish.apply.temperature_c.low if stands_still else None,
    )


def _cured(placing: Placing, placed: tuple[Placed, ...]) -> tuple[tuple[str, datetime], ...]:
    cured: dict[str, float | None] = {}  # None: later than is looked at
    for one in placed:
        if one.operation.finish is None:
            continue
        drying = placing.setting.drying[one.operation.finish]
        if drying.finish.cure_h is None:
            continue
        minute = drying.reached(one.end_min, drying.finish.cure_h.typical)
        before = cured.get(one.operation.item, 0.0)
        cured[one.operation.item] = None if minute is None or before is None else max(before, minute)
    return tuple((item, placing.clock(minute)) for item, minute in cured.items() if minute is not None)


# --- where it does not fit -----------------------------------------------------------------------------------------


def _impossible(placing: Placing, clash: Clash) -> Timetable:
    return Timetable(
        status="impossible",
        start=None,
        latest_safe_start=None,
        ready=None,
        deliver=placing.deliver,
        buffer_h=None,
        buffer_wanted_h=placing.job.shop.buffer_h or 0.0,
        gap_h=None,
        steps=(),
        cured=(),
        clashes=(clash,),
    )


def _stuck(stuck: Stuck) -> Clash:
    requirement = f"{stuck.operation.item}: {stuck.operation.label} finds no time: {stuck.reason}"
    return Clash(requirement, None, ())


def _too_late(placing: Placing, ready: datetime) -> Clash:
    deliver = placing.deliver or ready
    fits = [WouldFit(f"deliver on {ready:%Y-%m-%d %H:%M} or later", ready)]
    for change, shop in _other_shops(placing.job.shop):
        other = Placing(replace(placing.job, shop=shop))
        placed = other.from_minute(0)
        if isinstance(placed, Stuck):
            continue
        ready_then = other.clock(other.ready_min(placed))
        if ready_then <= deliver:
            fits.append(WouldFit(change, ready_then))
    passed = ", which has passed" if deliver < placing.job.earliest else ""
    return Clash(f"deliver by {deliver:%Y-%m-%d %H:%M}{passed}", (ready - deliver) / timedelta(hours=1), tuple(fits))


def _other_shops(shop: Shop) -> list[tuple[str, Shop]]:
    """Return the shop with one thing changed at a time that a maker could change."""
    shops: list[tuple[str, Shop]] = []
    first = shop.people[0]
    if not first.hours[5]:
        weekday = next((hours for hours in first.hours if hours), ())
        on_saturdays = first.model_copy(update={"hours": (*first.hours[:5], weekday, first.hours[6])})
        shops.append(
            (f"{first.name} works on Saturdays", shop.model_copy(update={"people": (on_saturdays, *shop.people[1:])}))
        )
    if shop.climate.day and shop.climate.night and shop.climate.night.temperature_c < shop.climate.day.temperature_c:
        day = shop.climate.day
        warm = NightAir.model_construct(temperature_c=day.temperature_c, humidity_pct=day.humidity_pct)
        climate = Climate.model_construct(day=day, night=warm, months=None, log=None)
        shops.append((f"keep {day.temperature_c:g} °C at night", shop.model_copy(update={"climate": climate})))
    return shops
