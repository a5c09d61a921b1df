"""Why a job does not fit, by how much, and the smallest changes with which it would: each of them tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.inputs import Booth, Climate, DayAir, DayAndNight, NightAir, Rack, Room, Shift, Shop, proper
from finplan.showing import show_area, show_flow
from finplan.timetable.blocked import blocked
from finplan.timetable.calendar import hours_between
from finplan.timetable.found import NotFoundYetError
from finplan.timetable.job import Job
from finplan.timetable.setting import Setting
from finplan.timetable.solve import Planner, Progress
from finplan.timetable.timetable import Clash, WouldFit

_TRY_S = 10.0
"""A change that is not shown to fit in this time, or in what is left of all of it, is not offered."""
_SATURDAY = 5
_EVENING_MIN = 120
_ENOUGH = 10_000


@dataclass(frozen=True, slots=True)
class Change:
    """Something that a maker could change, with the job as it then is; None where that cannot be had."""

    words: str
    job: Callable[[], Job | None]


def clashes(
    planner: Planner,
    changes: Callable[[], Sequence[Change]],
    *,
    progress: Progress | None = None,
    help_out: bool = True,
) -> tuple[Clash, ...]:
    """Return what clashes with the dates of a job that does not fit, for every piece that comes too late.

    Parameters
    ----------
    planner
        Of the job, for which no plan exists
    changes
        Gives what else could be changed than the dates, the hours, the night and the rack
    progress
        Told what is being tried
    help_out
        Whether to try what would make it fit
    """
    least = planner.least_late()
    if least is None:
        weeks = round(planner.setting.slots * planner.setting.slot_min / (7 * 24 * 60))
        stuck = f": {planner.stuck}" if planner.stuck else ""
        return (Clash(f"everything done within {weeks} weeks{stuck}", None),)
    open_ = "; that no plan can is not proven" if planner.undecided else ""
    tries = _Tries(lambda: planner.left_s)
    also = _also_clashing(planner.job, tries) if help_out else ""
    fits = tuple(_fitting(planner.job, tries.unless_late(changes), tries, progress)) if help_out else ()
    open_ += tries.left_out
    late: list[tuple[str, datetime, datetime]] = []
    for piece in planner.job.pieces:
        deliver = planner.job.delivery(piece)
        ready = planner.setting.clock_of_slot(planner.ready_slot(piece, least))
        if deliver is not None and ready > deliver:
            late.append(("" if len(planner.job.pieces) == 1 else f" {piece.piece}", deliver, ready))
    dates = " and ".join(f"deliver{of_piece} on {ready:%Y-%m-%d %H:%M} or later" for of_piece, _, ready in late)
    later = WouldFit(dates, max((ready for _, _, ready in late), default=planner.job.earliest))
    found: list[Clash] = []
    for of_piece, deliver, ready in late:
        passed = ", which has passed" if deliver < planner.job.earliest else ""
        requirement = f"deliver{of_piece} by {deliver:%Y-%m-%d %H:%M}{passed}{also}{open_}"
        found.append(Clash(requirement, hours_between(deliver, ready), (later, *fits)))
    return tuple(found)


class _Tries:
    """Plans jobs that a maker could change theirs to, for as long as something is left of the time."""

    def __init__(self, left_s: Callable[[], float]) -> None:
        self._left_s = left_s
        self.left_out = ""
        """What to say where the time was over before all was tried."""

    def unless_late(self, changes: Callable[[], Sequence[Change]]) -> Sequence[Change]:
        """Return what could be changed, which takes time to work out; nothing where none is left."""
        return changes() if self._left_s() > 0 else ()

    def ready(self, job: Job) -> datetime | None:
        """Return when the last piece is ready in a plan that keeps all dates; None where none is found."""
        planner = self._planner(job)
        try:
            found = None if planner is None else planner.early(dated=True, tidy=False)
        except NotFoundYetError:
            found = None
        if planner is None or found is None:
            return None
        return planner.setting.clock_of_slot(max(planner.ready_slot(piece, found) for piece in job.pieces))

    def keeps_dates(self, job: Job) -> bool:
        """Return whether a plan is found that keeps all dates."""
        planner = self._planner(job)
        try:
            return planner is not None and planner.keeps_dates()
        except NotFoundYetError:
            return False

    def _planner(self, job: Job) -> Planner | None:
        """Return what plans a job; None where it is blocked, or nothing is left of the time."""
        left_s = self._left_s()
        if left_s <= 0:
            self.left_out = "; not all that may help was tried in the time given"
            return None
        planner = Planner(job, limit_s=min(_TRY_S, left_s))
        return None if blocked(job, planner.setting) else planner


# --- what clashes with the date -------------------------------------------------------------------------------------


def _also_clashing(job: Job, tries: _Tries) -> str:
    """Return what else of the shop stands in the way: with any one of these gone, the dates could be kept.

    Found by leaving out one after the other what a shop could be without, and keeping those without which it fits.
    """
    relaxed = list(_relaxations(job))
    if not relaxed or not tries.keeps_dates(replace(job, shop=_without(job.shop, relaxed))):
        return ""
    needed = list(relaxed)
    for one in relaxed:
        fewer = [other for other in needed if other is not one]
        if tries.keeps_dates(replace(job, shop=_without(job.shop, fewer))):
            needed = fewer
    return "".join(f", with {words}" for words, _ in needed)


Relaxation = tuple[str, Callable[[Shop], Shop]]


def _without(shop: Shop, relaxed: Sequence[Relaxation]) -> Shop:
    for _, change in relaxed:
        shop = change(shop)
    return shop


def _relaxations(job: Job) -> Iterator[Relaxation]:
    shop = job.shop
    rack = shop.rack
    yield (
        f"a rack of {rack.places} places and {rack.hooks} hooks",
        lambda one: one.model_copy(update={"rack": Rack.model_construct(places=_ENOUGH, hooks=_ENOUGH)}),
    )
    sanding = shop.room_for("sanding")
    if sanding is not None and sanding in (shop.room_for("coating"), shop.room_for("drying")):
        yield f"sanding and wet coats in one room, {sanding}", _with_a_dusty_room
    lost = frozenset() if job.lost_day is None else frozenset({job.lost_day})
    if lost:
        yield f"nobody at work on {job.lost_day}", lambda one: one.model_copy(update={"closed": one.closed - lost})
    if shop.closed - lost:
        yield "the closed days", lambda one: one.model_copy(update={"closed": one.closed & lost})
    if shop.holidays:
        yield "the public holidays", lambda one: one.model_copy(update={"holidays": None})


def _with_a_dusty_room(shop: Shop) -> Shop:
    bare = dict.fromkeys(("volume_ml", "air_changes", "fan_m3_h", "booth", "extraction"))
    room = Room.model_construct(for_=("sanding", "assembly"), **bare)
    return shop.model_copy(update={"rooms": {" a room for sanding": room, **shop.rooms}})


# --- what would make it fit -----------------------------------------------------------------------------------------


def unblocked(
    planner: Planner,
    stuck: Sequence[Clash],
    changes: Callable[[], Sequence[Change]],
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
    changes
        Gives what else could be changed than the hours and the air
    progress
        Told what is being tried
    """
    job, tries = planner.job, _Tries(lambda: planner.left_s)
    fits = tuple(_fitting(job, [*_with_booth(job), *tries.unless_late(changes), *_heated(job)], tries, progress))
    return tuple(replace(clash, would_fit=fits) for clash in stuck)


