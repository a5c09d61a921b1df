"""Operations placed one after another at the earliest time that hours, air, rooms and rack allow."""

from __future__ import annotations

import math
from bisect import bisect_right, insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from heapq import heapify, heappop, heappush

from finplan.climate import Drying
from finplan.timetable.calendar import Stretch, WorkingCalendar
from finplan.timetable.operation import STEP_MIN, Operation

_TRY_EVERY_MIN = 15
_WORTH_STARTING_MIN = 30
_STUMP_MIN = 15
"""Work that may pause is not begun for less than half an hour, and no less than a quarter of one is left of it."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What the operations are placed in. ``rooms`` says which room serves which use."""

    calendars: tuple[WorkingCalendar, ...]
    skills: dict[str, frozenset[str]]
    drying: dict[str, Drying]
    rooms: dict[str, str]
    needs: dict[str, tuple[int, int]]
    """Rack places and hooks that an item takes while it is wet."""
    places: int
    hooks: int
    end_min: int


@dataclass(frozen=True, slots=True)
class Placed:
    """An operation with its person, its stretches of work, and when the coat it puts on reaches its stages."""

    operation: Operation
    person: str
    stretches: tuple[Stretch, ...]
    dust_free_min: float | None = None
    next_from_min: float | None = None
    next_until_min: float | None = None

    @property
    def start_min(self) -> int:
        """The first minute of work."""
        return self.stretches[0].start_min

    @property
    def end_min(self) -> int:
        """The last minute of work."""
        return self.stretches[-1].end_min


@dataclass(frozen=True, slots=True)
class Stuck:
    """An operation for which no time was found, and why."""

    operation: Operation
    reason: str


@dataclass
class _Board:
    """What is placed so far."""

    busy: dict[str, list[Stretch]] = field(default_factory=dict)
    dust: dict[str, list[Stretch]] = field(default_factory=dict)
    wet: dict[str, list[Stretch]] = field(default_factory=dict)
    resting: list[tuple[str, Stretch]] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    now_min: int = 0
    """Where the last operation was placed: nothing is placed earlier any more."""

    def advance(self, minute: int) -> None:
        """Go on to *minute*, and drop what ended before: it is in nobody's way."""
        self.now_min = minute
        self.resting = [(item, rest) for item, rest in self.resting if rest.end_min > minute]
        for stretches in (self.busy, self.dust, self.wet):
            for name, listed in stretches.items():
                stretches[name] = [stretch for stretch in listed if stretch.end_min > minute]


@dataclass
class _Chain:
    """The operations of one item that are still to be placed."""

    left: list[Operation]
    ready_min: float
    until_min: float | None = None
    """After this the coat below must be abraded again."""
    last_coat: Placed | None = None
    blocked: str = ""


def place(
    chains: Sequence[Sequence[Operation]], start_min: int, setting: Setting, *, until_min: float = math.inf
) -> tuple[Placed, ...] | Stuck:
    """Return all operations placed from *start_min* on, or the first for which there is no time.

    Always places the operation that can start first; of several, sanding before coating, then that of the longest
    chain. A coat that cannot be put on before the coat below must be abraded gets that abrading.

    Parameters
    ----------
    chains
        The operations of each item, in order
    start_min
        Nothing starts before. [min]
    setting
        Hours, air, rooms and rack
    until_min
        Nothing may start after; for a caller who has no use for a later plan. [min]
    """
    board = _Board()
    open_chains = [_Chain(list(chain), float(start_min)) for chain in chains if chain]
    # What is placed only ever delays the rest, so a key in the heap is never later than the true one: whoever comes
    # first with an up-to-date key really is first.
    heap: list[tuple[tuple[float, int, int], int]] = [
        ((chain.ready_min, 0, 0), n) for n, chain in enumerate(open_chains)
    ]
    heapify(heap)
    while heap:
        _, number = heappop(heap)
        chain = open_chains[number]
        found = _earliest(chain, board, setting)
        if found is None:
            return Stuck(chain.left[0], chain.blocked or "there is no working time left for it")
        if found.start_min > until_min:
            return Stuck(chain.left[0], "it would start too late")
        if chain.until_min is not None and found.operation.finish and found.start_min > chain.until_min:
            chain.left.insert(0, found.operation.abrading_again())
            chain.until_min = None
            heappush(heap, ((chain.ready_min, 0, 0), number))
            continue
        tail_min = sum(operation.work_min for operation in chain.left)
        key = (found.start_min, 0 if found.operation.makes_dust else 1, -tail_min)
        if heap and (key, number) > heap[0]:
            heappush(heap, (key, number))
            continue
        _commit(chain, found, board, setting)
        if chain.left:
            heappush(heap, ((chain.ready_min, 0, -tail_min), number))
    return tuple(sorted(board.placed, key=lambda one: (one.start_min, one.operation.id)))


