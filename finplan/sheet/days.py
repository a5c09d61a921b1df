"""Day by day: who does what when, with room for what really happened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import groupby

from finplan.listing import listed
from finplan.moments import not_before, show_long_day, show_moment
from finplan.planning import Plan
from finplan.sheet.step_row import StepRow, lines_taken
from finplan.sheet.step_rows import StepRows
from finplan.telling import READY, Names, aired_until, marked, ready_at
from finplan.timetable import TimetableStep

_FEW = 4
"""More items than these that dry alike are told in one line, until the last of them is dry."""
_LINES_KEPT_TOGETHER = 28
"""Of some 45 on a page: a longer day leaves no gap behind it by moving to the next one."""


@dataclass(frozen=True, slots=True)
class WorkingDay:
    """One day of work."""

    heading: str
    who: str
    """Who works, where it is one person all day; else the rows say it."""
    whole: bool
    """Whether it is so short that it is kept on one page."""
    rows: tuple[StepRow, ...]
    kept: int
    """How many of the last rows are kept on one page with what is told at the end of the day."""
    drying: tuple[str, ...]
    """What is left standing wet when the work ends, from when and until when."""
    evening: tuple[str, ...]
    """What is checked before the light is put out."""
    next_work: str


def working_days(plan: Plan) -> tuple[WorkingDay, ...]:
    """Return the days on which somebody works."""
    step_rows = StepRows(plan)
    attended = [step for step in plan.timetable.steps if step.kind == "attended"]
    by_day = {day: list(rows) for day, rows in groupby(attended, key=lambda step: step.start.date())}
    following = dict(zip(by_day, list(by_day)[1:], strict=False))
    days: list[WorkingDay] = []
    for day, planned in by_day.items():
        rows = _tied(step_rows.of(planned))
        drying = _drying(plan, max(step.end for step in planned))
        evening = _evening(planned, plan)
        days.append(
            WorkingDay(
                heading=show_long_day(day),
                who=(planned[0].person or "") if len({step.person for step in planned}) == 1 else "",
                whole=sum(map(_height, rows)) + len(drying) <= _LINES_KEPT_TOGETHER,
                rows=rows,
                kept=_kept(rows, len(drying) + len(evening)),
                drying=drying,
                evening=evening,
                next_work=_next_work(by_day[following[day]], day) if day in following else _after_last(plan),
            )
        )
    return tuple(days)


def _tied(rows: Sequence[StepRow]) -> tuple[StepRow, ...]:
    """Return rows, of short ones whether they stay with the row before."""
    before = (None, *rows)
    return tuple(
        replace(row, tied=row.short and one is not None and _height(one) + _height(row) <= _LINES_KEPT_TOGETHER)
        for one, row in zip(before, rows, strict=False)
    )


def _kept(rows: Sequence[StepRow], told: int) -> int:
    """Return how many of the last rows are kept with what is told at the end of the day, as far as a page holds it."""
    with_clean_up = len(rows) > 1 and rows[-1].short and sum(map(_height, rows[-2:])) + 2 * told <= _LINES_KEPT_TOGETHER
    return 2 if with_clean_up else 1


def _height(row: StepRow) -> int:
    """Return about how many lines a row takes."""
    lines = [row.label, " ".join(row.before), row.wear, *row.lines, *row.how, " ".join(row.cautions)]
    lines += [row.window, *row.warnings, *row.ticks]
    lines += [f"{item.time} {item.item}" for item in row.items]
    lines += [" ".join((*item.lines, row.used)) for item in row.items]
    return 1 + sum(map(lines_taken, lines))


def _evening(planned: list[TimetableStep], plan: Plan) -> tuple[str, ...]:
    """Return what has to be seen to at the end of a day."""
    day, end = planned[0].start.date(), max(step.end for step in planned)
    lines = [tick.text for tick in plan.precautions.ticks if tick.row is None and tick.due.date() == day]
    return (*lines, *aired_until(plan, day, end), *plan.shop.notes.every_day)


def _drying(plan: Plan, end: datetime) -> tuple[str, ...]:
    """Return what stands wet when the work of a day ends."""
    names = Names(plan)
    alike: dict[str, list[TimetableStep]] = {}
    for step in plan.timetable.steps:
        if step.kind == "drying" and step.start <= end < step.end:
            alike.setdefault(step.step, []).append(step)
    lines: list[str] = []
    for what, steps in alike.items():
        if len(steps) > _FEW:
            latest = show_moment(not_before(max(step.end for step in steps)))
            lines.append(f"{listed(names.of_row(step) for step in steps)}: {what}, until {latest}")
            continue
        lines += [
            f"{names.of_row(step)}: {what}, from {show_moment(step.start)} until {show_moment(not_before(step.end))}"
            for step in steps
        ]
    return tuple(lines)


def _next_work(rows: list[TimetableStep], day: date) -> str:
    first = rows[0]
    gap = (first.start.date() - day).days - 1
    idle = "" if not gap else "; nothing to do on the day between" if gap == 1 else f"; nothing to do for {gap} days"
    return f"Next work: {show_moment(first.start)}{idle}."


def _after_last(plan: Plan) -> str:
    ready = [marked(show_moment(ready_at(one)), plan.piece_of(one), plan) for one in plan.timetable.pieces]
    return f"Last day of work. {READY[plan.ready_for]} {listed(ready)}." if ready else ""
