"""The timetable: as late as is safe before the delivery, or as early as can be where there is none."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.climate import Drying, Weather, air_table
from finplan.inputs import Shop
from finplan.reading import Calendar
from finplan.surface import PieceSurface
from finplan.system import Treatment
from finplan.timetable.calendar import wall_clock, working_calendar
from finplan.timetable.operation import STEP_MIN, Operation
from finplan.timetable.schedule import Placed, Setting, Stuck, place

LOOK_AHEAD_DAYS = 150
"""No plan reaches further: a start is looked for in this many days before the delivery, a finish in as many after."""
REFINE_MIN = 15
_LAST_MINUTE = 24 * 60 - 1
HANGING_SHAPES = frozenset({"turned", "square-leg", "rod", "moulding"})
Status = Literal["optimal", "feasible", "impossible"]


@dataclass(frozen=True, slots=True)
class TimetableStep:
    """A stretch of a person's work, or of drying. Times know their zone."""

    id: str
    piece: str
    item: str
    step: str
    kind: Literal["attended", "drying"]
    start: datetime
    end: datetime
    person: str | None
    room: str
    next_from: datetime | None
    next_until: datetime | None
    still_below_c: float | None = None
    """Where it is at some time too cold to dry: below which temperature it then stands still. [°C]"""


@dataclass(frozen=True, slots=True)
class WouldFit:
    """A change that makes the plan fit, tried, and when it would be ready."""

    change: str
    ready: datetime


@dataclass(frozen=True, slots=True)
class Clash:
    """A requirement that cannot be kept, and by how much."""

    requirement: str
    short_by_h: float | None
    would_fit: tuple[WouldFit, ...]