def _earliest(chain: _Chain, board: _Board, setting: Setting) -> Placed | None:
    operation = chain.left[0]
    choices = []
    for calendar in setting.calendars:
        if operation.skill not in setting.skills[calendar.person]:
            continue
        found = _earliest_of(operation, chain, calendar, board, setting)
        if found is not None:
            choices.append(found)
    if not choices and not any(operation.skill in skills for skills in setting.skills.values()):
        chain.blocked = f"nobody in the shop does {operation.skill}"
    return min(choices, key=lambda one: (one.end_min, one.start_min), default=None)


def _earliest_of(
    operation: Operation, chain: _Chain, calendar: WorkingCalendar, board: _Board, setting: Setting
) -> Placed | None:
    minute = _rounded_up(max(chain.ready_min, board.now_min))
    drying = setting.drying[operation.finish] if operation.finish else None
    pausable = operation.pausable or operation.work_min > calendar.longest_min
    while minute < setting.end_min:
        stretches = _working_time(operation.work_min, minute, calendar, board.busy.get(calendar.person, []), pausable)
        if stretches is None:
            chain.blocked = chain.blocked or "there is no working time left for it"
            return None
        start_min = stretches[0].start_min
        if drying is not None and (objection := drying.objection(start_min)) is not None:
            chain.blocked = objection
            allowed_min = drying.next_allowed(start_min)
            if allowed_min >= setting.end_min:
                return None
            minute = max(_rounded_up(allowed_min), start_min + _TRY_EVERY_MIN)
            continue
        found = _with_drying(Placed(operation, calendar.person, stretches), setting)
        if found is None:
            chain.blocked = chain.blocked or "it would not be dry within the time looked at"
            return None
        later = _hindrance(found, board, setting)
        if later is None:
            return found
        reason, until = later
        chain.blocked = reason
        minute = max(_rounded_up(until), found.start_min + _TRY_EVERY_MIN)
    return None