def _fitting(job: Job, changes: Sequence[Change], tries: _Tries, progress: Progress | None) -> Iterator[WouldFit]:
    for change in [*changes, *_changes_of_shop(job)]:
        if progress is not None:
            progress(f"trying: {change.words}")
        other = change.job()
        ready = None if other is None else tries.ready(other)
        if ready is not None:
            yield WouldFit(change.words, ready)
    yield from _warmer_night(job, tries)


def _changes_of_shop(job: Job) -> Iterator[Change]:
    for index, person in enumerate(job.shop.people):
        usual = next((hours for hours in person.hours if hours), ())
        if usual and not person.hours[_SATURDAY]:
            week = (*person.hours[:_SATURDAY], usual, person.hours[_SATURDAY + 1])
            yield _with_hours(job, index, week, f"{person.name} works on Saturdays")
    first = job.shop.people[0]
    longer = tuple((*hours[:-1], _longer(hours[-1])) if hours else () for hours in first.hours)
    yield _with_hours(job, 0, longer, f"{first.name} works two hours longer each day")


def _longer(shift: Shift) -> Shift:
    return Shift(shift.start_min, shift.end_min + _EVENING_MIN)


def _with_hours(job: Job, index: int, week: tuple[tuple[Shift, ...], ...], words: str) -> Change:
    people = list(job.shop.people)
    people[index] = people[index].model_copy(update={"hours": week})
    shop = job.shop.model_copy(update={"people": tuple(people)})
    return Change(words, lambda: replace(job, shop=shop))


