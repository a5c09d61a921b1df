"""What is ticked at the bench: written down, and said."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

import typer

from finplan.cli.held import maker
from finplan.learning import SetAside
from finplan.ledger import (
    HeldPlan,
    Ledger,
    Tick,
    befall,
    done_of,
    files_of,
    numbers_of,
    standing,
    take_back,
    tick,
    ticks_of,
    undo_event,
)
from finplan.listing import listed
from finplan.moments import show_moment
from finplan.planning import Plan, PlannedPiece, job_of, with_stages
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.record import (
    Aired,
    Ticking,
    air_of,
    at_of,
    completed,
    done_now,
    drawn_by,
    earlier_of,
    minutes_of,
    put_draws_right,
    read_beside,
    read_plan,
    shop_learnt,
    steps_done,
    steps_of,
    steps_of_job,
    ticking,
    used_of,
)
from finplan.showing import capital, show_volume
from finplan.system import work_id
from finplan.telling import aside_words, dry_from_words
from finplan.timetable import dry_from

if TYPE_CHECKING:
    from finplan.data import DoneRow


@dataclass(frozen=True)
class Ticked:
    """What was written down, or taken back."""

    entry: Tick
    number: int
    """Of the entry in the record."""
    named: tuple[str, ...]
    """Its steps, as on the sheet."""
    taken_back: bool = False
    what: Ticking | None = None
    notes: tuple[str, ...] = ()
    """What else there is to know of it, each a sentence without its stop."""
    units: Units = "metric"
    left: int = 0
    """How many steps of the plan are still to be done."""

    def data(self) -> DoneRow:
        """Return it for other programs."""
        from finplan.data import done_data

        return done_data(self.entry, self.number, self.named, self.what, self.notes, self.left)


def ticked(
    ledger: Ledger,
    held: HeldPlan,
    pieces: tuple[PlannedPiece, ...],
    steps: Sequence[str],
    moment: datetime,
    *,
    at: str | None,
    used: str | None,
    can: str | None,
    took: str | None,
    air: str | None,
    by: str | None,
    note: str | None,
    dry: bool,
    sure: bool,
    ask: bool,
) -> Ticked:
    """Write down what was done, once what it waits for is ticked or believed; *ask* whether somebody may be asked."""
    make = maker(pieces)
    plan = read_plan(ledger, held, make)
    if plan is None or plan.digest != held.what.digest:
        msg = (
            "the files have changed since this plan was made: plan again first (finplan timetable), or put them back; "
            "the numbers on paper may mean something else now"
        )
        raise NotPossibleError(msg)
    zone = plan.shop.time_zone
    numbers = numbers_of(ledger, held.job)
    before = completed(plan, done_now(ledger, held))
    wanted = steps_of(steps, numbers)
    ended = at_of(at, moment.astimezone(zone))
    earlier = earlier_of(ticks_of(ledger, held.job), wanted, numbers, ended, told=at is not None, dry=dry)
    aired = Aired(read_beside(ticks_of(ledger), plan, moment), Aired.of(held.what.answer).told)
    what = ticking(
        with_stages(plan, wishes=replace(plan.wishes, measured=aired.all)),
        wanted,
        before,
        job=f"{' '.join(files_of(ledger, held.job))} {held.what.digest}",
        at=ended if earlier is None else earlier.at,
        entered=moment,
        dry=dry,
        used=used_of(used, can),
        took_min=minutes_of(took),
        air=air_of(air),
        person=_person(by, pieces) if earlier is None or by is not None else earlier.person,
        note=note,
        held=held.id,
    )
    if what.waits_for and not sure:
        _ask(what.waits_for, numbers, may=ask)
    doubted = _doubted(ledger, plan)
    with ledger.changing():
        number = tick(ledger, held.job, what.entry)
        put_draws_right(ledger, ticks_of(ledger, held.job), moment)
        if what.finish is not None and what.finish_ml is not None:
            lots, at_, entered = standing(ledger), what.entry.at, what.entry.entered
            for event in drawn_by(lots, what.finish, what.finish_ml, plan.catalogue, at_, entered, number):
                befall(ledger, event)
    left = len(steps_of_job(plan) - steps_done(plan, done_now(ledger, held)))
    slips = [aside_words(one, plan.catalogue) for one in _doubted(ledger, plan) if one not in doubted]
    notes = (*what.notes, *slips, *(() if dry else _dry_from(ledger, held, plan, wanted, moment)))
    return Ticked(what.entry, number, _named(wanted, numbers), what=what, notes=notes, units=plan.units, left=left)


def _dry_from(ledger: Ledger, held: HeldPlan, plan: Plan, steps: Sequence[str], moment: datetime) -> tuple[str, ...]:
    """Return from when what was ticked is dry, in the air as the record knows it now."""
    aired = Aired(read_beside(ticks_of(ledger), plan, moment), Aired.of(held.what.answer).told)
    done = completed(plan, done_now(ledger, held))
    wishes = replace(plan.wishes, done=done, measured=aired.all)
    job = job_of(plan.pieces, plan.deliveries, moment, wishes)
    return tuple(map(dry_from_words, dry_from(job, steps)))


def _doubted(ledger: Ledger, plan: Plan) -> tuple[SetAside, ...]:
    return shop_learnt(ledger, plan.catalogue, plan.shop).aside


def undone(ledger: Ledger, held: HeldPlan, steps: Sequence[str], moment: datetime) -> Ticked:
    """Take back the last entry of some steps."""
    numbers = numbers_of(ledger, held.job)
    wanted = steps_of(steps, numbers)
    ticks = ticks_of(ledger, held.job)
    found = next((one for one in reversed(ticks) if set(wanted) & set(one.steps)), None)
    if found is None:
        msg = f"{', '.join(_named(wanted, numbers))}: is not ticked, so there is nothing to take back"
        raise NotPossibleError(msg)
    still = done_of([one for one in ticks if one is not found])
    cleaned = {work_id(step, "clean-up") for step in found.steps if step not in still} & still.keys()
    if cleaned and found.kind == "done":
        msg = (
            f"{', '.join(_named(sorted(cleaned), numbers))}: was ticked after that coat; take that back first, "
            "or the cloths of the coat that is put on again would be in no step"
        )
        raise NotPossibleError(msg)
    with ledger.changing():
        number = take_back(ledger, found, moment)
        for event in (event for one in standing(ledger) for event in one.events if event.tick == found.id):
            undo_event(ledger, event, moment)
        put_draws_right(ledger, ticks_of(ledger, held.job), moment)
    planned = {row.step for row in held.what.rows}
    still = done_of(ticks_of(ledger, held.job))
    lacking = _named([step for step in found.steps if step not in planned and step not in still], numbers)
    what = f"step{'' if len(lacking) == 1 else 's'} {listed(lacking)}"
    told = f"plan {held.number}, the newest, no longer holds {what}, which {_are(lacking)} to be done again: replan"
    notes = (told,) if lacking and found.kind == "done" else ()
    return Ticked(found, number, _named(found.steps, numbers), taken_back=True, notes=notes)


def tick_lines(told: Ticked) -> list[str]:
    """Return what was written down, as a person reads it."""
    entry, named = told.entry, ", ".join(told.named)
    if told.taken_back:
        return [f"Taken back: {named}. The entry stays in the record, and counts no more.", *_notes(told)]
    said = "found dry" if entry.kind == "dry" else "done"
    who = f" by {entry.person}" if entry.person else ""
    lines = [f"Ticked {named}: {said} {show_moment(entry.at)}{who}."]
    what = told.what
    if what is not None and what.used_ml is not None and what.reckoned_ml:
        used, reckoned = (show_volume(one, told.units) for one in (what.used_ml, what.reckoned_ml))
        percent = round((what.used_ml / what.reckoned_ml - 1) * 100)
        more = "as reckoned" if percent == 0 else f"{abs(percent)} % {'more' if percent > 0 else 'less'} than reckoned"
        lines.append(f"{used} used, {more} ({reckoned}).")
    lines += _notes(told)
    lines.append(f"{told.left} step{'' if told.left == 1 else 's'} left." if told.left else "All is done.")
    return lines


def _are(steps: Sequence[str]) -> str:
    return "is" if len(steps) == 1 else "are"


def _notes(told: Ticked) -> list[str]:
    return [f"{capital(note)}." for note in told.notes]


def _named(steps: Sequence[str], numbers: Mapping[str, int]) -> tuple[str, ...]:
    ordered = sorted(steps, key=lambda step: (numbers.get(step, 0), step))
    return tuple(str(numbers.get(step, step)) for step in ordered)


def _person(by: str | None, pieces: tuple[PlannedPiece, ...]) -> str | None:
    """Return who did it; the only one who works there where nobody is named."""
    people = [one.name for one in pieces[0].source.shop.people]
    if by is not None:
        return next((name for name in people if name.lower() == by.strip().lower()), by.strip() or None)
    return people[0] if len(people) == 1 else None


def _ask(steps: Sequence[str], numbers: Mapping[str, int], *, may: bool) -> None:
    """Ask once whether what comes before was done too; where that *may* be asked.

    Raises
    ------
    NotPossibleError
        Nobody is there to be asked, or it was not done.
    """
    named = ", ".join(_named(steps, numbers))
    words = f"{named} come{'s' if len(steps) == 1 else ''} before and {_are(steps)} not ticked"
    if not may or not sys.stdin.isatty():
        msg = (
            f"{words}; nothing was written down. With --yes it is believed that they were done too, or tick them first"
        )
        raise NotPossibleError(msg)
    if not typer.confirm(f"{words}. Were they done too?", err=True):
        msg = "nothing was written down"
        raise NotPossibleError(msg)
