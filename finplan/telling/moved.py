"""What another plan moves, and what that means for the delivery."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from finplan.listing import some
from finplan.moments import show_clock, show_day, show_moment
from finplan.planning import Plan
from finplan.showing import capital, show_area, show_duration, show_volume
from finplan.telling.names import Names
from finplan.telling.packs import short_title
from finplan.timetable import Timetable, TimetableStep, first_stretches, hours_between, shift_day

_MOST = 12
"""Steps that are told one by one."""


@dataclass(frozen=True, slots=True)
class Moved:
    """What is otherwise in a plan than in the one before, in words."""

    title: str
    """Which plan it is, and in the place of which."""
    lines: tuple[str, ...]
    """The days that are lost, what moves, and what is otherwise to be finished and bought."""
    ready: tuple[str, ...]
    """What that means for every date."""

    @property
    def in_a_row(self) -> str:
        """All of it in a paragraph."""
        return " ".join((f"{'; '.join(line.removesuffix('.') for line in self.lines)}.", *self.ready))


def moved_words(plan: Plan) -> Moved | None:
    """Return what is otherwise in a plan than in the one before; None where it took the place of none."""
    if plan.replaced is None or plan.number is None:
        return None
    told = list(_otherwise(plan, plan.replaced))
    whole = _as_a_whole(plan, plan.replaced)
    lines = told[:_MOST] if whole is None else [whole]
    if len(told) > _MOST and whole is None:
        lines.append(f"and {len(told) - _MOST} more")
    if not told:
        lines.append("Nothing that is left to do moves.")
    return Moved(
        f"Plan {plan.number}, in the place of plan {plan.number - 1}",
        (*lost_days_words(plan), *lines, *_measured(plan)),
        tuple(_ready(plan.replaced, plan.timetable)),
    )


def _as_a_whole(plan: Plan, before: Timetable) -> str | None:
    """Return in one sentence that all work begins at another time; None where some is done, or some keeps its time.

    Clean-ups come and go with what is coated on one day: they are not asked.
    """
    old, new = (
        {step: row for step, row in first_stretches(of.steps).items() if row.deed != "clean-up"}
        for of in (before, plan.timetable)
    )
    if not new or old.keys() != new.keys() or any(row.start == old[step].start for step, row in new.items()):
        return None
    was, now = (min(row.start for row in rows.values()) for rows in (old, new))
    asked = " as was asked," if plan.wishes.soonest is not None and plan.now > max(plan.wishes.soonest, was) else ""
    return f"All of it moves:{asked} it begins {show_moment(now)} instead of {show_moment(was)}."


def lost_days_words(plan: Plan) -> tuple[str, ...]:
    """Return the days that are lost, each in a sentence: the one that was asked for, and those on which all was left.

    A day of the plan before is lost where it had work that was to begin before this one was made, none of that is done,
    and some of it is still to be done: some may fall away, as what is done for lead does where a test found none.
    Clean-ups come and go with what is coated on one day: they are not asked. Where work is asked to begin later, the
    days until then are not lost. Of the day on which this plan is made only what was to begin by then is left: the rest
    of it is there to work in. A shift that goes on past midnight is of the day on which it began.
    """
    made = plan.now if plan.wishes.soonest is None else min(plan.now, plan.wishes.soonest)
    made = made.astimezone(plan.shop.time_zone)
    people = plan.shop.people
    days: dict[date, list[str]] = {}
    for row in first_stretches(() if plan.replaced is None else plan.replaced.steps).values():
        if row.start < made and row.deed != "clean-up":
            who = [person for person in people if person.name == row.person]
            days.setdefault(shift_day(plan.shop, who, row.start), []).append(row.id)
    still = {row.id for row in plan.timetable.steps}
    lost = {
        day for day, ids in days.items() if not still.isdisjoint(ids) and not any(step in plan.done for step in ids)
    }
    if plan.wishes.lost_day is not None:
        lost.add(plan.wishes.lost_day)
    by = {shift_day(plan.shop, people, made): show_moment(made), made.date(): show_clock(made)}
    return tuple(
        f"Nothing of {show_day(day)} is done by {by[day]}: its work is planned anew."
        if day in by and day != plan.wishes.lost_day
        else f"{show_day(day)} is lost: its work is planned anew."
        for day in sorted(lost)
    )


def _measured(plan: Plan) -> Iterator[str]:
    """Give what is otherwise to be finished, and what that takes; as it is shown, so that no last bit is told."""
    before = plan.measured_before
    if before is None:
        return
    sizes = _changed(before.finished_m2, plan.measures.finished_m2, lambda area_m2: show_area(area_m2, plan.units))
    if sizes:
        yield f"What gets finish is otherwise: {some([f'{name} {words}' for name, words in sizes.items()])}."
    amounts = _changed(before.needed_ml, plan.measures.needed_ml, lambda ml: show_volume(ml, plan.units))
    if amounts:
        told = [f"{_title(name, plan)} {words}" for name, words in amounts.items()]
        yield f"What coats typically take is otherwise: {some(told)}."


def _title(finish: str, plan: Plan) -> str:
    """Return what a finish is called; one that is no longer in the catalogue, by its name there."""
    record = plan.catalogue.finishes.get(finish)
    return finish if record is None else short_title(record.title).lower()


def _changed(before: Mapping[str, float], after: Mapping[str, float], show: Callable[[float], str]) -> dict[str, str]:
    """Return what is otherwise, by its name, in words that go on behind that."""
    told: dict[str, str] = {}
    for name in dict.fromkeys((*after, *before)):
        was, now = (show(of[name]) if name in of else None for of in (before, after))
        if now != was:
            told[name] = "no more" if now is None else f"{now}, new" if was is None else f"{now} instead of {was}"
    return told


def _otherwise(plan: Plan, before: Timetable) -> Iterator[str]:
    names = Names(plan)
    old, new = first_stretches(before.steps), first_stretches(plan.timetable.steps)
    for step, row in new.items():
        was = old.get(step)
        if was is None:
            yield f"{_called(row, names)}: new, {show_moment(row.start)}"
        elif was.start != row.start:
            yield f"{_called(row, names)}: from {show_moment(was.start)} to {show_moment(row.start)}"
        elif was.person != row.person:
            yield f"{_called(row, names)}: {row.person} instead of {was.person}"
    cleaned = {
        operation.clean_up.id
        for piece in plan.pieces
        for operation in piece.operations
        if operation.clean_up is not None and operation.id in plan.done
    }
    for step, row in old.items():
        if step not in new and step not in plan.done and step not in cleaned and row.start >= plan.now:
            yield f"{_called(row, names)}: no more"


def _called(row: TimetableStep, names: Names) -> str:
    return f"{row.number}. {names.alone(row)}: {row.step}"


def _ready(before: Timetable, after: Timetable) -> Iterator[str]:
    """Give what it means for every date."""
    was = {piece_times.piece: piece_times for piece_times in before.pieces}
    for piece in after.pieces:
        old = was.get(piece.piece)
        words = f"ready {show_moment(piece.ready)}"
        moved_h = 0.0 if old is None else hours_between(old.ready, piece.ready)
        if moved_h:
            words += f", {show_duration(abs(moved_h))} {'later' if moved_h > 0 else 'sooner'} than before"
        elif old is not None:
            words += ", as before"
        if piece.deliver is not None and piece.ready > piece.deliver:
            late = show_duration(hours_between(piece.deliver, piece.ready))
            words += f"; that is {late} after the delivery, {show_moment(piece.deliver)}"
        elif piece.deliver is not None:
            words += f"; the delivery, {show_moment(piece.deliver)}, is kept"
        yield f"{piece.piece}: {words}." if len(after.pieces) > 1 else f"{capital(words)}."
