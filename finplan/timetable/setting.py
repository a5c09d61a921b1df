"""What operations are placed in: slots of time, people's hours, the air and the rooms."""

from __future__ import annotations

import math
from array import array
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from functools import cache, lru_cache
from typing import NamedTuple

from finplan.catalogue import DryingPhase
from finplan.climate import Drying, Objection, Weather, air_table, drying_in
from finplan.inputs import Person, RoomUse, Shop
from finplan.itself import Itself
from finplan.scheduling import Rule, Slots
from finplan.timetable.apart import KeptApart
from finplan.timetable.calendar import WorkingCalendar, wall_clock, working_calendar
from finplan.timetable.dust import is_dusty, room_of, settling_h
from finplan.timetable.hours import Hours
from finplan.timetable.job import Job
from finplan.timetable.operation import STEP_MIN, Operation, all_operations
from finplan.timetable.stages import StageTime

LOOK_AHEAD_DAYS = 150
"""No plan reaches further: a start is looked for in this many days before the delivery, a finish in as many after."""
_DAYS_AN_OPERATION = 0.75
"""And a finish in so many more for each operation: where one thing lies on the rack at a time, much work takes long."""
FAR_DAYS = 800
"""For a delivery further away than this nothing is looked at but the LOOK_AHEAD_DAYS before it."""
SLOT_MIN = STEP_MIN
"""How long a slot is, however much is planned. [min]"""
_QUARTER_MIN = 15
_CHUNK = 24 * 60 // SLOT_MIN
"""The slots of a day: of so many together it is worked out when a coat is dry."""
USES: tuple[RoomUse, ...] = ("sanding", "assembly", "coating", "spraying", "drying")


