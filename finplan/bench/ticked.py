"""What is ticked at the bench: looked at beside the plan whose numbers it names, and written down."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.bench.drying import dried_from
from finplan.bench.film import films_of, ticked_words, under_stop
from finplan.bench.lying import came_late, lying_words
from finplan.bench.noted import Noted, entry_of
from finplan.catalogue import LearningRule
from finplan.learning import SetAside
from finplan.ledger import (
    HeldPlan,
    Ledger,
    Tick,
    ended_by_tick,
    lots_standing,
    numbers_of,
    ticks_of,
    undo_event,
    write_event,
    write_tick,
)
from finplan.listing import listed
from finplan.moments import show_moment
from finplan.planning import Plan, PlannedPiece, steps_before
from finplan.problems import NotPossibleError
from finplan.quantity import Units
from finplan.record import (
    Ticking,
    completed,
    done_now,
    drawn_by,
    plan_maker,
    put_draws_right,
    read_plan,
    refuse_result_of_no_test,
    result_of,
    shop_learnt,
    steps_done,
    steps_of,
    steps_of_job,
    tests_of,
)
from finplan.telling import aside_words, dry_from_words, marked_name, tick_note_words
from finplan.timetable import DryFrom, all_operations


@dataclass(frozen=True)
class Ticked:
    """What was written down, or taken back."""

    entry: Tick
    number: int
    """Of the entry in the record."""
    named: tuple[str, ...]
    """Its steps, as on the sheet."""
    deeds: tuple[str, ...] = ()
    """What is done in them, to what: ``A top: coat 1``; each once."""
    taken_back: bool = False
    written: Ticking | None = None
    notes: tuple[str, ...] = ()
    """What else there is to know of it, each a sentence without its stop."""
    units: Units = "metric"
    is_slip: bool = False
    """Whether more was told of as used than any coat takes."""
    left: int = 0
    """How many steps of the plan are still to be done."""


def tick_off(
    ledger: Ledger,
    held: HeldPlan,
    pieces: tuple[PlannedPiece, ...],
    steps: Sequence[str],
    moment: datetime,
    noted: Noted,
    *,
    dry: bool = False,
    believe: Callable[[str], bool],
) -> Ticked:
    """Write down what was done, once what it waits for is ticked or believed.

    Parameters
    ----------
    ledger, held, pieces
        The record, the newest plan of the job, and all pieces of that
    steps
        As they were typed: numbers as on the sheet, spans, ids
    moment
        Now
    noted
        What is told beside
    dry
        Whether coats were found dry, instead of done
    believe
        Asked, in a sentence on what comes before and is not ticked, whether that was done too; may raise an error of
        its own

    Raises
    ------
    NotPossibleError
        The files have changed since the plan was made, something that is typed is not understood, or what comes before
        was not done. Nothing is written down.
    """
    plan = as_made(ledger, held, pieces, moment)
    numbers = numbers_of(ledger, held.job)
    wanted = steps_of(steps, numbers)
    result = result_of(noted.result)
    if result is not None:
        refuse_result_of_no_test(pieces, wanted)
    written = entry_of(ledger, held, plan, wanted, moment, noted, result, dry=dry)
    if written.waits_for:
        named = ", ".join(step_names(written.waits_for, numbers))
        one = len(written.waits_for) == 1
        if not believe(f"{named} come{'s' if one else ''} before and {'is' if one else 'are'} not ticked"):
            msg = "nothing was written down"
            raise NotPossibleError(msg)
    early = () if dry else _too_early(ledger, held, plan, moment, written.entry)
    doubted = _doubted(ledger, plan)
    early = (*early, *(() if dry else _out_of_order(ledger, held, plan, written.entry, numbers)))
    split = () if written.finish_ml is None else tuple(_told_together(ticks_of(ledger, held.job), wanted, numbers))
    number = _written(ledger, held, plan, written, moment)
    left = len(steps_of_job(plan) - steps_done(plan, done_now(ledger, held)))
    slips = [aside_words(set_aside, plan.catalogue) for set_aside in _doubted(ledger, plan) if set_aside not in doubted]
    notes = (
        *(tick_note_words(note, plan.units) for note in written.notes),
        *(() if dry else _tested(ledger, held, plan, pieces, (*wanted, *written.waits_for))),
        *(() if dry else came_late(ledger, held, plan, wanted, numbers)),
        *lying_words(ledger, held, plan, moment),
        *early,
        *split,
        *slips,
        *_not_put_on(ledger, held, plan, wanted, numbers),
        *(() if dry else _dry(dried_from(ledger, held, plan, moment, wanted), timed=noted.at is not None)),
    )
    return Ticked(
        written.entry,
        number,
        step_names(wanted, numbers),
        _deeds(plan, wanted, numbers),
        written=written,
        notes=notes,
        units=plan.units,
        is_slip=_is_slip(written, plan.catalogue.learning["shop"]),
        left=left,
    )


def _dry(coats: Sequence[DryFrom], *, timed: bool) -> Iterator[str]:
    """Give from when coats are dry, and of one that is so too late for its next step, and is not *timed*, what to do.

    Of a day that is ticked in the evening each coat is taken to be no older than the tick.
    """
    for coat in coats:
        sooner = "" if timed or coat.stood is None else ": if it was on before, tick it again with its time"
        yield f"{dry_from_words(coat)}{sooner}"


def _not_put_on(
    ledger: Ledger, held: HeldPlan, plan: Plan, steps: Sequence[str], numbers: Mapping[str, int]
) -> Iterator[str]:
    """Give that tools are ticked as cleaned after coats that are not ticked, for which nothing waits."""
    done = completed(plan, done_now(ledger, held))
    coats = [
        operation.id
        for piece in plan.pieces
        for operation in piece.operations
        if operation.clean_up is not None and operation.clean_up.id in steps and operation.id not in done
    ]
    if coats:
        named, are = listed(step_names(coats, numbers)), "is" if len(coats) == 1 else "are"
        yield f"tools are cleaned after {named}, which {are} not ticked: tick that as well"


def _deeds(plan: Plan, steps: Sequence[str], numbers: Mapping[str, int]) -> tuple[str, ...]:
    """Return what is done in steps of a plan, and to what, in the order in which they are numbered."""
    operations = ((piece, operation) for piece in plan.pieces for operation in all_operations(piece.operations))
    told = [(piece, operation) for piece, operation in operations if operation.id in steps]
    told.sort(key=lambda of_step: numbers.get(of_step[1].id, 0))
    deeds = (f"{marked_name(operation.item, piece, plan)}: {operation.label}" for piece, operation in told)
    return tuple(dict.fromkeys(deeds))


def step_names(steps: Sequence[str], numbers: Mapping[str, int]) -> tuple[str, ...]:
    """Return steps as they are called on the sheet, in its order; by their ids where they have no number."""
    ordered = sorted(steps, key=lambda step: (numbers.get(step, 0), step))
    return tuple(str(numbers.get(step, step)) for step in ordered)


def lacking_words(held: HeldPlan, steps: Sequence[str], numbers: Mapping[str, int]) -> str:
    """Return that a plan leaves out steps that are to be done again, as their ticks were taken back; without a stop."""
    named = step_names(steps, numbers)
    left_out, are = (f"step {named[0]}", "is") if len(named) == 1 else (f"steps {listed(named)}", "are")
    return f"plan {held.number}, the newest, no longer holds {left_out}, which {are} to be done again: replan"


def as_made(ledger: Ledger, held: HeldPlan, pieces: tuple[PlannedPiece, ...], moment: datetime) -> Plan:
    """Return a plan as it is held, whose numbers are meant.

    Raises
    ------
    NotPossibleError
        The files have changed since, or it cannot be read.
    """
    plan = read_plan(ledger, held, plan_maker(pieces, moment))
    if plan is None or plan.digest != held.made.digest:
        msg = (
            "the files have changed since this plan was made: plan again first (finplan timetable), or put them back; "
            "the numbers on paper may mean something else now"
        )
        raise NotPossibleError(msg)
    return plan


def _written(ledger: Ledger, held: HeldPlan, plan: Plan, written: Ticking, moment: datetime) -> int:
    """Write an entry down and draw the shelf down by it; return its number in the record."""
    with ledger.changing():
        number = write_tick(ledger, held.job, written.entry)
        put_draws_right(ledger, ticks_of(ledger, held.job), moment)
        if written.finish is not None and written.finish_ml is not None:
            at, entered = written.entry.at, written.entry.entered
            if "amount" not in written.entry.observed and _told_whole(ledger, held.job, written.entry):
                return number
            _undraw(ledger, held.job, written.entry, moment)
            lots = lots_standing(ledger)
            drawn = drawn_by(
                lots, written.finish, written.finish_ml, plan.catalogue, at, entered, number, liquid=written.liquid
            )
            for event in drawn:
                write_event(ledger, event)
    return number


def _told_together(ticks: Sequence[Tick], steps: Sequence[str], numbers: Mapping[str, int]) -> Iterator[str]:
    """Give what was told of several steps together and counts no more, as only some of them are told anew."""
    counting: list[Tick] = []
    for entry in (known for known in ticks if "amount" in known.observed):
        counting = [sooner for sooner in counting if set(sooner.steps).isdisjoint(entry.steps)] + [entry]
    for entry in counting:
        others = [step for step in entry.steps if step not in steps and step in numbers]
        if others and not set(entry.steps).isdisjoint(steps):
            again = listed(step_names(others, numbers))
            told = f"what was told of {listed(step_names(entry.steps, numbers))} together counts no more"
            yield f"{told}: tick {again} again with what {'it' if len(others) == 1 else 'each'} took"


def _told_whole(ledger: Ledger, job: int, entry: Tick) -> bool:
    """Return whether the amount of a whole coat stands of which one side is told now: it has come off the shelf."""
    told = (known for known in ticks_of(ledger, job) if "amount" in known.observed)
    return any(set(known.steps) & set(entry.steps) for known in told)


def _undraw(ledger: Ledger, job: int, entry: Tick, moment: datetime) -> None:
    """Take back what sooner entries of the same steps drew from the shelf: the last that is told counts.

    Those of whole coats are left to ``put_draws_right``, which has them come back where a later one is taken back.
    """
    entries = (known for known in ticks_of(ledger, job) if "amount" not in known.observed)
    sooner = {known.id for known in entries if set(known.steps) & set(entry.steps)}
    for event in (event for lot in lots_standing(ledger) for event in lot.events if event.tick in sooner):
        undo_event(ledger, event, moment)


def _out_of_order(ledger: Ledger, held: HeldPlan, plan: Plan, entry: Tick, numbers: Mapping[str, int]) -> Iterator[str]:
    """Give what is ticked, comes before, and by its tick ended later than this."""
    before, ended = steps_before(plan.pieces), ended_by_tick(ticks_of(ledger, held.job))
    sooner = {earlier for step in entry.steps for earlier in before.get(step, ())} - set(entry.steps)
    late = sorted((step for step in sooner if step in ended and ended[step] > entry.at), key=lambda step: ended[step])
    if late:
        at = show_moment(ended[late[-1]].astimezone(plan.shop.time_zone))
        come = "comes before, and by its tick ended" if len(late) == 1 else "come before, and by their ticks ended"
        yield f"{listed(step_names(late, numbers))} {come} later, {at}: one of the times is wrong"


def _too_early(ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime, entry: Tick) -> tuple[str, ...]:
    """Return of every coat that was worked before it was dry, as reckoned, when it is; of one found dry nothing."""
    before = steps_before(plan.pieces)
    found_dry = {step for known in ticks_of(ledger, held.job) if known.kind == "dry" for step in known.steps}
    coats = {coat for step in entry.steps for coat in before.get(step, ())} - found_dry - set(entry.steps)
    wet = [
        dry_from
        for dry_from in dried_from(ledger, held, plan, moment, coats)
        if dry_from.dry_from is None or dry_from.dry_from > entry.at
    ]
    return tuple(
        f"this was done before the coat below was dry, as reckoned: {dry_from_words(dry_from)}" for dry_from in wet
    )


def _tested(
    ledger: Ledger, held: HeldPlan, plan: Plan, pieces: tuple[PlannedPiece, ...], steps: Sequence[str]
) -> Iterator[str]:
    """Give what follows from the tests of an old coating that were ticked now, or believed to have been done."""
    numbers = numbers_of(ledger, held.job)
    films = films_of(ledger, held, plan, pieces)
    for film in films if tests_of(pieces) & set(steps) else ():
        yield from ticked_words(film, steps, numbers, plan.shop.time_zone)
    yield from under_stop(films, pieces, steps, numbers)


def _is_slip(written: Ticking, rule: LearningRule) -> bool:
    if written.used_ml is None or not written.reckoned_ml:
        return False
    return written.used_ml > rule.slip_times * written.reckoned_ml


def _doubted(ledger: Ledger, plan: Plan) -> tuple[SetAside, ...]:
    return shop_learnt(ledger, plan.catalogue, plan.shop).aside