@dataclass(frozen=True, slots=True)
class Timetable:
    """Who does what when.

    ``gap_h`` is how much later it might at best still start, or without a delivery, be ready earlier; ``optimal`` where
    that is less than the quarter of an hour in which starts are tried.
    """

    status: Status
    start: datetime | None
    latest_safe_start: datetime | None
    ready: datetime | None
    deliver: datetime | None
    buffer_h: float | None
    buffer_wanted_h: float
    gap_h: float | None
    steps: tuple[TimetableStep, ...]
    cured: tuple[tuple[str, datetime], ...]
    """Per item, when its finish has cured fully."""
    clashes: tuple[Clash, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """What the timetable is made for."""

    piece: str
    treatments: tuple[Treatment, ...]
    operations: tuple[Operation, ...]
    surface: PieceSurface
    catalogue: Catalogue
    shop: Shop
    deliver: Calendar | None
    earliest: datetime


def delivery_time(deliver: Calendar | None, shop: Shop) -> datetime | None:
    """Return the moment of delivery; a date without a time is the end of work on such a day of the week."""
    if deliver is None:
        return None
    weeks = [person.hours for person in shop.people]
    that_day = [shift.end_min for hours in weeks for shift in hours[deliver.day.weekday()]]
    any_day = [shift.end_min for hours in weeks for day in hours for shift in day]
    close = min(max(that_day or any_day, default=_LAST_MINUTE), _LAST_MINUTE)
    at = deliver.clock or time(close // 60, close % 60)
    return datetime.combine(deliver.day, at, tzinfo=shop.time_zone)


class Placing:
    """The plan of one job in one shop, from any start. Minutes are counted from ``origin``."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.deliver = delivery_time(job.deliver, job.shop)
        origin = job.earliest.astimezone(UTC)
        days = LOOK_AHEAD_DAYS
        if self.deliver is not None and self.deliver > origin:
            origin = max(origin, self.deliver.astimezone(UTC) - timedelta(days=LOOK_AHEAD_DAYS))
            days += (self.deliver.astimezone(UTC) - origin).days + 1
        self.origin = _next_quarter(origin)
        table = air_table(Weather(job.shop.climate, job.shop.time_zone), self.origin, days)
        calendars = tuple(working_calendar(job.shop, person, self.origin, days) for person in job.shop.people)
        finishes = {op.finish for op in job.operations if op.finish}
        rooms = {
            use: job.shop.room_for(use) or job.shop.room_for("coating") or ""
            for use in ("sanding", "coating", "spraying", "drying")
        }
        self.setting = Setting(
            calendars=calendars,
            skills={person.name: frozenset(person.skills) for person in job.shop.people},
            drying={name: Drying(job.catalogue.finishes[name], job.catalogue, table) for name in finishes},
            rooms=rooms,
            needs=_rack_needs(job),
            places=job.shop.rack.places,
            hooks=job.shop.rack.hooks,
            end_min=table.end_min,
        )
        by_item: dict[str, list[Operation]] = {}
        for operation in job.operations:
            by_item.setdefault(operation.item, []).append(operation)
        # Where faces of an item get several systems, all its bare wood is sanded before the first coat is wet.
        self.chains = [sorted(chain, key=_after_bare_wood) for chain in by_item.values()]

    def from_minute(
        self,
        minute: int,
        chains: Sequence[Sequence[Operation]] | None = None,
        *,
        until_min: float = math.inf,
    ) -> tuple[Placed, ...] | Stuck:
        """Return everything placed from *minute* on, none of it later than *until_min*."""
        return place(self.chains if chains is None else chains, minute, self.setting, until_min=until_min)

    def ready_min(self, placed: Sequence[Placed]) -> float:
        """Return when the last item may be handed over: its last coat fit for light use. [min]"""
        return max((self.fit_min(one) for one in placed), default=0.0)

    def fit_min(self, one: Placed) -> float:
        """Return when an operation's result is fit for light use. [min]"""
        if one.operation.finish is None:
            return float(one.end_min)
        drying = self.setting.drying[one.operation.finish]
        fit = drying.reached(one.end_min, (drying.finish.light_use_h or drying.finish.handle_h).typical)
        return float(self.setting.end_min) if fit is None else float(-(-fit // STEP_MIN) * STEP_MIN)

    def starts(self) -> list[int]:
        """Return the minutes at which a stretch of anybody's work begins, in order."""
        return sorted({stretch.start_min for calendar in self.setting.calendars for stretch in calendar.stretches})

    def working_min(self, start_min: float, end_min: float) -> float:
        """Return the working time of all people between two minutes. [min]"""
        return sum(calendar.work_min(start_min, end_min) for calendar in self.setting.calendars)

    def clock(self, minute: float) -> datetime:
        """Return a minute as a time in the shop's zone."""
        return wall_clock(self.origin, minute, self.job.shop.time_zone)

    def minute(self, moment: datetime) -> float:
        """Return a time as a minute."""
        return (moment.astimezone(UTC) - self.origin).total_seconds() / 60


def _after_bare_wood(operation: Operation) -> bool:
    return not operation.on_bare_wood


def _next_quarter(moment: datetime) -> datetime:
    """Return the next full quarter of an hour: nobody plans for 8:01."""
    whole = moment.replace(minute=moment.minute // REFINE_MIN * REFINE_MIN, second=0, microsecond=0)
    return whole if whole == moment else whole + timedelta(minutes=REFINE_MIN)


def _rack_needs(job: Job) -> dict[str, tuple[int, int]]:
    """Return the flat places and hooks of every item: an assembly hangs from one hook, loose parts as they are."""
    counts = {part.part: (part.shape, part.count) for part in job.surface.parts}
    needs: dict[str, tuple[int, int]] = {}
    for treatment in job.treatments:
        if len(treatment.parts) > 1:
            needs[treatment.item] = (0, 1)
            continue
        shape, count = counts[treatment.parts[0]]
        needs[treatment.item] = (0, count) if shape in HANGING_SHAPES else (count, 0)
    return needs


def buffer_wanted_h(shop: Shop, plan_h: float) -> float:
    """Return the buffer wanted: the shop's, else one day for each week of plan and at least half a day. [h]

    The rule for a shop that says nothing is common practice, not published.
    """
    if shop.buffer_h is not None:
        return shop.buffer_h
    return max(12.0, 24.0 * plan_h / (7 * 24.0))


Found = tuple[int, tuple[Placed, ...]]
"""A start and the plan that begins with it. [min]"""


def latest_start(
    placing: Placing, chains: Sequence[Sequence[Operation]] | None, buffer_h: float | None
) -> Found | None:
    """Return the latest start from which everything is ready in time, with its plan, or None where there is none.

    Looked for back from the delivery in growing strides over the beginnings of work, then by halving, first between
    two of those and then between quarters of an hour. That takes a later start for never the better one; where it is
    not so, by a weekend say, an earlier start than the latest may be found, and the gap tells.

    Parameters
    ----------
    placing
        The job
    chains
        What is to be placed; None for everything
    buffer_h
        What is to be left before the delivery; None for what the shop wants of a plan that long. [h]
    """
    if placing.deliver is None:
        return None
    due_min = placing.minute(placing.deliver)
    begins = [start for start in placing.starts() if start < due_min]

    def in_time(start_min: int) -> Found | None:
        return _in_time(placing, chains, start_min, due_min, buffer_h)

    stride, late, early = 1, len(begins), len(begins) - 1
    found = in_time(begins[early]) if begins else None
    while found is None and early > 0:
        late, early, stride = early, max(0, early - stride), stride * 2
        found = in_time(begins[early])
    if found is None:
        return None
    _, found = _latest_of(begins[early:late], found, in_time)
    following = begins[late] if late < len(begins) else due_min
    quarters = range(found[0], int(following), REFINE_MIN)
    return _latest_of(quarters, found, in_time)[1]


def _latest_of(starts: Sequence[int], found: Found, in_time: Callable[[int], Found | None]) -> tuple[int, Found]:
    """Return the last of *starts* that is in time, by halving; the first is known to be, with *found*."""
    low, high = 0, len(starts)
    while high - low > 1:
        middle = (low + high) // 2
        tried = in_time(starts[middle])
        if tried is None:
            high = middle
        else:
            low, found = middle, tried
    return low, found


def _in_time(
    placing: Placing,
    chains: Sequence[Sequence[Operation]] | None,
    start_min: int,
    due_min: float,
    buffer_h: float | None,
) -> Found | None:
    placed = placing.from_minute(start_min, chains, until_min=due_min)
    if isinstance(placed, Stuck) or not placed:
        return None
    ready_min = placing.ready_min(placed)
    plan_h = (ready_min - placed[0].start_min) / 60
    wanted_h = buffer_wanted_h(placing.job.shop, plan_h) if buffer_h is None else buffer_h
    return (placed[0].start_min, placed) if ready_min + wanted_h * 60 <= due_min + 1e-6 else None
