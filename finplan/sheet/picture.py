"""The picture of the whole time: one line an item, or one each of its treatments, drawn to the scale of the days."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise

from finplan.inputs import Shop, days_through
from finplan.moments import MONTHS, WEEKDAYS, show_day, show_moment
from finplan.planning import Plan
from finplan.sheet.joint_rows import drawn_lines
from finplan.sheet.picture_row import Bar, PictureRow, hatching_of
from finplan.system import SECOND_SIDE
from finplan.telling import Names, marked_name
from finplan.timetable import PieceTimes, TimetableStep

WIDTH = 1360.0
"""Of a line, in tenths of a millimetre on paper; so is everything here."""
LEAST_WORK = 9.0
"""No work is drawn narrower: five minutes in forty days would vanish."""
_ROOM_FOR_FULL_DAY = 190.0
_ROOM_FOR_WEEKDAY = 115.0
_ROOM_FOR_NUMBER = 48.0
_ROOM_FOR_DATE = 120.0


@dataclass(frozen=True, slots=True)
class Tick:
    """The beginning of a day."""

    x: float
    label: str
    strong: bool


@dataclass(frozen=True, slots=True)
class Picture:
    """All lines on one axis."""

    words: str
    ticks: tuple[Tick, ...]
    working: tuple[Bar, ...]
    rows: tuple[PictureRow, ...]


class _Axis:
    """The days from the first step to the last thing that is drawn."""

    def __init__(self, moments: Iterable[datetime]) -> None:
        all_moments = list(moments)
        zone = all_moments[0].tzinfo
        self.first = min(all_moments).date()
        self.last = max(all_moments).date()
        self.start = datetime.combine(self.first, time(0), tzinfo=zone)
        self.length = (self.midnight(self.last + timedelta(days=1)).timestamp()) - self.start.timestamp()

    def midnight(self, day: date) -> datetime:
        return datetime.combine(day, time(0), tzinfo=self.start.tzinfo)

    def x(self, moment: datetime) -> float:
        share = (moment.timestamp() - self.start.timestamp()) / self.length
        return round(min(max(share, 0.0), 1.0) * WIDTH, 1)

    def bar(self, start: datetime, end: datetime, least: float = 0.0) -> Bar:
        x = self.x(start)
        return Bar(min(x, WIDTH - least), round(max(self.x(end) - x, least), 1))

    def days(self) -> list[date]:
        return days_through(self.first, self.last)


def picture(plan: Plan) -> Picture | None:
    """Return the picture of a plan, or None where nothing is planned."""
    table = plan.timetable
    if not table.steps:
        return None
    ends = [moment for piece in table.pieces for moment in (piece.ready, piece.deliver) if moment is not None]
    axis = _Axis([step.start for step in table.steps] + [step.end for step in table.steps] + ends)
    names = Names(plan)
    by_name: dict[str, list[TimetableStep]] = {names.of_treatment(treatment): [] for treatment in plan.treatments}
    first_of_item = {
        marked_name(treatment.item, plan.piece_of(treatment), plan): names.of_treatment(treatment)
        for treatment in reversed(plan.treatments)
    }
    for step in table.steps:
        # What is done to an item of several treatments as a whole is drawn once, what is done to the piece last.
        name = names.of_row(step)
        by_name.setdefault(name if name in by_name else first_of_item.get(name, name), []).append(step)
    times = {piece.piece: piece for piece in table.pieces}
    wet = {name for name, steps in by_name.items() if any(step.kind == "drying" for step in steps)}
    # Of several pieces what is never wet, as putting one together, is left out: the front has no room for it.
    several = len(plan.pieces) > 1 or any(treatment.number > 1 for treatment in plan.treatments)
    shown = wet if wet and several else set(by_name)
    in_order = sorted(
        ((name, steps) for name, steps in by_name.items() if steps and name in shown),
        key=lambda row: plan.pieces.index(plan.piece_of(row[1][0])),
    )
    rows = [
        (replace(names.of_item(steps[0]), name=name), _row(name, steps, times[steps[0].piece], axis))
        for name, steps in in_order
    ]
    return Picture(
        words=f"The time from {show_day(axis.first)} to {show_day(axis.last)}, one line an item.",
        ticks=_ticks(axis),
        working=_working(axis, plan.shop),
        rows=drawn_lines(rows),
    )


def _ticks(axis: _Axis) -> tuple[Tick, ...]:
    """Return the days, or only the weeks where days would stand too close."""
    room = WIDTH / len(axis.days())
    weeks_a_label = math.ceil(_ROOM_FOR_DATE / (7 * room))
    ticks: list[Tick] = []
    for number, day in enumerate(axis.days()):
        monday = day.weekday() == 0
        if not monday and room < _ROOM_FOR_NUMBER:
            continue
        if room >= _ROOM_FOR_FULL_DAY:
            label = show_day(day)
        elif room >= _ROOM_FOR_WEEKDAY:
            label = f"{WEEKDAYS[day.weekday()][:3]} {day.day}"
        elif room >= _ROOM_FOR_NUMBER:
            label = str(day.day)
        else:
            labelled = monday and number // 7 % weeks_a_label == 0
            label = f"{day.day} {MONTHS[day.month - 1][:3]}" if labelled else ""
        ticks.append(Tick(axis.x(axis.midnight(day)), label, monday))
    return tuple(ticks)


def _working(axis: _Axis, shop: Shop) -> tuple[Bar, ...]:
    """Return when anybody works, as the shop file has it."""
    bars: dict[Bar, None] = {}
    for day in axis.days():
        midnight = axis.midnight(day)
        for person in shop.people:
            for shift in shop.shifts(person, day):
                start, end = (midnight + timedelta(minutes=minute) for minute in (shift.start_min, shift.end_min))
                bars[axis.bar(start, end)] = None
    return tuple(bars)


def _row(item: str, steps: list[TimetableStep], times: PieceTimes, axis: _Axis) -> PictureRow:
    # Cleaning up is left out: so short, and always after a coat.
    attended = [step for step in steps if step.kind == "attended" and step.deed != "clean-up"]
    drying = tuple(axis.bar(step.start, _wet_until(step, attended)) for step in steps if step.kind == "drying")
    windows = [
        axis.bar(before.alone_until, max(before.alone_until, min(before.next_until or after.start, after.start)))
        for before, after in pairwise(attended)
        if before.id != after.id
        and before.alone_until
        and after.start > before.alone_until
        and not _turned(before, after)
    ]
    coats = [step for step in attended if step.deed in ("coat", "fill")]
    return PictureRow(
        item=item,
        piece=times.piece,
        words=f"{item}: " + "; ".join(f"{step.step} {show_moment(step.start)}" for step in attended),
        work=tuple(axis.bar(step.start, step.end, LEAST_WORK) for step in attended if step not in coats),
        coats=tuple(axis.bar(step.start, step.end, LEAST_WORK) for step in coats),
        drying=drying,
        hatching=" ".join(map(hatching_of, drying)),
        windows=tuple(windows),
        ready_x=axis.x(times.ready),
        deliver_x=axis.x(times.deliver) if times.deliver else None,
    )


def _wet_until(drying: TimetableStep, attended: Sequence[TimetableStep]) -> datetime:
    """Return until when a coat is not to be moved: fit to be handled, which is later than fit for the next coat."""
    fit = max(drying.end, drying.handle_from or drying.end)
    return min([fit, *(row.start for row in attended if row.start >= drying.end)])


def _turned(before: TimetableStep, after: TimetableStep) -> bool:
    """Return whether only the other side of the same coat follows."""
    return after.side == SECOND_SIDE and before.of_step == after.of_step
