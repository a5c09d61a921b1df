"""A plan that is made once and held: asked again from the same, it is the same, whatever the clock says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime

from finplan.climate import Measured
from finplan.ledger import (
    HeldPlan,
    Ledger,
    Made,
    Tick,
    ended_by_tick,
    files_of,
    hold_plan,
    joint_job_of,
    last_event,
    last_tick,
    newest,
    numbers_of,
    own_job_of,
    plan_numbered,
    repairs_of,
    ticks_before,
    ticks_of,
)
from finplan.planning import Plan, job_of, replanned, steps_before, with_stages
from finplan.record.aired import Aired, read_beside, with_air
from finplan.record.asked import Asked
from finplan.record.film_tested import results_of
from finplan.record.finished import done_now, lacking_of
from finplan.record.frozen import HeldOtherwiseError, frozen, measures_frozen, thawed
from finplan.record.known import with_known
from finplan.record.readable import begun_from
from finplan.record.reading import Making, read_plan, with_number
from finplan.record.said import HeldNote
from finplan.timetable import Kept, Timetable, broken_by


def kept_plan(
    ledger: Ledger,
    files: Sequence[str],
    asked: Asked,
    make: Making,
    *,
    made: datetime,
    anew: bool = False,
    say: Callable[[HeldNote], None],
) -> Plan:
    """Return the plan that is held for files and wishes; where there is none, one that is made and held now.

    Parameters
    ----------
    ledger
        Where
    files
        The piece files, as seen from the ledger
    asked
        What is asked; where that is nothing, the newest plan is meant as it was asked, and the next begins now
    make
        Makes a plan
    made
        This moment
    anew
        Whether to plan again even if one is held; also apart from pieces that they were planned together with
    say
        Told why a plan that is held cannot be shown

    Notes
    -----
    What is held is known by the bytes of the files, what was asked, and what was done. What was ticked since does not
    change it: it hangs on the wall. The next plan, whatever it is made for, takes it in. What was taken back since does
    change it, where the plan leaves that step out: its rest is planned again. A plan that does not fit is not held; nor
    is one of pieces that were planned together with others last: two plans of one piece would call their steps by the
    same numbers.
    """
    joint = None if anew else joint_job_of(ledger, files)
    if joint is not None:
        return _alone(ledger, files, joint, asked, make, made, say)
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    repeats = asked.nothing and last is not None
    if last is not None and repeats:
        asked = replace(Asked.of(last.made.wishes), catalogue_only=asked.catalogue_only)
    learn = not asked.catalogue_only
    if last is not None and not anew:
        as_held = _as_held(ledger, last, asked, make, say=say)
        if as_held is not None:
            lacking = lacking_of(ledger, last, as_held)
            if not lacking:
                return as_held
            numbers = numbers_of(ledger, last.job)
            again = tuple(sorted(numbers[step] for step in lacking if step in numbers))
            say(HeldNote("left-out", last.number, again))
            return next_plan(ledger, files, last, make, made=made, learn=learn)
    plan, aired = _next(ledger, files, last, None if repeats else asked, make, made)
    known = last_tick(ledger), last_event(ledger)
    plan = with_known(plan, ledger, up_to_tick=known[0], up_to_event=known[1], learn=learn)
    if not plan.timetable.has_plan:
        return plan
    new = _made(plan, asked, made, known, aired)
    held = hold_plan(ledger, files, new, anew=anew or last is not None)
    sooner = None if held.made is new else read_plan(ledger, held, make)
    if sooner is not None:  # another process held its plan while this one was made
        return sooner
    return with_number(ledger, held, plan, plan.timetable)


def _alone(
    ledger: Ledger,
    files: Sequence[str],
    joint: int,
    asked: Asked,
    make: Making,
    made: datetime,
    say: Callable[[HeldNote], None],
) -> Plan:
    """Return a plan of files alone that were planned together with others, held nowhere, and say so."""
    together = newest(ledger, joint)
    if together is not None:
        others = tuple(name for name in files_of(ledger, joint) if name not in files)
        say(HeldNote("planned-together", together.number, others=others))
    return next_by_record(ledger, files, asked, make, made)


def plan_by_record(ledger: Ledger, files: Sequence[str], make: Making, made: datetime) -> Plan:
    """Return the plan that ``kept_plan`` would give where nothing is asked, and write nothing.

    Its timetable is known where it is held, and else still to be reckoned; arguments as there.
    """
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    if last is not None and make(Asked(), now=made, done={}, numbers={}).digest == last.made.digest:
        plan = _as_held(ledger, last, Asked.of(last.made.wishes), make, say=lambda _: None)
        if plan is not None:
            return plan
    learn = last is None or not Asked.of(last.made.wishes).catalogue_only
    return next_by_record(ledger, files, Asked(catalogue_only=not learn), make, made)


def next_by_record(ledger: Ledger, files: Sequence[str], asked: Asked, make: Making, made: datetime) -> Plan:
    """Return the plan that ``kept_plan`` would make next, and write nothing: what is ticked is done.

    Its timetable is still to be reckoned; arguments as there.
    """
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    plan, _ = _next(ledger, files, last, None if asked.nothing and last is not None else asked, make, made)
    known = last_tick(ledger), last_event(ledger)
    return with_known(plan, ledger, up_to_tick=known[0], up_to_event=known[1], learn=not asked.catalogue_only)


def _next(
    ledger: Ledger, files: Sequence[str], last: HeldPlan | None, asked: Asked | None, make: Making, made: datetime
) -> tuple[Plan, Aired]:
    """Return the next plan of files, and its air; where nothing is *asked*, of what was asked for the last."""
    if asked is None and last is not None:
        return _again(ledger, last, make, made)
    job = own_job_of(ledger, files)
    ticked = _begun_apart(ledger, files, make) if job is None else ticks_of(ledger, job)
    numbers = {} if job is None else numbers_of(ledger, job)
    repairs = () if job is None else repairs_of(ledger, job)
    plan = make(
        asked or Asked(),
        now=None,
        done=ended_by_tick(ticked),
        numbers=numbers,
        repairs=repairs,
        results=results_of(ticked),
    )
    aired = _aired(ledger, last, plan, made)
    return with_air(plan, aired), aired


def _begun_apart(ledger: Ledger, files: Sequence[str], make: Making) -> tuple[Tick, ...]:
    """Return what was ticked of pieces before they were planned together; nothing of one alone."""
    pieces = make(Asked(), now=None, done={}, numbers={}).pieces if len(files) > 1 else ()
    return ticks_before(ledger, files, [piece.key for piece in pieces])


def _again(
    ledger: Ledger, last: HeldPlan, make: Making, made: datetime, told: Sequence[Measured] = ()
) -> tuple[Plan, Aired]:
    """Return the next plan of what was asked before, from this moment on: no work is begun in the past; and its air."""
    start = begun_from(last.made)
    plan = make(
        replace(Asked.of(last.made.wishes), done=()),
        now=max(start, made),
        done=done_now(ledger, last),
        numbers=numbers_of(ledger, last.job),
        repairs=repairs_of(ledger, last.job),
        results=results_of(ticks_of(ledger, last.job)),
    )
    aired = _aired(ledger, last, plan, made, told)
    return with_air(plan, aired), aired


def _aired(ledger: Ledger, last: HeldPlan | None, plan: Plan, made: datetime, told: Sequence[Measured] = ()) -> Aired:
    """Return the air as the record knows it now; *told* is what is told of it besides what the last plan was told."""
    before = () if last is None else Aired.of(last.made.answer).told
    return Aired(read_beside(ticks_of(ledger), plan, made), (*before, *told))


def _made(plan: Plan, asked: Asked, made: datetime, known: tuple[int, int], aired: Aired) -> Made:
    """Return a plan as it is held; *known* are the last tick, and the last that befell a lot, that it knows."""
    whole, rows = frozen(plan.timetable)
    return Made(
        at=made,
        version=plan.version,
        digest=plan.digest,
        wishes=asked.plain(),
        done=dict(plan.done),
        answer={
            "now": plan.now.isoformat(),
            "timetable": whole,
            "measures": measures_frozen(plan.measures),
            "air": aired.plain(),
            "repairs": sorted({repair.number for piece in plan.pieces for repair in piece.repairs}),
            "keys": [piece.key for piece in plan.pieces] if len(plan.pieces) > 1 else [],
        },
        rows=rows,
        last_tick=known[0],
        last_event=known[1],
    )


def _as_held(
    ledger: Ledger, held: HeldPlan, asked: Asked, make: Making, *, say: Callable[[HeldNote], None]
) -> Plan | None:
    """Return a plan as it is held; None where other files or wishes are asked for, or it breaks a rule."""
    if Asked.of(held.made.wishes) != asked:
        return None
    plan = read_plan(ledger, held, make)
    if plan is None:
        say(HeldNote("other-version", held.number))
        return None
    if plan.digest != held.made.digest:
        return None
    broken = broken_by(job_of(plan.pieces, plan.deliveries, plan.now, plan.wishes), plan.timetable.steps)
    if broken:
        say(HeldNote("breaks-a-rule", held.number, rule=broken[0]))
        return None
    return plan


def next_plan(
    ledger: Ledger,
    files: Sequence[str],
    last: HeldPlan,
    make: Making,
    *,
    made: datetime,
    learn: bool = True,
    told: Sequence[Measured] = (),
) -> Plan:
    """Return the next plan of a job: what is ticked stays at its real times, and the rest is planned from now on.

    What does not have to move stays where it is, to the minute (``planning.replanned``).

    Parameters
    ----------
    ledger, files, make, made
        As for ``kept_plan``
    last
        The plan whose rest is planned again
    learn
        Whether amounts and times are those that the shop has learnt, or the catalogue's
    told
        The air as it is told now, besides the readings beside ticks and what the last plan was told
    """
    known = last_tick(ledger), last_event(ledger)
    plan, aired = _again(ledger, last, make, made, told)
    plan = with_known(plan, ledger, up_to_tick=known[0], up_to_event=known[1], learn=learn)
    before = _before(ledger, last, plan)
    if before is not None:
        kept = _rest_of(before, plan)
        plan = with_stages(replace(plan, now=kept.earliest), timetable=kept.timetable)
    if plan.timetable.status == "impossible":
        return plan
    new = _made(plan, replace(Asked.of(last.made.wishes), catalogue_only=not learn), made, known, aired)
    held = hold_plan(ledger, files, new, in_place_of=last.number)
    same = None if held.made is new else read_plan(ledger, held, make)
    return with_number(ledger, held, plan, plan.timetable) if same is None else same


def _rest_of(before: Timetable, plan: Plan) -> Kept:
    return replanned(
        plan.pieces,
        plan.deliveries,
        before,
        coats=lambda: plan.materials.coats,
        now=plan.now,
        wishes=plan.wishes,
    )


def _before(ledger: Ledger, last: HeldPlan, plan: Plan) -> Timetable | None:
    """Return the timetable of the last plan; None where it cannot be read.

    A step that it leaves out as done, and that is to be done again, is where the newest plan had it that has it.
    """
    zone = plan.shop.time_zone
    try:
        before = thawed(last.made, zone)
    except HeldOtherwiseError:
        return None
    there = {row.id for row in before.steps}
    lacking = {step for step in steps_before(plan.pieces) if step not in plan.done and step not in there}
    older: HeldPlan | None = last
    steps = list(before.steps)
    while lacking and older is not None:
        older = plan_numbered(ledger, last.job, older.number - 1)
        with suppress(HeldOtherwiseError):
            rows = () if older is None else thawed(older.made, zone).steps
            steps += [row for row in rows if row.id in lacking]
            lacking -= {row.id for row in rows}
    return replace(before, steps=tuple(steps))