def _rounded_up(minute: float) -> int:
    return int(-(-minute // STEP_MIN) * STEP_MIN)


def _working_time(
    work_min: int, minute: int, calendar: WorkingCalendar, busy: list[Stretch], pausable: bool
) -> tuple[Stretch, ...] | None:
    """Return the first stretches from *minute* on that hold so much work: one, or several where it may pause."""
    taken: list[Stretch] = []
    left = work_min
    for free in _free(calendar, minute, busy):
        length = free.end_min - free.start_min
        if not pausable:
            if length >= work_min:
                return (Stretch(free.start_min, free.start_min + work_min),)
            continue
        used = min(length, left)
        if 0 < left - used < _STUMP_MIN:
            used = (left - _STUMP_MIN) // STEP_MIN * STEP_MIN  # so that what is left is worth coming back for
        if used < min(left, _WORTH_STARTING_MIN):
            continue
        taken.append(Stretch(free.start_min, free.start_min + used))
        left -= used
        if left == 0:
            return tuple(taken)
    return None


def _free(calendar: WorkingCalendar, minute: int, busy: list[Stretch]) -> Iterator[Stretch]:
    """Give the working time from *minute* on that nothing takes yet."""
    ahead = busy[bisect_right(busy, minute, key=lambda taken: taken.end_min) :]
    for stretch in calendar.from_minute(minute):
        start = max(stretch.start_min, minute)
        for taken in ahead:
            if taken.end_min <= start or taken.start_min >= stretch.end_min:
                continue
            if taken.start_min > start:
                yield Stretch(start, taken.start_min)
            start = taken.end_min
        if start < stretch.end_min:
            yield Stretch(start, stretch.end_min)


def _with_drying(placed: Placed, setting: Setting) -> Placed | None:
    """Return the operation with the stages its coat reaches; None where they lie beyond the time looked at."""
    operation = placed.operation
    if operation.finish is None:
        return placed
    drying = setting.drying[operation.finish]
    dust_free = drying.reached(placed.end_min, drying.finish.surface_dry_h)
    next_from = drying.reached(placed.end_min, drying.finish.recoat_h.typical)
    limit = drying.finish.recoat_limit_h
    next_until = drying.reached(placed.end_min, limit.typical) if limit else None
    if dust_free is None or next_from is None:
        return None
    return replace(
        placed,
        dust_free_min=dust_free,
        next_from_min=_rounded_up(next_from),  # a window is never shown wider than it is
        next_until_min=None if next_until is None else next_until // STEP_MIN * STEP_MIN,
    )


def _hindrance(placed: Placed, board: _Board, setting: Setting) -> tuple[str, float] | None:
    """Return what stands in the way and until when, or None."""
    operation = placed.operation
    if operation.makes_dust:
        room = setting.rooms["sanding"]
        for wet in board.wet.get(room, []):
            if _meet(wet, Stretch(placed.start_min, placed.end_min)):
                return "a coat in the same room is not dust-free", wet.end_min
    if operation.finish is None:
        return None
    tacky = Stretch(placed.start_min, _rounded_up(placed.dust_free_min or placed.end_min))
    for room in {setting.rooms[operation.room_use], setting.rooms["drying"]}:
        for dust in board.dust.get(room, []):
            if _meet(dust, tacky):
                return "sanding in the same room would dust the coat", dust.end_min
    return _full_rack(placed, board, setting)


def _full_rack(placed: Placed, board: _Board, setting: Setting) -> tuple[str, float] | None:
    places, hooks = setting.needs[placed.operation.item]
    there = [
        (setting.needs[item], rest.end_min)
        for item, rest in board.resting
        if item != placed.operation.item and rest.start_min <= placed.end_min < rest.end_min
    ]
    full_places = places + sum(need[0] for need, _ in there) > max(setting.places, places)
    full_hooks = hooks + sum(need[1] for need, _ in there) > max(setting.hooks, hooks)
    if there and ((full_places and places) or (full_hooks and hooks)):
        return "the rack is full", min(end for _, end in there)
    return None


def _meet(one: Stretch, other: Stretch) -> bool:
    return one.start_min < other.end_min and other.start_min < one.end_min


def _commit(chain: _Chain, placed: Placed, board: _Board, setting: Setting) -> None:
    operation = chain.left.pop(0)
    board.placed.append(placed)
    board.advance(placed.start_min)
    for stretch in placed.stretches:
        insort(board.busy.setdefault(placed.person, []), stretch)
    if operation.makes_dust:
        board.dust.setdefault(setting.rooms["sanding"], []).extend(placed.stretches)
    chain.ready_min = placed.end_min + operation.wait_h * 60
    chain.blocked = ""
    if operation.finish is None:
        if operation.makes_dust:
            chain.until_min = None
        return
    tacky = Stretch(placed.start_min, _rounded_up(placed.dust_free_min or placed.end_min))
    for room in {setting.rooms[operation.room_use], setting.rooms["drying"]}:
        board.wet.setdefault(room, []).append(tacky)
    chain.ready_min = max(chain.ready_min, placed.next_from_min or 0.0)
    chain.until_min = placed.next_until_min
    if chain.left and chain.left[0].after_cure:
        drying = setting.drying[operation.finish]
        cured = drying.reached(placed.end_min, (drying.finish.cure_h or drying.finish.recoat_h).typical)
        chain.ready_min = setting.end_min if cured is None else cured
    board.resting.append((operation.item, Stretch(placed.start_min, _lifted_min(placed, setting))))


def _lifted_min(placed: Placed, setting: Setting) -> int:
    """Return when a wet item leaves the rack: once it may be handled, when next anybody is there to lift it."""
    drying = setting.drying[placed.operation.finish or ""]
    fit = drying.reached(placed.end_min, drying.finish.handle_h.typical)
    if fit is None:
        return setting.end_min
    there = [
        max(ahead[0].start_min, _rounded_up(fit)) for one in setting.calendars if (ahead := one.from_minute(int(fit)))
    ]
    return min(there, default=setting.end_min)
