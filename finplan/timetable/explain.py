"""Why a job does not fit, by how much, and what would help, or make it surer: the nearest to it first, each tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from finplan.inputs import Booth, Rack, Room, Shop, takes_what_burns
from finplan.timetable.calendar import hours_between, working_hours_between
from finplan.timetable.help.change import NEAREST, Change, Way, Ways
from finplan.timetable.help.hands import more_hands, working_on
from finplan.timetable.help.heat import more_heat
from finplan.timetable.help.later import TooLate, later_dates, sure_dates, too_late, unsure_of
from finplan.timetable.help.tries import Tried, Tries
from finplan.timetable.job import Job
from finplan.timetable.least_late import Progress
from finplan.timetable.remedy import BoothGiven
from finplan.timetable.requirement import AllDone, DateKept, HoursEnd, Obstacle
from finplan.timetable.setting import Setting
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure, sure_of
from finplan.timetable.timetable import Clash, WouldFit

_ENOUGH = 10_000
_GOING_ON = timedelta(weeks=4)
"""For so long who stops working is thought to go on, where no delivery says for how long."""
_WEEK_MIN = 7 * 24 * 60
"""Who works every week works in the last one that is looked at."""


def clashes(
    planner: Planner,
    ways: Ways,
    *,
    progress: Progress | None = None,
    help_out: bool = True,
) -> tuple[Clash, ...]:
    """Return what clashes with the dates of a job that does not fit, for every piece that comes too late.

    Parameters
    ----------
    planner
        Of the job, for which no plan exists
    ways
        Gives what else could be changed than the dates, the hours, the heat and the rack
    progress
        Told what is being tried
    help_out
        Whether to try what would make it fit
    """
    least = planner.least_late()
    if least is None:
        never = (Clash(_never_done(planner), None),)
        return unblocked(planner, never, ways, progress=progress) if help_out else never
    job = planner.job
    late_alone = [piece for piece in job.pieces if planner.is_late_alone(piece)]
    proven = {piece.key for piece in (job.pieces if not planner.undecided else late_alone)}
    late = too_late(planner, least)
    tries = Tries(lambda: planner.left_s, progress, job=job, late_alone=late_alone)
    fits: list[WouldFit] = []
    obstacles: tuple[Obstacle, ...] = ()
    if help_out:
        last = max((piece.deliver.date() for piece in late), default=job.earliest.date())
        all_ways = [*tries.unless_late(ways, {piece.key for piece in late}), *more_heat(job), *more_hands(job, last)]
        gain = _Gain(job.shop, late)
        fits = _fitting(all_ways, tries, gain.clock_h, gain)
        obstacles = _also_clashing(job, tries)
    fits += later_dates(planner, sure_of(planner, least), late)
    told: list[Clash] = []
    for piece in late:
        requirement = DateKept(
            piece=piece.piece,
            deliver=piece.deliver,
            begins=job.earliest if piece.deliver < job.earliest else None,
            with_=obstacles,
            proven=piece.key in proven,
            all_tried=tries.all_tried,
        )
        told.append(Clash(requirement, hours_between(piece.deliver, piece.ready), tuple(fits)))
    return tuple(told)


def _never_done(planner: Planner) -> AllDone:
    """Return why not everything can be done for as long as is looked ahead: hours that come to an end, if they do."""
    job, setting = planner.job, planner.setting
    weeks = round(setting.slots * setting.slot_min / (7 * 24 * 60))
    last = setting.anybody[-1].end
    hours: HoursEnd | None = None
    if (setting.slots - last) * setting.slot_min >= _WEEK_MIN:
        worked_h = sum(span.end - span.start for span in setting.anybody) * setting.slot_min / 60
        needed_h = sum(operation.work_min for piece in job.pieces for operation in piece.open) / 60
        hours = HoursEnd(setting.clock_of_slot(last), job.earliest.date(), worked_h, needed_h)
    return AllDone(weeks, hours, planner.stuck)


# --- what clashes with the date -------------------------------------------------------------------------------------


def _also_clashing(job: Job, tries: Tries) -> tuple[Obstacle, ...]:
    """Return what else of the shop stands in the way: with any one of these gone, the dates could be kept.

    Found by leaving out one after the other what a shop could be without, and keeping those without which it fits.
    """
    relaxed = list(_relaxations(job))
    if not relaxed or tries.kept(replace(job, shop=_without(job.shop, relaxed))) is None:
        return ()
    needed = list(relaxed)
    for rule in relaxed:
        fewer = [other for other in needed if other is not rule]
        if tries.kept(replace(job, shop=_without(job.shop, fewer))) is not None:
            needed = fewer
    return tuple(obstacle for obstacle, _ in needed)


Relaxation = tuple[Obstacle, Callable[[Shop], Shop]]


def _without(shop: Shop, relaxed: Sequence[Relaxation]) -> Shop:
    for _, change in relaxed:
        shop = change(shop)
    return shop


def _relaxations(job: Job) -> Iterator[Relaxation]:
    shop = job.shop
    rack = shop.rack
    yield (
        Obstacle("rack", places=rack.places, hooks=rack.hooks),
        lambda own: own.model_copy(update={"rack": Rack.model_construct(places=_ENOUGH, hooks=_ENOUGH)}),
    )
    sanding = shop.room_for("sanding")
    if sanding is not None and sanding in (shop.room_for("coating"), shop.room_for("drying")):
        yield Obstacle("one-room", room=sanding), _with_a_dusty_room
    lost = frozenset() if job.lost_day is None else frozenset({job.lost_day})
    if lost:
        yield (
            Obstacle("lost-day", day=job.lost_day),
            lambda own: own.model_copy(update={"closed": own.closed - lost}),
        )
    if shop.closed - lost:
        yield Obstacle("closed-days"), lambda own: own.model_copy(update={"closed": own.closed & lost})
    if shop.holidays:
        yield Obstacle("holidays"), lambda own: own.model_copy(update={"holidays": None})


def _with_a_dusty_room(shop: Shop) -> Shop:
    bare = dict.fromkeys(("volume_ml", "air_changes", "fan_m3_h", "booth", "extraction"))
    room = Room.model_construct(for_=("sanding", "assembly"), **bare)
    return shop.model_copy(update={"rooms": {" a room for sanding": room, **shop.rooms}})


# --- what would make it fit -----------------------------------------------------------------------------------------


def unblocked(
    planner: Planner,
    stuck: Sequence[Clash],
    ways: Ways,
    *,
    progress: Progress | None = None,
) -> tuple[Clash, ...]:
    """Return clashes of work that can never be done, with what would let it be done and keep every date.

    Parameters
    ----------
    planner
        Of the job
    stuck
        What can never be done
    ways
        Gives what else could be changed than the hours and the air
    progress
        Told what is being tried
    """
    job, tries = planner.job, Tries(lambda: planner.left_s, progress)
    dates = [moment.date() for piece in job.pieces if (moment := job.delivery(piece)) is not None]
    hands = more_hands(job, max(dates)) if dates else working_on(job, job.earliest.date() + _GOING_ON)
    all_ways = [
        *_with_booth(job),
        *tries.unless_late(ways, {piece.key for piece in job.pieces}),
        *more_heat(job),
        *hands,
    ]
    fits = tuple(_fitting(all_ways, tries, lambda kept: -kept.all_ready.timestamp()))
    return tuple(replace(clash, would_fit=fits) for clash in stuck)


def surer(planner: Planner, sure: Sure, ways: Ways, *, progress: Progress | None = None) -> tuple[WouldFit, ...]:
    """Return what would keep every date as surely as the shop wants, where a plan does not.

    Parameters
    ----------
    planner
        Of the job
    sure
        The plan
    ways
        Gives what else could be changed than the dates, the hours and the heat
    progress
        Told what is being tried
    """
    job, tries = planner.job, Tries(lambda: planner.left_s, progress, surely=True)
    unsure = unsure_of(planner, sure)
    last = max(late.deliver.date() for late in unsure)
    all_ways = [*tries.unless_late(ways, {late.key for late in unsure}), *more_heat(job), *more_hands(job, last)]
    return (*_fitting(all_ways, tries, lambda kept: kept.in_time or 0.0), *sure_dates(planner, sure, unsure))


class _Gain:
    """By how much sooner what is late would be ready."""

    def __init__(self, shop: Shop, late: Sequence[TooLate]) -> None:
        self._shop, self._late = shop, late

    def clock_h(self, kept: Tried) -> float:
        """Return it of the late piece that gains least. [h]"""
        return min((hours_between(kept.ready(late.key), late.ready) for late in self._late), default=0.0)

    def working_h(self, kept: Tried) -> float:
        """Return it in time in which somebody works in the shop as it is. [h]"""
        return min(
            (working_hours_between(self._shop, kept.ready(late.key), late.ready) for late in self._late), default=0.0
        )


def _fitting(
    ways: Sequence[Way], tries: Tries, better: Callable[[Tried], float], gain: _Gain | None = None
) -> list[WouldFit]:
    """Return what helps, the nearest to what was asked for first, and of what is as near what is *better*."""
    fits: list[tuple[int, int, float, WouldFit]] = []
    for way in sorted(ways, key=lambda way: NEAREST.index(way.steps[0][0].kind)):
        best = tries.smallest(way, better)
        if best is None:
            continue
        change, kept = best
        gain_h = None if gain is None else gain.clock_h(kept)
        working_h = None if gain is None else gain.working_h(kept)
        fit = WouldFit(change.remedy, change.kind, kept.all_ready, gain_h, working_h, kept.in_time)
        fits.append((NEAREST.index(change.kind), change.distance, -better(kept), fit))
    return [fit for *_, fit in sorted(fits, key=lambda ranked: ranked[:3])]


def _with_booth(job: Job) -> Iterator[Way]:
    """Give a booth in the room where it is sprayed, where none does."""
    if not any(operation.sprays for piece in job.pieces for operation in piece.open):
        return
    name = Setting(job).rooms["spraying"]
    room, least = job.shop.rooms[name], job.catalogue.exhausts["booth"]
    if takes_what_burns(room.booth, job.catalogue) or least.face_m2 is None:
        return
    booth = Booth.model_construct(face_m2=least.face_m2, velocity_m_s=least.velocity_m_s)
    rooms = {**job.shop.rooms, name: room.model_copy(update={"booth": booth})}
    shop = job.shop.model_copy(update={"rooms": rooms})
    given = BoothGiven(name, booth.face_m2, booth.flow_m3_h, job.shop.units)
    yield Way.of(Change(given, "booth", lambda: replace(job, shop=shop)))