def _warmer_night(job: Job, tries: _Tries) -> Iterator[WouldFit]:
    """Give the least whole degrees by which warmer nights make it fit, up to the temperature of the day."""
    highest = _degrees_to_day(job.shop.climate)
    if highest < 1:
        return
    tried = {highest: tries.ready(_with_nights(job, highest))}
    if tried[highest] is None:
        return
    low, high = 0, highest
    while high - low > 1:
        middle = (low + high) // 2
        tried[middle] = tries.ready(_with_nights(job, middle))
        low, high = (low, middle) if tried[middle] is not None else (middle, high)
    ready = tried[high]
    if ready is not None:
        night = job.shop.climate.night
        words = f"nights {high} °C warmer" if night is None else f"keep {night.temperature_c + high:g} °C at night"
        yield WouldFit(words, ready)


def _with_booth(job: Job) -> Iterator[Change]:
    """Give a booth in the room where it is sprayed, where none does."""
    if not any(operation.sprays for piece in job.pieces for operation in piece.open):
        return
    name = Setting(job).rooms["spraying"]
    room, least = job.shop.rooms[name], job.catalogue.exhausts["booth"]
    if proper(room.booth, job.catalogue) or least.face_m2 is None:
        return
    booth = Booth.model_construct(face_m2=least.face_m2, velocity_m_s=least.velocity_m_s)
    rooms = {**job.shop.rooms, name: room.model_copy(update={"booth": booth})}
    shop = job.shop.model_copy(update={"rooms": rooms})
    draws = f"{show_area(booth.face_m2, job.shop.units)} of face drawing {show_flow(booth.flow_m3_h, job.shop.units)}"
    yield Change(f"a spray booth in {name}, {draws}", lambda: replace(job, shop=shop))


def _heated(job: Job) -> Iterator[Change]:
    """Give a shop that is never colder than the finishes ask, where it is now."""
    limits = [
        job.catalogue.finishes[one.finish].apply.temperature_c.low
        for piece in job.pieces
        for one in piece.open
        if one.finish is not None
    ]
    climate = job.shop.climate
    pairs = list(climate.months.values()) if climate.months else [climate]
    air = [one for pair in pairs for one in (pair.day, pair.night) if one is not None]
    lowest_c = max(limits, default=-math.inf)
    if not air or min(one.temperature_c for one in air) >= lowest_c:
        return

    def heated(one: DayAir | NightAir) -> DayAir | NightAir:
        return one.model_copy(update={"temperature_c": max(one.temperature_c, lowest_c)})

    months = climate.months and {
        number: pair.model_copy(update={"day": heated(pair.day), "night": heated(pair.night)})
        for number, pair in climate.months.items()
    }
    day, night = climate.day and heated(climate.day), climate.night and heated(climate.night)
    changed = climate.model_copy(update={"day": day, "night": night, "months": months})
    shop = job.shop.model_copy(update={"climate": changed})
    yield Change(f"keep at least {lowest_c:g} °C day and night", lambda: replace(job, shop=shop))


def _degrees_to_day(climate: Climate) -> int:
    pairs = list(climate.months.values()) if climate.months else []
    if climate.day is not None and climate.night is not None:
        pairs.append(DayAndNight.model_construct(day=climate.day, night=climate.night))
    return max((int(pair.day.temperature_c - pair.night.temperature_c) for pair in pairs), default=0)


def _with_nights(job: Job, degrees: int) -> Job:
    """Return a job in a shop whose nights are so much warmer, but no warmer than the days, with no more moisture."""
    climate = job.shop.climate
    night = None if climate.night is None or climate.day is None else _warmer(climate.day, climate.night, degrees)
    months = None
    if climate.months is not None:
        months = {
            number: DayAndNight.model_construct(day=pair.day, night=_warmer(pair.day, pair.night, degrees))
            for number, pair in climate.months.items()
        }
    changed = Climate.model_construct(day=climate.day, night=night, months=months, log=None)
    return replace(job, shop=job.shop.model_copy(update={"climate": changed}))


def _warmer(day: DayAir, night: NightAir, degrees: int) -> NightAir:
    temperature_c = max(night.temperature_c, min(night.temperature_c + degrees, day.temperature_c))
    # Heating dries the air at most to what it is by day.
    humidity_pct = night.humidity_pct if temperature_c < day.temperature_c else day.humidity_pct
    return NightAir.model_construct(temperature_c=temperature_c, humidity_pct=min(humidity_pct, night.humidity_pct))
