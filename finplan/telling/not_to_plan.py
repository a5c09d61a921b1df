"""What is done when it does not go to plan, with this plan's figures: until when nothing is lost, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.listing import listed
from finplan.moments import not_after, show_day, show_moment
from finplan.planning import Plan
from finplan.telling.chance import of_twenty
from finplan.telling.coat_air import air_limits, of_finishes
from finplan.telling.cold import cold_lines
from finplan.telling.names import Names
from finplan.telling.next_work import NextWork
from finplan.telling.slips import latest_begin, lost_day_words
from finplan.telling.spare import buffer_words, closing_words
from finplan.telling.step_number import step_number, step_numbers
from finplan.timetable import TimetableStep, first_stretches

_FEW = 3
"""More days, or coats that differ, are told where they stand."""
_MANY = 12
"""So many are still told by the numbers of their steps."""
Advice = tuple[str, str]
"""What happens, and what is done about it."""


def not_to_plan(plan: Plan) -> tuple[Advice, ...]:
    """Return what may go otherwise than planned, each with what to do; nothing of it where nothing is planned."""
    rows = [row for row in first_stretches(plan.timetable.steps).values() if row.deed != "clean-up"]
    coats = [row for row in rows if row.deed in ("coat", "fill")]
    lines: list[Advice] = []
    if coats:
        lines.append(("Too cold or damp", " ".join(_air(coats, plan))))
        lines.append(("Still tacky", " ".join(_tacky(coats, plan))))
    if rows:
        lines.append(("Begun late", " ".join(_late(rows, plan))))
    slips = " ".join(_slipping(coats, plan))
    if slips:
        lines.append(("A coat slips", slips))
    lost = _lost(plan)
    if lost:
        lines.append(("A day is lost", lost))
    return tuple(lines)


def _air(coats: Sequence[TimetableStep], plan: Plan) -> Iterator[str]:
    finishes = dict.fromkeys(
        step.finish for treatment in plan.treatments for step in treatment.steps if step.finish is not None
    )
    limits: dict[str, list[str]] = {}
    for name in finishes:
        finish = plan.catalogue.finishes[name]
        limits.setdefault(air_limits(finish, plan.units), []).append(finish.title)
    if len(limits) > _FEW:
        yield "Only in the air that stands before each session."
    for words, titles in limits.items() if len(limits) <= _FEW else ():
        yield of_finishes(titles if len(limits) > 1 else (), words)
    yield "Else leave the tin shut, heat or wait, and ring."
    waits = _may_wait(coats[:1], plan)
    if waits:
        yield f"The first coat may wait until {waits}."
    yield from cold_lines(plan)


def _tacky(coats: Sequence[TimetableStep], plan: Plan) -> Iterator[str]:
    yield "Leave it alone, let air in, and try again later where nobody looks. Paper that clogs says: too early."
    after = NextWork(plan)
    nexts = [following for coat in coats[:1] if (following := after.row_after(coat)) is not None]
    waits = _may_wait(nexts, plan)
    if waits:
        yield f"What comes on the first coat may wait until {waits}."


def _may_wait(rows: Sequence[TimetableStep], plan: Plan) -> str:
    latest = latest_begin(rows, plan) if rows else None
    return "" if latest is None or latest <= rows[0].start else show_moment(latest)


def _late(rows: Sequence[TimetableStep], plan: Plan) -> Iterator[str]:
    table = plan.timetable
    safe, share = table.latest_safe_start, table.in_time_probability
    last, until = _may_wait(rows[:1], plan), ""
    if safe is not None and share is not None:
        until = show_moment(not_after(safe))
        if until == show_moment(rows[0].start):
            yield f"Begun as planned it is on time in {of_twenty(share)}, begun later less often."
        else:
            latest = ", the latest start," if until == last else ""
            yield f"Until {until}{latest} nothing is lost: on time in {of_twenty(share)}."
    if last:
        if last != until:
            # By whoever has it done first, also where the plan has it done by another.
            hands = " and everybody who is in the shop works on it" if len(plan.shop.people) > 1 else ""
            yield f"Until {last}, the latest start, the date is still kept if nothing takes longer than planned{hands}."
        yield "So it is of the latest start beside each step; later the delivery moves: ring."
    if table.short_of_buffer:
        yield buffer_words(table)
    yield "A bar before a step: if it takes longer, all is ready later."


def _slipping(coats: Sequence[TimetableStep], plan: Plan) -> Iterator[str]:
    names, after = Names(plan), NextWork(plan)
    told: dict[str, list[TimetableStep]] = {}
    for coat in coats:
        words = after.below_words([coat])
        if words:
            told.setdefault(words, []).append(coat)
    closing = closing_words(plan)
    if closing:
        yield closing
    for words, which in list(told.items())[:_FEW]:
        yield words if len(told) == 1 else f"{_which(which, names)}: {words}"
    if len(told) > _FEW:
        yield "Of the other coats the days say it."


def _which(coats: Sequence[TimetableStep], names: Names) -> str:
    """Return which coats are spoken of: a few by their names, more by the numbers of their steps."""
    if len(coats) <= _FEW:
        return listed(f"{names.of_row(coat)}, {coat.step}" for coat in coats)
    if len(coats) > _MANY or not all(step_number(coat) for coat in coats):
        return f"{len(coats)} coats, as the days say of each"
    return f"Steps {step_numbers(coats)}"


def _lost(plan: Plan) -> str:
    lost = plan.slips.lost_days
    if not lost:
        return ""
    worst = sorted(sorted(lost, key=lambda lost_day: lost_day.in_time)[:_FEW], key=lambda lost_day: lost_day.day)
    days = "; ".join(f"{show_day(lost_day.day)}: {lost_day_words(lost_day.day, plan)}" for lost_day in worst)
    more = " (the worst; each day says its own)" if len(lost) > _FEW else ""
    return f"Tick what is done and have it printed anew. Gone on in this order{more}: {days}."
