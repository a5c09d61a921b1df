"""The rack in a plan that is lived through: what lies there in every draw, and until when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finplan.timetable.coats import DrawnCoats
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation
from finplan.timetable.setting import Setting
from finplan.timetable.taken import Draws, Open, Which


@dataclass(frozen=True, slots=True)
class _Full:
    """When too much lies there for a coat, in some draws, each a column. [min]"""

    begins: Draws
    ends: Draws
    """When there is room again; before all times where there is room."""
    over: Draws
    """When there is room for good."""

    def past(self, start: Draws, until: Draws) -> Draws:
        """Return starts moved past all that lies in the way of what lies there until then."""
        pushed: Draws = np.where(self.begins < until, self.ends, -np.inf).max(axis=0)
        return np.maximum(start, pushed)

    def of(self, draws: Which) -> _Full:
        """Return it of some of the draws."""
        return _Full(self.begins[:, draws], self.ends[:, draws], self.over[draws])


class Racked:
    """What lies on the rack; where all items of a job have room there at once it is not looked at."""

    def __init__(self, pieces: Sequence[PieceWork], setting: Setting, coats: DrawnCoats, draws: int) -> None:
        self._coats, self._all = coats, np.arange(draws)
        self._anybody = Open(setting.anybody, setting.slot_min).starts(0.0)
        rack = setting.shop.rack
        self._room = rack.places, rack.hooks
        needs = [takes for piece in pieces for takes in piece.rack.values()]
        self._is_short = any(sum(need[kind] for need in needs) > room for kind, room in enumerate(self._room))
        self._takes_of: dict[str, tuple[int, int]] = {}
        self._under: dict[str, str] = {}
        """By what is done next to an item, the coat that lies until then."""
        for piece in pieces if self._is_short else ():
            for coat in piece.operations:
                if coat.finish is not None:
                    places, hooks = piece.rack[coat.item]
                    self._takes_of[coat.id] = min(places, rack.places), min(hooks, rack.hooks)
                    following = piece.following(coat)
                    if following is not None:
                        self._under[following.id] = coat.id

        self._lies = {name: line for line, name in enumerate(self._takes_of)}
        """By coat, its line in what follows: from when to when it lies there in every draw. [min]"""
        shape = len(self._lies), draws
        self._begins, self._ends = np.full(shape, np.inf), np.full(shape, -np.inf)
        self._takes = np.array(list(self._takes_of.values()), float).reshape(-1, 2)
        self._first, self._last = np.full(shape[0], np.inf), np.full(shape[0], -np.inf)
        """From when it lies there in any draw, and until when in any: most of all coats lie at quite another time."""

    def seen_by(self, coat: Operation, start: Draws, draws: Which) -> OnRack | None:
        """Return what lies there for a coat that begins then in some draws, or later; None where it has room anyway."""
        takes = self._takes_of.get(coat.id)
        if takes is None:
            return None
        lines = self._near(coat, float(start.min(initial=np.inf)))
        if all(sum(self._takes[lines, kind]) + takes[kind] <= room for kind, room in enumerate(self._room)):
            return None
        return OnRack(self, coat, takes, lines, start, draws)

    def _near(self, coat: Operation, first: float) -> Which:
        """Return the lines of what lies there at a moment or later in any draw, but for what is coated then."""
        there = self._last > first
        own = self._lies.get(self._under.get(coat.id, ""))
        if own is not None:
            there[own] = False  # it is taken off for that
        return there.nonzero()[0]

    def may_lack_room(self, takes: tuple[int, int], lines: Which, start: Draws, until: Draws, draws: Which) -> bool:
        """Return whether in any draw there would be no room if all that lies there in between lay there at once."""
        lines = lines[self._first[lines] < until.max(initial=-np.inf)]
        begins, ends = self._stretches(lines, draws)
        near = ((ends > start) & (begins < until)).astype(float)
        lacks = [
            self._takes[lines, kind] @ near + takes[kind] > room for kind, room in enumerate(self._room) if takes[kind]
        ]
        return any(bool(lack.any()) for lack in lacks)

    def _stretches(self, lines: Which, draws: Which) -> tuple[Draws, Draws]:
        """Return from when to when some coats lie there in some draws; whole lines, of all, are quicker."""
        if len(draws) == len(self._all):
            return self._begins[lines], self._ends[lines]
        among = np.ix_(lines, draws)
        return self._begins[among], self._ends[among]

    def full(self, takes: tuple[int, int], lines: Which, start: Draws, draws: Which) -> _Full:
        """Return when, after a start, too much lies there for what takes so much, in some draws."""
        begins, ends = self._stretches(lines, draws)
        still = (ends > start).any(axis=1)
        lines, moments = lines[still], np.concatenate([begins[still], ends[still]])
        order = np.argsort(moments, axis=0)
        amounts = np.concatenate([self._takes[lines], -self._takes[lines]])
        moments = np.take_along_axis(moments, order, axis=0)
        is_full = np.zeros_like(moments, bool)
        for kind, room in enumerate(self._room):
            if takes[kind]:
                is_full |= np.cumsum(amounts[order, kind], axis=0) + takes[kind] > room
        lasts = np.ones_like(is_full)
        lasts[:-1] = moments[1:] > moments[:-1]
        room_again = np.where(lasts & ~is_full, moments, np.inf)
        ends = np.minimum.accumulate(room_again[::-1], axis=0)[::-1]
        ends = np.where(is_full & lasts, ends, -np.inf)
        return _Full(moments, ends, ends.max(axis=0, initial=-np.inf))

    def lay(self, coat: Operation, start: Draws, end: Draws) -> None:
        """Note that a coat lies there from its start on, until it is lifted at the latest."""
        if coat.id in self._takes_of:
            line = self._lies[coat.id]
            self._begins[line], self._ends[line] = start, self.lifted(coat, end, self._all)
            self._first[line], self._last[line] = start.min(), self._ends[line].max()

    def take_off(self, following: Operation, start: Draws) -> None:
        """Note that what is done next to an item begins: until then at most it lay there."""
        below = self._lies.get(self._under.get(following.id, ""))
        if below is not None:
            self._ends[below] = np.minimum(self._ends[below], start)
            self._last[below] = self._ends[below].max()

    def lifted(self, coat: Operation, end: Draws, draws: Which) -> Draws:
        """Return when a coat that ends then in some draws is lifted off, where nothing is done to it sooner. [min]"""
        return self._anybody.next(self._coats.handled(coat, end, draws))


class OnRack:
    """What lies on the rack for one coat, while it is looked when it may begin."""

    def __init__(
        self, rack: Racked, coat: Operation, takes: tuple[int, int], lines: Which, start: Draws, draws: Which
    ) -> None:
        self._rack, self._coat, self._takes, self._lines = rack, coat, takes, lines
        self._start, self._draws = start.copy(), draws
        self._full: _Full | None = None

    def clear(self, start: Draws, end: Draws, least_min: Draws, which: Which) -> Draws:
        """Return the start in some of the draws, moved to where enough is lifted in the ones with no room for it.

        And again, as long as what begins there and takes *least_min* at least finds none.
        """
        if self._full is None:
            until = self._rack.lifted(self._coat, end, self._draws[which])
            if not self._rack.may_lack_room(self._takes, self._lines, start, until, self._draws[which]):
                return start
            self._full = self._rack.full(self._takes, self._lines, self._start, self._draws)
        left = (start < self._full.over[which]).nonzero()[0]
        if not len(left):
            return start
        full, start, end = self._full.of(which[left]), start.copy(), end[left]
        while len(left):
            until = self._rack.lifted(self._coat, end, self._draws[which[left]])
            begun = start[left]
            moved = full.past(begun, until)
            start[left] = moved
            later = ((moved > begun) & (moved < full.over)).nonzero()[0]
            left, full = left[later], full.of(later)
            end = moved[later] + least_min[left]
        return start
