"""Plans that are made at once, moved up and back: the best of them by what is wanted, each held against every rule."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from finplan.scheduling import Result, Schedule
from finplan.timetable.construct.place import NoRoomError, TimeIsUpError
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found, broken
from finplan.timetable.problem import Placement, Window
from finplan.timetable.requirement import NoRoomFor
from finplan.timetable.timetable import NO_BUFFER, Buffer
from finplan.timetable.windows import Windows

_HALVED = 5
"""So often it is tried to have the latest piece late by half as much, and not at all first."""


class AtOnce:
    """Makes plans at once."""

    def __init__(self, dates: Dates, windows: Windows, maker: Maker) -> None:
        self.faults: list[str] = []
        """Which rule was broken, for each plan that was found and not given for it."""
        self.stuck: NoRoomFor | None = None
        """What finds no room in all the time that is looked at, where there is no plan whatever the dates."""
        self._dates, self._windows, self._maker = dates, windows, maker
        self._job, self._setting = dates.job, dates.setting
        self._early: dict[tuple[bool, int], Found | None] = {}
        """What is made for ``early``, with the dates kept or not: several things are told of it."""

    def late(self, buffer: Buffer) -> Found | None:
        """Return the plan that is made at once for ``late``; None where it finds no room, which proves nothing."""
        due = self._dates.dues(buffer)
        try:
            plan = self._maker.late(self.late_score, due)
        except NoRoomError:
            return None
        return self.made(self.moved_up(plan, due), due, buffer)

    def early(self, *, dated: bool) -> Found | None:
        """Return the plan that is made at once for ``early``; None where it keeps not every date, or finds no room."""
        asked = dated, self._maker.shifted_at_most
        if asked not in self._early:
            self._early[asked] = self._made_early(dated=dated)
        return self._early[asked]

    def _made_early(self, *, dated: bool) -> Found | None:
        due = self._dates.dues(NO_BUFFER) if dated else {}

        def late(plan: Schedule) -> int:
            ready = self._maker.ready(plan)
            return sum(max(0, ready.get(key, 0) - at) for key, at in due.items())

        try:
            plan = self._maker.early(lambda made: (late(made), *self.early_score(made)), {}, due)
        except NoRoomError:
            return None
        if not late(plan):
            return self.made(self._maker.workmanlike(plan), due, NO_BUFFER)
        return next((self.made(date, due, NO_BUFFER) for date in self._whatever_the_dates(due) if not late(date)), None)

    def earlier(self, found: Found, *, dated: bool, asked: bool) -> Found:
        """Return a plan for ``early`` that is ready at least as early as another, of orders drawn at random.

        *asked*: whether it is what the maker asks for, for which more are tried.
        """
        due = self._dates.dues(NO_BUFFER) if dated else {}

        def score(plan: Schedule) -> tuple[float, ...]:
            ready = self._maker.ready(plan)
            again, last, _, others = self.early_score(plan)
            return sum(max(0, ready.get(key, 0) - at) for key, at in due.items()), again, last, others

        plan = self._maker.drawn_early(found.schedule, score, due, asked=asked)
        if score(plan)[:3] >= score(found.schedule)[:3]:
            return found
        return self.made(self._maker.workmanlike(plan), due, found.buffer) or found

    def earliest_of(self, own: Found, other: Found | None) -> Found:
        """Return the better one of two plans for ``early``: with less abrading again, or ready earlier; else *own*."""
        if other is None:
            return own
        return other if self.early_score(other.schedule)[:2] < self.early_score(own.schedule)[:2] else own

    def in_this_shop(self, plan: Schedule, *, dated: bool) -> Found | None:
        """Return a plan that was made for fewer people as one of this shop; None where a date is missed."""
        due = self._dates.dues(NO_BUFFER) if dated else {}
        return None if self.lateness(plan, due) else self.made(plan, due, NO_BUFFER)

    def _whatever_the_dates(self, due: Mapping[str, int]) -> list[Schedule]:
        """Return the plan that is ready as early as can be without any dates; none where these are kept by no plan.

        What comes first by its date may leave no room for the rest, where that plan is known to be in time.
        """
        if any(self._maker.soonest(key) > at for key, at in due.items()):
            return []
        try:
            found = self.early(dated=False)
        except TimeIsUpError:
            return []
        return [] if found is None else [found.schedule]

    def least_late(self, buffer: Buffer) -> Found | None:
        """Return the plan whose latest piece is as little late as can be; None where something never has room."""
        due = self._dates.dues(buffer)

        def score(plan: Schedule) -> tuple[float, ...]:
            return self.lateness(plan, due), *self._maker.extras(plan)

        try:
            plan = self._maker.early(score, {}, due)
        except NoRoomError as error:
            self.stuck = NoRoomFor(error.task.operation.item, error.task.operation.label)
            return None
        if self.lateness(plan, due):
            plan = min([plan, *self._whatever_the_dates(due)], key=score)
        return self.made(plan, {}, buffer)

    def less_late(self, found: Found, buffer: Buffer) -> Found:
        """Return a plan whose latest piece is no later than that of another, and in time where that can be had.

        How late it is with a buffer is not asked: there it is only tried to be in time.
        """
        due, plan = self._dates.dues(buffer), found.schedule
        least, most = 0, self.lateness(plan, due)
        aim = 0
        for _ in range(_HALVED if buffer == NO_BUFFER else 1):
            if most <= least:
                break
            tried = self._maker.all_in_time(plan, {key: at + aim for key, at in due.items()})
            if tried is None:
                least = aim + 1
            else:
                plan, most = tried, self.lateness(tried, due)
            aim = (least + most) // 2
        return found if plan is found.schedule else self.made(plan, {}, buffer) or found

    def in_time(self, found: Found, buffer: Buffer) -> Found | None:
        """Return a plan that keeps every date, made as late as can be."""
        due = self._dates.dues(buffer)
        return self.made(self.moved_up(self._moved_back(found.schedule, due), due), due, buffer)

    def late_around(self, found: Found, keys: Collection[str], buffer: Buffer) -> Found | None:
        """Return a plan that leaves a buffer as late as can be, but for some pieces, from another that leaves it."""
        due = self._dates.dues(buffer)
        try:
            plan = self._maker.late_around(found.schedule, keys, due)
        except TimeIsUpError:
            return None
        return self.made(self.moved_up(plan, due), due, buffer)

    def with_last_hand(self, found: Found, *, still: Collection[str], coats: bool) -> Found | None:
        """Return a plan with the last hand on it (``last_hand``); None where that changes nothing."""
        in_a_row = found.schedule if still else self._maker.workmanlike(found.schedule)
        plan = self._maker.with_last_hand(in_a_row, still=still, coats=coats)
        if plan == found.schedule or self.breaks(self._windows.placement(found.windows, turns=False), plan):
            return None
        return replace(found, result=replace(found.result, schedule=plan))

    def made(self, plan: Schedule, due: Mapping[str, int], buffer: Buffer) -> Found | None:
        """Return a plan that was made at once as one that was found; None where it breaks a rule after all."""
        if any(at < 0 for at in due.values()):
            return None  # a date that has passed, which no plan keeps, not even one without any work
        found = self.as_found(plan, due, buffer)
        return None if self.breaks(found.placement, plan) else found

    def as_found(self, plan: Schedule, due: Mapping[str, int], buffer: Buffer) -> Found:
        """Return a plan as one that was found, whatever it breaks."""
        begun, ready = self._maker.begun(plan), self._maker.ready(plan)
        windows = {
            piece.key: Window(
                begun.get(piece.key, self._setting.first),
                due.get(piece.key, ready.get(piece.key, self._setting.first + 1)),
                due.get(piece.key),
            )
            for piece in self._job.pieces
        }
        placement = self._windows.placement(windows, turns=False)
        return Found(Result("feasible", plan), placement, buffer, windows)

    def breaks(self, placement: Placement, plan: Schedule) -> bool:
        """Hold a plan against every rule, on the clock: what breaks one is not given."""
        faults = broken(placement, plan)
        if faults:
            self.faults.append(faults[0])
        return bool(faults)

    def moved_up(self, plan: Schedule, due: Mapping[str, int]) -> Schedule:
        """Return a plan with everything as early as can be that begins no piece sooner."""
        try:
            moved = self._maker.moved_up(plan)
        except (NoRoomError, TimeIsUpError):
            return plan
        ready = self._maker.ready(moved)
        in_time = all(ready.get(key, 0) <= at for key, at in due.items())
        better = moved if in_time and self.late_score(moved) <= self.late_score(plan) else plan
        return self._maker.workmanlike(better)

    def moved_back(self, found: Found, buffer: Buffer) -> Found | None:
        """Return a plan that leaves a buffer, as late as can be in the order of another; None where it has no room."""
        due = self._dates.dues(buffer)
        try:
            plan = self._maker.moved_back(found.schedule, due)
        except (NoRoomError, TimeIsUpError):
            return None
        return self.made(self.moved_up(plan, due), due, buffer)

    def begun_sooner(self, found: Found, keys: Collection[str]) -> Found:
        """Return a plan with some pieces begun and ready as early as can be, as far as the others keep their dates."""
        due = {key: window.due for key, window in found.windows.items() if window.due is not None}
        try:
            plan = self._maker.moved_up(found.schedule, keys)
        except (NoRoomError, TimeIsUpError):
            return found
        return found if self.lateness(plan, due) else self.made(plan, due, found.buffer) or found

    def _moved_back(self, plan: Schedule, due: Mapping[str, int]) -> Schedule:
        """Return a plan with everything that has a date as late as can be, where it is a better one for that."""
        try:
            moved = self._maker.moved_back(plan, due)
        except (NoRoomError, TimeIsUpError):
            return plan
        return moved if self.late_score(moved) <= self.late_score(plan) else plan

    def lateness(self, plan: Schedule, due: Mapping[str, int]) -> int:
        """Return by how much the latest piece is late; 0 where none is. [slots]"""
        ready = self._maker.ready(plan)
        return max([0, *(ready.get(key, 0) - at for key, at in due.items())])

    def late_score(self, plan: Schedule) -> tuple[float, ...]:
        """Return how good a plan for ``late`` is: little abrading again, late starts, then early ends."""
        again, cleaned = self._maker.extras(plan)
        begun, ready = self._maker.begun(plan), self._maker.ready(plan)
        dated = {piece.key for piece in self._job.pieces if piece.deliver is not None}
        starts = sum(self._dates.working.up_to(start) for key, start in begun.items() if key in dated)
        return again, -starts, max((at for key, at in ready.items() if key not in dated), default=0), cleaned

    def early_score(self, plan: Schedule) -> tuple[float, ...]:
        """Return how good a plan for ``early`` is: little abrading again, ready early, then few clean-ups."""
        again, cleaned = self._maker.extras(plan)
        ready = self._maker.ready(plan)
        return again, max(ready.values(), default=0), cleaned, sum(ready.values())
