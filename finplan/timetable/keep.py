"""The rest of a plan after things went otherwise: what does not have to move stays where it was."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.scheduling import Schedule
from finplan.timetable.answer import answered
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.place import NoRoomError
from finplan.timetable.construct.put_back import Before, Place, put_back
from finplan.timetable.found import NotFoundYetError
from finplan.timetable.help.later import later_dates, sure_dates, too_late, unsure_of
from finplan.timetable.job import Job
from finplan.timetable.operation import Operation, all_operations
from finplan.timetable.owed import goes_on
from finplan.timetable.recheck import broken_by
from finplan.timetable.rows import first_stretches
from finplan.timetable.setting import Setting
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure, sure_of
from finplan.timetable.timetable import Buffer, Timetable, TimetableStep, WouldFit
from finplan.timetable.waits import Waits


@dataclass(frozen=True, slots=True)
class Kept:
    """The rest of a plan, moved as little as can be."""

    timetable: Timetable
    earliest: datetime
    """The earliest moment of work: that of what is under way, else when the rest goes on."""
    dates: tuple[WouldFit, ...] = ()
    """Where a date is missed, later ones that would be kept; where one is not sure enough, those that would be."""


def kept_rest(job: Job, rows: Sequence[TimetableStep], buffer: Buffer, *, limit_s: float | None = None) -> Kept | None:
    """Return the rest of a plan in which as little moves as can be; None where not everything can be put back.

    What mends a coat and was not planned yet comes as soon as it can. What by the plan is under way, and waits for
    nothing, is taken to be. What can stay to the minute does; what cannot
    goes to where it has room after that, or all waits in the order in which it was: of these the one that keeps more
    dates, abrades less again, is sure enough, and then moves fewer steps by less.

    Parameters
    ----------
    job
        What is still to be done, from now on
    rows
        The rows in which all of it was planned
    buffer
        What was wanted between ready and delivery
    limit_s
        After so many seconds what is found by then is taken. [s]
    """
    in_use = _in_use(job, rows)
    kept = _kept_rest(job.without_owed(in_use), rows, buffer, limit_s) if in_use else None
    if kept is not None and not broken_by(replace(job, earliest=kept.earliest), kept.timetable.steps):
        return kept
    return _kept_rest(job, rows, buffer, limit_s)


def _in_use(job: Job, rows: Sequence[TimetableStep]) -> list[Operation]:
    """Return the clean-ups that are owed and whose tool, by the plan, is in use again from now on."""
    every = [operation for piece in job.pieces for operation in piece.open]
    setting = Setting(job)
    there = setting.lifted(setting.slot_from(job.earliest))
    starts = {name: setting.slot_up_to(row.start) for name, row in first_stretches(rows).items()}
    return [
        operation
        for piece in job.pieces
        for operation in piece.owed
        if there is not None and operation.id not in starts and goes_on(operation, every, starts, there)
    ]


def _kept_rest(job: Job, rows: Sequence[TimetableStep], buffer: Buffer, limit_s: float | None) -> Kept | None:
    was = first_stretches(rows)
    still = [operation for piece in job.pieces for operation in piece.open]
    owed = [operation for piece in job.pieces for operation in piece.owed]
    mends = [
        operation
        for operation in still
        if operation.id not in was and operation.step is not None and operation.step.mends is not None
    ]
    if not still or any(
        operation.id not in was for operation in still if operation not in owed and operation not in mends
    ):
        return None
    begun = _under_way(job, rows)
    whole = replace(job, earliest=min([job.earliest, *(was[name].start for name in begun)]))
    planner = Planner(whole, limit_s=limit_s)
    setting = planner.setting
    now = setting.slot_from(job.earliest)
    at_once = _at_once(
        [operation for operation in owed if operation.id not in begun], setting, now, _busy_until(rows, begun, setting)
    )
    soon = {mend.id: Place(now, -1) for mend in mends}
    before = Before({**_places(whole, was, setting), **at_once, **soon}, now, begun)
    tries = [_Try.of(planner, before, buffer, plan) for plan in _put_back(planner, before)]
    best = min((tried for tried in tries if tried is not None), key=lambda tried: tried.score, default=None)
    if best is None:
        return None
    timetable = answered(planner, best.sure, None, answers=False, best=False)
    return Kept(replace(timetable, status="feasible"), whole.earliest, tuple(_dates(planner, best.sure)))


def _dates(planner: Planner, sure: Sure) -> Iterator[WouldFit]:
    late, unsure = too_late(planner, sure.found), unsure_of(planner, sure)
    if late:
        yield from later_dates(planner, sure, late)
    elif unsure:
        yield from sure_dates(planner, sure, unsure)


def _under_way(job: Job, rows: Sequence[TimetableStep]) -> frozenset[str]:
    """Return what by a plan has been begun and is not over, where all that it waits for was done in time for that."""
    first = first_stretches(rows)
    last = {row.id: row for row in rows if row.kind == "attended"}
    under_way = [
        (piece, operation)
        for piece in job.pieces
        for operation in piece.open
        if operation.id in first
        and first[operation.id].start < job.earliest < last[operation.id].end
        and all(after.id in piece.done for after in operation.after)
    ]
    if not under_way:
        return frozenset()
    setting = Setting(replace(job, earliest=min(first[operation.id].start for _, operation in under_way)))
    waits = Waits(setting, job.ready_for)
    return frozenset(
        operation.id
        for piece, operation in under_way
        if all(
            (moment := waits.after_done(piece, after, operation)) is not None
            and moment <= setting.slot_up_to(first[operation.id].start)
            for after in operation.after
        )
    )


def _places(job: Job, was: Mapping[str, TimetableStep], setting: Setting) -> dict[str, Place]:
    """Return where everything was that is still to be done, and the abrading that a late coat needed."""
    places: dict[str, Place] = {}
    for piece in job.pieces:
        for operation in all_operations(piece.open):
            row = was.get(operation.id)
            if row is not None and (operation.deed != "clean-up" or operation in piece.owed):
                who = setting.who(operation)
                mode = who.index(row.person) if row.person in who else -1
                places[operation.id] = Place(setting.slot_up_to(row.start), mode)
    return places


def _busy_until(rows: Sequence[TimetableStep], begun: frozenset[str], setting: Setting) -> dict[str, int]:
    """Return the slot from which on whoever is at work on what is under way is free."""
    until: dict[str, int] = {}
    for row in rows:
        if row.id in begun and row.person is not None and row.kind == "attended":
            until[row.person] = max(setting.slot_from(row.end), until.get(row.person, 0))
    return until


def _at_once(owed: Sequence[Operation], setting: Setting, now: int, busy: Mapping[str, int]) -> dict[str, Place]:
    """Return where clean-ups that are owed go: as soon as anybody is there who can, before anything else is begun."""
    free = dict(busy)
    places: dict[str, Place] = {}
    for operation in owed:
        slots = setting.slots_of(operation)
        can = [
            (start, mode, person)
            for mode, person in enumerate(setting.who(operation))
            for span in setting.spans[person]
            if (start := max(now, span.start, free.get(person, now))) + slots <= span.end
        ]
        if can:
            start, mode, person = min(can)
            free[person] = start + slots
            places[operation.id] = Place(start, mode)
        else:
            places[operation.id] = Place(now, -1)
    return places


def _put_back(planner: Planner, before: Before) -> Iterator[Schedule]:
    """Give the plan with everything in its place that can be, and that in which all waits in its order.

    And where a coat was to be abraded first on one that has been put on since, that in which it comes before that is
    too hard: it may have room now, as where the coat below was told to be older than it is.
    """
    network = planner.maker.network
    empty = Bench(network, planner.setting)

    def tried(places: Before, moved: Collection[str]) -> Schedule | None:
        with suppress(NoRoomError, NotFoundYetError):
            return put_back(empty, network, places, lambda: planner.left_s, moved=moved)
        return None

    yield from filter(None, (tried(before, moved) for moved in ((), tuple(network.tasks))))
    soft: set[str] = set()
    for task in network.tasks.values():
        if task.again is None or task.again.name not in before.places or task.close is None or task.close < before.now:
            continue
        others = {name: place for name, place in before.places.items() if name != task.again.name}
        fewer = replace(before, places=others)
        plan = tried(fewer, {*soft, task.name})
        if plan is not None and task.again.name not in plan:
            before, soft = fewer, {*soft, task.name}
            yield plan


@dataclass(frozen=True, slots=True)
class _Try:
    """A plan that was put back, and how good it is: the lower, the better; the first number counts most."""

    sure: Sure
    score: tuple[float, ...]

    @classmethod
    def of(cls, planner: Planner, before: Before, buffer: Buffer, plan: Schedule) -> _Try | None:
        """Return a plan with its score; None where it breaks a rule after all."""
        found = planner.put_back(plan, buffer)
        if found is None:
            return None
        sure = sure_of(planner, found)
        again, _ = planner.maker.extras(plan)
        shifts = [plan[name].start - place.start for name, place in before.places.items() if name in plan]
        others = sum(plan[name].mode != place.mode for name, place in before.places.items() if name in plan)
        moved = sum(shift != 0 for shift in shifts) + others
        return cls(sure, (planner.lateness(found), again, not sure.kept, moved, sum(map(abs, shifts))))
