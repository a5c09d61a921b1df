"""The timetable of a job, with the answers that a maker asks of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.scheduling import EarliestStarts, Fewest, critical
from finplan.system import in_plan
from finplan.timetable.blocked import blocked
from finplan.timetable.buffer import working_day_h
from finplan.timetable.calendar import hours_between
from finplan.timetable.explain import clashes, surer, unblocked
from finplan.timetable.found import Found, NotFoundYetError, finished
from finplan.timetable.help.change import Ways, no_ways
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.late import begun_at_once_if_surer, later_of, plan_late
from finplan.timetable.least_late import Progress
from finplan.timetable.note import NotTaken
from finplan.timetable.notes import notes
from finplan.timetable.operation import STEP_MIN
from finplan.timetable.rows import rows_of_schedule
from finplan.timetable.setting import Setting
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure, sure_of
from finplan.timetable.sure_enough import latest_and_sure, sure_last_hand
from finplan.timetable.timetable import Clash, PieceTimes, Status, Timetable


@dataclass(frozen=True, slots=True)
class Draft:
    """A timetable of which not all is told yet."""

    timetable: Timetable
    """Without what would help, and without the earliest finish: to look for these takes longer than many a plan."""
    told: Callable[[], Timetable]
    """Looks for them, and returns the timetable with them."""

    @classmethod
    def of(cls, whole: Timetable) -> Draft:
        """Return a timetable of which all is told."""
        return cls(whole, lambda: whole)


def drafted(
    job: Job,
    *,
    asap: bool = False,
    largest_buffer: bool = False,
    limit_s: float | None = None,
    answers: bool = True,
    earliest: bool = True,
    ways: Ways = no_ways,
    progress: Progress | None = None,
) -> Draft:
    """Return who does what when, and the rest of what is told of it once it is asked for.

    With a delivery the work starts as late as leaves the buffer wanted; where that cannot be kept, with as much of it
    as can be had. Without one it is ready as early as can be.

    Parameters
    ----------
    job
        The pieces and the shop
    asap
        Whether to be ready as early as can be, with every date kept
    largest_buffer
        Whether to leave more than the buffer wanted: as much as can be had
    limit_s
        After so many seconds the best found is taken; None for four minutes, and half a minute more for each piece. [s]
    answers
        Whether to say the latest safe start and the earliest finish too, and what would help where nothing fits or not
        surely enough
    earliest
        Whether the earliest finish is wanted among the answers: it takes a search of its own
    ways
        Gives what else could be changed where the job does not fit, or not surely enough; asked only then
    progress
        Told what is being done

    Raises
    ------
    NotFoundYetError
        No plan was found in the time, and none was proven impossible.
    """
    planner = Planner(job, limit_s=limit_s, progress=progress)
    stuck = blocked(job, planner.setting)
    if stuck:

        def told_stuck() -> Timetable:
            helped = unblocked(planner, stuck, ways, progress=progress) if answers else stuck
            return _without_plan(job, helped, "impossible")

        return Draft(_without_plan(job, stuck, "impossible"), told_stuck)
    sure = _planned(planner, asap=asap, largest_buffer=largest_buffer, tidy=answers)
    if sure is None:

        def told_late() -> Timetable:
            clashing = clashes(planner, ways, progress=progress, help_out=answers)
            return _without_plan(job, clashing, "impossible" if planner.proven_impossible() else "not-found")

        return Draft(_without_plan(job, (), "not-found"), told_late)
    latest = _latest(planner, sure) if answers else None
    if latest is not None and not asap and not largest_buffer:
        sure = later_of(planner, sure, latest)
    sure = sure_last_hand(planner, sure)
    answer = answered(planner, sure, latest, answers=answers)
    left_s = planner.left_s

    def told() -> Timetable:
        planner.goes_on(left_s)
        whole = answer
        if answers and earliest:
            ready = _earliest_ready(planner, max(piece.ready for piece in answer.pieces))
            whole = replace(answer, earliest_ready=ready, cut_short=answer.cut_short or planner.left_s <= 0)
        if answers and whole.unsure:
            whole = replace(whole, would_be_sure=surer(planner, sure, ways, progress=progress))
        return whole

    return Draft(answer, told)


def keeps_dates(job: Job, *, limit_s: float | None = None) -> bool:
    """Return whether a plan is found that keeps every date, or any at all without dates, as ``drafted`` finds it.

    Raises
    ------
    NotFoundYetError
        As for ``drafted``.
    """
    planner = Planner(job, limit_s=limit_s)
    dated = any(piece.deliver is not None for piece in job.pieces)
    return not blocked(job, planner.setting) and planner.soonest_made(dated=dated) is not None


def _planned(planner: Planner, *, asap: bool, largest_buffer: bool, tidy: bool) -> Sure | None:
    dated = any(piece.deliver is not None for piece in planner.job.pieces)
    if dated and not asap and not largest_buffer:
        return plan_late(planner)
    if dated and largest_buffer:
        found = planner.safest(None)
        return None if found is None else begun_at_once_if_surer(planner, sure_of(planner, found))
    found = planner.early(dated=dated, tidy=tidy)
    if found is not None and dated and planner.is_small and found.result.status != "optimal":
        found = _no_later_than_late(planner, found)
    return None if found is None else sure_of(planner, found)


def _no_later_than_late(planner: Planner, found: Found) -> Found:
    """Return a plan that is ready as early as was found, or what starts as late as is safe where that is ready sooner.

    That is searched for within the dates, where these are tight so much closer that it may come out better.
    """
    try:
        late = plan_late(Planner(planner.job, limit_s=planner.left_s))
    except NotFoundYetError:
        return found
    return found if late is None else planner.sooner_of(found, late.found)


def _without_plan(job: Job, told: tuple[Clash, ...], status: Status) -> Timetable:
    deliver = _first_delivery(job)
    return Timetable(status, deliver=deliver, clashes=told, working_day_h=working_day_h(job.shop))


def _first_delivery(job: Job) -> datetime | None:
    return min((moment for piece in job.pieces if (moment := job.delivery(piece)) is not None), default=None)


def answered(planner: Planner, sure: Sure, latest: Sure | None, *, answers: bool, best: bool = True) -> Timetable:
    """Return the timetable of a plan that was found, without the earliest finish.

    Parameters
    ----------
    planner
        By which it was found
    sure
        The plan, with how it fares
    latest
        The one that starts latest, where that is wanted and there is one
    answers
        As for ``drafted``
    best
        Whether the best plan was looked for, so that it is held against that
    """
    job, setting = planner.job, planner.setting
    found = planner.against_all(sure.found) if best else sure.found
    pieces = tuple(_times(planner, piece, sure) for piece in job.pieces)
    tightest = min(
        pieces,
        key=lambda piece_times: (
            piece_times.buffer_h is None,
            piece_times.buffer_h or 0.0,
            -piece_times.ready.timestamp(),
        ),
    )
    last = _last(found)
    held_up = critical(found.placement.problem, found.schedule, last) if last is not None else frozenset()
    main = [stage for stage in found.result.stages if not isinstance(stage.objective, (EarliestStarts, Fewest))]
    unproven = next((abs(attained.bound - attained.value) for attained in main if not attained.proven), 0)
    start = min(piece.start for piece in pieces)
    steps = rows_of_schedule(job, setting, found.schedule, held_up)
    return Timetable(
        status="feasible" if unproven else "optimal",
        steps=steps,
        pieces=pieces,
        start=start,
        latest_safe_start=_latest_start(planner, sure, latest, start) if answers else None,
        ready=tightest.ready,
        deliver=tightest.deliver,
        buffer_h=tightest.buffer_h,
        buffer=found.buffer,
        working_day_h=working_day_h(job.shop),
        gap_h=unproven * setting.slot_min / 60 if unproven else None,
        in_time_probability=sure.in_time,
        in_time_wanted=job.shop.in_time_pct / 100,
        surely_ready=_surely_ready(setting, sure),
        cured=tuple(_cured(planner, found)),
        notes=(*map(NotTaken, planner.faults), *notes(job, setting, steps)),
        air_waits_h=job.air_waits_h,
        # Last of all: what is told beside the plan is worked out in the same time.
        cut_short=found.result.cut_short or planner.left_s <= 0,
    )


def _last(found: Found) -> str | None:
    """Return the operation whose result is ready last; None where everything is done."""
    finishes = [finish for of_piece in found.placement.finishes.values() for finish in of_piece]
    last = max(finishes, key=lambda finish: finished(finish, found.schedule), default=None)
    return None if last is None else last.activity


def _times(planner: Planner, piece: PieceWork, sure: Sure) -> PieceTimes:
    setting, found = planner.setting, sure.found
    ready_slot = planner.ready_slot(piece, found)
    ready = setting.clock_of_slot(ready_slot)
    deliver = planner.job.delivery(piece)
    due = planner.due(piece)
    working = None if due is None else planner.working.up_to(due) - planner.working.up_to(ready_slot)
    return PieceTimes(
        piece=piece.piece,
        start=setting.clock_of_slot(planner.start_slot(piece, found.schedule)),
        ready=ready,
        deliver=deliver,
        buffer_h=None if deliver is None else hours_between(ready, deliver),
        buffer_working_h=None if working is None else working * setting.slot_min / 60,
        in_time=sure.in_time_of.get(piece.key),
    )


def _latest(planner: Planner, sure: Sure) -> Sure | None:
    """Return the plan that starts latest and keeps every date as surely as is wanted, with no buffer."""
    if not sure.in_time_of:
        return None
    try:
        latest = latest_and_sure(planner)
    except NotFoundYetError:
        return None
    return latest if latest is not None and latest.kept else None


def _latest_start(planner: Planner, sure: Sure, latest: Sure | None, start: datetime) -> datetime | None:
    """Return when work begins at the latest that keeps every date as surely as is wanted; None for no date or start."""
    if not sure.in_time_of:
        return None
    if latest is None:
        return start if sure.kept else None
    begun = (
        planner.start_slot(piece, latest.found.schedule) for piece in planner.job.pieces if piece.deliver is not None
    )
    return max(start, planner.setting.clock_of_slot(min(begun)))


def _earliest_ready(planner: Planner, planned: datetime) -> datetime | None:
    """Return when all could be ready, and never later than it is *planned*: no search for it is without end."""
    if not planner.setting.from_earliest:
        return None
    try:
        found = planner.early(tidy=False)
    except NotFoundYetError:
        return None
    if found is None:
        return None
    early = planner.setting.clock_of_slot(max(planner.ready_slot(piece, found) for piece in planner.job.pieces))
    return min(early, planned)


def _surely_ready(setting: Setting, sure: Sure) -> datetime | None:
    """Return by when all is ready as surely as the shop wants dates to be kept."""
    minute = sure.lived.all_ready_min(setting.shop.in_time_pct / 100)
    return setting.clock(-(-minute // STEP_MIN) * STEP_MIN) if math.isfinite(minute) else None


def _cured(planner: Planner, found: Found) -> list[tuple[str, datetime]]:
    setting = planner.setting
    cured: dict[str, float | None] = {}  # None: later than is looked at
    for piece in planner.job.pieces:
        for operation in piece.open:
            if operation.finish is None:
                continue
            cure = setting.catalogue.finishes[operation.finish].cure_h
            if cure is None:
                continue
            end = found.schedule[operation.id].end * setting.slot_min
            minute = setting.drying_of(operation).reached(end, "hardening", cure.typical, operation.thickness)
            item = in_plan(piece.key, operation.item)
            before = cured.get(item, 0.0)
            cured[item] = None if minute is None or before is None else max(before, minute)
    return [(item, setting.clock(minute)) for item, minute in cured.items() if minute is not None]