class Setting:
    """The shop in slots from ``origin`` on. A slot is ``slot_min`` minutes long."""

    def __init__(self, job: Job) -> None:
        self.shop = job.shop
        self.catalogue = job.catalogue
        self.slot_min = SLOT_MIN
        earliest = job.earliest.astimezone(UTC)
        due = [moment.astimezone(UTC) for piece in job.pieces if (moment := job.delivery(piece)) is not None]
        far = bool(due) and min(due) - earliest > timedelta(days=FAR_DAYS)
        begins = min(due) - timedelta(days=LOOK_AHEAD_DAYS) if far else earliest
        self.from_earliest = not far
        """Whether the time from when work may start is looked at, and not only that before a delivery far away."""
        done = [moment.astimezone(UTC) for piece in job.pieces for moment in piece.done.values()]
        self.origin = _quarter_before(min([begins, *done]))
        last = max([begins, *due])
        days = (
            (last - self.origin).days
            + 1
            + LOOK_AHEAD_DAYS
            + int(_DAYS_AN_OPERATION * sum(len(piece.open) for piece in job.pieces))
        )
        self.first = self.slot_from(begins)
        """Nothing is done before this slot."""
        table = air_table(Weather(job.shop.climate, job.shop.time_zone), self.origin, days, job.measured)
        self.slots = table.end_min // self.slot_min
        there = {person.name: _there(Itself(job.shop), Itself(person), self.origin, days) for person in job.shop.people}
        self.calendars = {name: theirs.calendar for name, theirs in there.items()}
        self.spans = {name: theirs.spans for name, theirs in there.items()}
        self.hours = {name: theirs.hours for name, theirs in there.items()}
        self.anybody = _joined(span for spans in self.spans.values() for span in spans)
        """When somebody works."""
        self.shop_hours = Hours(self.anybody)
        worked_on = {span.start * self.slot_min // (24 * 60) for span in self.anybody}
        self.working_day = max(1, self.shop_hours.total // max(1, len(worked_on)))
        """For how long somebody works on a day on which anybody does. [slots]"""
        self._whole_up_to_min = 60 * job.catalogue.workmanship["common"].whole_up_to_h
        self._longest = {
            name: max((span.end - span.start for span in spans), default=0) for name, spans in self.spans.items()
        }
        self.skills = {person.name: frozenset(person.skills) for person in job.shop.people}
        self.coats_before = tuple((piece, coat) for piece in job.pieces for coat in piece.coats_on)
        """What was put on before, which may still be wet."""
        finishes = {operation.finish for piece in job.pieces for operation in piece.operations if operation.finish}
        self.drying = {name: drying_in(table, job.catalogue.finishes[name], job.catalogue) for name in finishes}
        self.rooms = {use: room_of(job.shop, use) for use in USES}
        self._apart = KeptApart(
            job.pieces, job.catalogue, self.rooms, len(job.shop.people), job.shop.lathes, self.slot_min
        )
        self.apart = cache(self._apart.of)
        """How an operation stands to others in its room that are not done beside it."""
        self.alone_with_old_paint = self._apart.with_old_paint
        """The rooms in which nobody else is while old paint is disturbed."""
        self._settling = {use: self._settling_slots(use) for use in ("coating", "spraying")}
        self._dusty_uses = {use: is_dusty(self.shop, use) for use in ("coating", "spraying")}
        self._air_waits_h = job.air_waits_h
        self.minds_dust = any(self._dusty_uses.values()) or bool(job.air_waits_h)
        """Whether dust is made in a room in which it has to be kept off something."""
        self.settling_slots = max(self._settling.values())
        """For how long after sanding no coat is begun that its dust gets to."""
        sanded = [
            self.slot_from(piece.done[operation.id])
            for piece in job.pieces
            for operation in piece.operations
            if operation.makes_dust and operation.id in piece.done
        ]
        self._sanded = max(sanded, default=None)
        """When the last sanding that has been done ended."""
        aired = [
            self.slot_from(piece.done[operation.id]) + self.airing(operation)
            for piece in job.pieces
            for operation in all_operations(piece.operations)
            if operation.finish is None and operation.id in piece.done and self.keeps_dust_off(operation)
        ]
        self._fit_for_dust = max(aired, default=None)
        """From when on the air is fit for dust, by what was wiped and cleaned with before."""
        self._allowed = cache(self._starts_in_air)
        self._starts_of = cache(self._starts_within)
        """Coats that are alike may start alike, and a window is looked at more than once."""
        self._why = cache(self._why_never)
        self.latest_end = cache(latest_end)
        """As ``latest_end``: the same is asked thousands of times."""

    # --- time -------------------------------------------------------------------------------------------------------

    def minute(self, moment: datetime) -> float:
        """Return a moment as minutes after the origin."""
        return (moment.astimezone(UTC) - self.origin).total_seconds() / 60

    def slot_from(self, moment: datetime) -> int:
        """Return the first slot that begins at a moment or later."""
        return math.ceil(self.minute(moment) / self.slot_min - 1e-9)

    def slot_up_to(self, moment: datetime) -> int:
        """Return the last slot that begins at a moment or earlier."""
        return math.floor(self.minute(moment) / self.slot_min + 1e-9)

    def clock(self, minute: float) -> datetime:
        """Return minutes after the origin as a time in the shop's zone."""
        return wall_clock(self.origin, minute, self.shop.time_zone)

    def clock_of_slot(self, slot: int) -> datetime:
        """Return when a slot begins, in the shop's zone."""
        return self.clock(slot * self.slot_min)

    def lifted(self, slot: int) -> int | None:
        """Return the first slot from *slot* on in which anybody is there; None for never."""
        index = bisect_right(self.anybody, slot, key=lambda span: span.end)
        return max(slot, self.anybody[index].start) if index < len(self.anybody) else None

    # --- work -------------------------------------------------------------------------------------------------------

    def slots_of(self, operation: Operation) -> int:
        """Return how many slots an operation takes."""
        return math.ceil(operation.work_min / self.slot_min)

    def who(self, operation: Operation) -> list[str]:
        """Return the people who can do an operation and have hours at all."""
        return [name for name, skills in self.skills.items() if operation.skill in skills and self.spans[name]]

    def pauses(self, operation: Operation, person: str) -> bool:
        """Return whether an operation pauses over breaks.

        One that should not does where no stretch is long enough for it and the cleaning up that follows at once. What
        takes a few minutes should not.
        """
        clean_up = 0 if operation.clean_up is None else self.slots_of(operation.clean_up)
        should = operation.pausable and operation.work_min > self._whole_up_to_min
        return should or self.slots_of(operation) + clean_up > self._longest[person]

    def room_of(self, operation: Operation) -> str:
        """Return the room in which an operation is done."""
        return self.rooms[operation.room_use]

    def is_dusty(self, coat: Operation) -> bool:
        """Return whether a coat is put on, or dries, in the room in which wood is sanded."""
        return self._dusty_uses["spraying" if coat.room_use == "spraying" else "coating"]

    def airing(self, operation: Operation) -> int:
        """Return how many slots after an operation its vapour keeps dust from being made, dry or not."""
        return math.ceil(self._air_waits_h.get(operation.id, 0.0) * 60 / self.slot_min - 1e-9)

    def keeps_dust_off(self, operation: Operation) -> bool:
        """Return whether nothing makes dust beside an operation: a coat that it would get to, or vapour."""
        if operation.finish is not None:
            return self.is_dusty(operation)
        return self.airing(operation) > 0 and not operation.makes_dust

    def settling(self, operation: Operation) -> int:
        """Return how many slots after any sanding an operation may begin: 0 but for a coat that dust gets to."""
        return 0 if operation.finish is None else self._settling[operation.room_use]

    def _settling_slots(self, use: RoomUse) -> int:
        return math.ceil(settling_h(self.shop, self.catalogue, use) * 60 / self.slot_min - 1e-9)

    # --- drying -----------------------------------------------------------------------------------------------------

    def end_min(self, operation: Operation, end: int) -> float:
        """Return the minute at which an operation that ends with a slot really ends: slots are rounded up."""
        return float(end * self.slot_min - (self.slots_of(operation) * self.slot_min - operation.work_min))

    def dry_slot(self, operation: Operation, end: int, stage: StageTime) -> int | None:
        """Return the first slot at which a coat has typically reached a stage; None for never."""
        drying = self.drying_of(operation)
        reached = drying.reached(end * self.slot_min, stage.phase, stage.hours.typical, operation.thickness)
        return None if reached is None else math.ceil(reached / self.slot_min - 1e-9)

    def dry_slots(self, operation: Operation, stage: StageTime) -> Rule:
        """Return ``dry_slot`` as a rule of the end: of all slots of a day it is worked out at once."""
        return _dry(self.drying_of(operation), stage.phase, stage.hours.typical, operation.thickness)

    def limit_slot(self, operation: Operation, end: int) -> int | None:
        """Return the last slot before a coat is too hard to go on without abrading; None for never."""
        closes = self.drying_of(operation).recoat_closes(self.end_min(operation, end))
        return None if closes is None else math.floor(closes / self.slot_min + 1e-9)

    def drying_of(self, operation: Operation) -> Drying:
        """Return the drying of what an operation puts on."""
        return self.drying[operation.coated_with]

    def starts(self, operation: Operation, *, first: int, last: int) -> tuple[Slots, ...] | None:
        """Return the slots in which the air lets an operation start, also its dust; None where it does not matter.

        What has to be looked at again is over while somebody is there for long enough.
        """
        watched = self._watched(operation, first, last) if operation.watch_h else None
        if watched is not None:
            fit = self._fit_for_dust or first
            return tuple(Slots(max(slots.start, fit), slots.end) for slots in watched if fit < slots.end)
        if operation.makes_dust and self._fit_for_dust is not None:
            first = max(first, self._fit_for_dust)
            return (Slots(first, last),) if first < last else ()
        cold_from = self._apart.cold_from(operation)
        if cold_from is not None:
            first = max(first, self.slot_from(cold_from))
        if operation.finish is None:
            return None if cold_from is None else (Slots(first, last),) if first < last else ()
        if self._sanded is not None:
            first = max(first, self._sanded + self.settling(operation))
        pausing = any(self.pauses(operation, person) for person in self.who(operation))
        duration_min = 0 if pausing else operation.work_min
        return self._starts_of(operation.finish, duration_min, operation.thickness, first, last)

    def _watched(self, operation: Operation, first: int, last: int) -> tuple[Slots, ...] | None:
        """Return the slots in which an operation can start that is looked at again; None where nobody ever could.

        That is done no sooner than asked after its end, and no later: after a break, not after a night.
        """
        slots = self.slots_of(operation)
        watch, by = (
            math.ceil(hours * 60 / self.slot_min - 1e-9) for hours in (operation.watch_h, operation.watch_by_h)
        )
        people = self.who(operation)
        if any(self.pauses(operation, person) for person in people):
            return None
        spans = (Slots(span.start - by - slots, span.end - watch - slots + 1) for span in self.anybody)
        allowed = _joined(Slots(max(first, span.start), min(last, span.end)) for span in spans)
        starts = tuple(span for span in allowed if span.start < span.end)
        worked = [Slots(span.start, span.end - slots + 1) for person in people for span in self.spans[person]]
        can = any(span.start < shift.end and shift.start < span.end for span in starts for shift in worked)
        return starts if can else None

    def _starts_within(
        self, finish: str, duration_min: int, thickness: float, first: int, last: int
    ) -> tuple[Slots, ...]:
        allowed = self._allowed(finish, duration_min, thickness)
        begin = bisect_right(allowed, first, key=lambda span: span.end)
        end = bisect_left(allowed, last, key=lambda span: span.start)
        cut = (Slots(max(first, span.start), min(last, span.end)) for span in allowed[begin:end])
        return tuple(span for span in cut if span.start < span.end)

    def _starts_in_air(self, finish: str, duration_min: int, thickness: float) -> tuple[Slots, ...]:
        """Return the slots of all that is looked at in which the air lets a coat begin, in stretches."""
        allowed: list[Slots] = []
        free = 0
        for begins, ends in self.drying[finish].refused(self.slot_min, duration_min, thickness):
            if free < begins:
                allowed.append(Slots(free, begins))
            free = max(free, ends)
        return (*allowed, Slots(free, self.slots)) if free < self.slots else tuple(allowed)

    def why_not(self, operation: Operation) -> Objection | None:
        """Return what most often objects to a coat while somebody is there who does it; None where nothing does."""
        return self._why(operation.coated_with, operation.thickness, tuple(self.who(operation)))

    def _why_never(self, finish: str, thickness: float, who: tuple[str, ...]) -> Objection | None:
        objections: list[Objection] = []
        for span in _joined(span for name in who for span in self.spans[name]):
            for slot in range(max(self.first, span.start), min(span.end, self.slots)):
                if slot * self.slot_min % 60 == 0:
                    objection = self.drying[finish].objection(slot * self.slot_min, None, thickness)
                    if objection is None:
                        return None
                    objections.append(objection)
        return Counter(objections).most_common(1)[0][0] if objections else None


def latest_end(rule: Rule | None, moment: int) -> int:
    """Return the latest end that a rule lets be followed at a moment."""
    if rule is None:
        return moment
    back = _CHUNK
    while (first := moment - back) > 0 and ((until := rule(first)) is None or until > moment):
        back *= 2
    first = max(first, 0)
    ends = range(first, moment + 1)
    return first + bisect_right(ends, False, key=lambda end: (until := rule(end)) is None or until > moment) - 1


class _There(NamedTuple):
    """When a person is there."""

    calendar: WorkingCalendar
    spans: tuple[Slots, ...]
    hours: Hours


@lru_cache(maxsize=64)
def _there(shop: Itself[Shop], person: Itself[Person], origin: datetime, days: int) -> _There:
    calendar = working_calendar(shop.it, person.it, origin, days)
    spans = (Slots(-(-stretch.start_min // SLOT_MIN), stretch.end_min // SLOT_MIN) for stretch in calendar.stretches)
    open_ = tuple(span for span in spans if span.start < span.end)
    return _There(calendar, open_, Hours(open_))


@lru_cache(maxsize=256)
def _dry(drying: Drying, phase: DryingPhase, hours: float, thickness: float) -> Rule:
    """Return when a coat is so dry as a rule of its end; of one drying it is the same rule, whoever asks."""
    import numpy as np

    days: dict[int, array[int]] = {}
    step_min = float(SLOT_MIN)

    def of_day(day: int) -> array[int]:
        reached = drying.reached_in_turn(day * _CHUNK * step_min, step_min, _CHUNK, phase, hours, thickness)
        slots = np.ceil(np.where(np.isinf(reached), -step_min, reached) / step_min - 1e-9)
        return array("i", slots.astype(np.intc).tobytes())

    def dry(end: int) -> int | None:
        day, slot = divmod(end, _CHUNK)
        if day not in days:
            days[day] = of_day(day)
        moment = days[day][slot]
        return None if moment < 0 else moment

    return dry


def _joined(spans: Iterable[Slots]) -> tuple[Slots, ...]:
    """Return spans in order, those that touch or overlap as one."""
    joined: list[Slots] = []
    for span in sorted(spans, key=lambda slots: slots.start):
        if joined and span.start <= joined[-1].end:
            joined[-1] = Slots(joined[-1].start, max(joined[-1].end, span.end))
        else:
            joined.append(span)
    return tuple(joined)


def _quarter_before(moment: datetime) -> datetime:
    return moment.replace(minute=moment.minute // _QUARTER_MIN * _QUARTER_MIN, second=0, microsecond=0)
