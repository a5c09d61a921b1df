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


@dataclass(slots=True)
class _Lying:
    """One coat that lies on the rack in every draw, from when until when. [min]"""

    begins: Draws
    ends: Draws
    takes: tuple[int, int]
    first: float
    last: float
    """From when it lies there in any draw, and until when in any: most of all coats lie at quite another time."""


class Racked:
    """What lies on the rack; where all items of a job have room there at once it is not looked at."""

    def __init__(self, pieces: Sequence[PieceWork], setting: Setting, coats: DrawnCoats, draws: int) -> None:
        self._coats, self._all = coats, np.arange(draws)
        self._anybody = Open(setting.anybody, setting.slot_min)
        rack = setting.shop.rack
        self._room = rack.places, rack.hooks
        needs = [takes for piece in pieces for takes in piece.rack.values()]
        self._is_short = any(sum(one[kind] for one in needs) > room for kind, room in enumerate(self._room))
        self._takes: dict[str, tuple[int, int]] = {}
        self._under: dict[str, str] = {}
        """By what is done next to an item, the coat that lies until then."""
        self._lying: dict[str, _Lying] = {}
        for piece in pieces if self._is_short else ():
            for coat in piece.operations:
                if coat.finish is not None:
                    places, hooks = piece.rack[coat.item]
                    self._takes[coat.id] = min(places, rack.places), min(hooks, rack.hooks)
                    following = piece.following(coat)
                    if following is not None:
                        self._under[following.id] = coat.id

    def clear(self, coat: Operation, start: Draws, end: Draws, draws: Which) -> Draws:
        """Return the start of a coat in some draws, moved to where something is lifted in the ones with no room for it.

        There may still be none there: it is asked until nothing moves any more.
        """
        takes = self._takes.get(coat.id)
        if takes is None:
            return start
        until = self._lifted(coat, end, draws)
        own = self._under.get(coat.id)
        first, last = start.min(initial=np.inf), until.max(initial=-np.inf)
        there = [
            (one.begins[draws], one.ends[draws], one.takes)
            for name, one in self._lying.items()
            if one.last > first and one.first < last and name != own  # what is coated is taken off for that
        ]
        there = [one for one in there if ((one[1] > start) & (one[0] < until)).any()]
        for kind, room in enumerate(self._room):
            mine = [one for one in there if one[2][kind]]
            if takes[kind] and sum(one[2][kind] for one in mine) + takes[kind] > room:
                start = _moved(start, until, mine, kind, room - takes[kind])
        return start

    def lay(self, coat: Operation, start: Draws, end: Draws) -> None:
        """Note that a coat lies there from its start on, until it is lifted at the latest."""
        if coat.id in self._takes:
            ends = self._lifted(coat, end, self._all)
            self._lying[coat.id] = _Lying(start, ends, self._takes[coat.id], float(start.min()), float(ends.max()))

    def take_off(self, following: Operation, start: Draws) -> None:
        """Note that what is done next to an item begins: until then at most it lay there."""
        below = self._lying.get(self._under.get(following.id, ""))
        if below is not None:
            below.ends = np.minimum(below.ends, start)
            below.last = float(below.ends.max())

    def _lifted(self, coat: Operation, end: Draws, draws: Which) -> Draws:
        return self._anybody.next_start(self._coats.handled(coat, end, draws), 0.0)


def _moved(
    start: Draws, until: Draws, there: Sequence[tuple[Draws, Draws, tuple[int, int]]], kind: int, free: int
) -> Draws:
    """Return starts, those at or after which too much lies there moved to when the first of that is lifted."""
    begins, ends = (np.array([one[number] for one in there]) for number in (0, 1))
    takes = np.array([one[2][kind] for one in there], float)
    moved = start.copy()
    for moment in (start, *begins):
        lies = (begins <= moment) & (ends > moment)
        full = (takes @ lies > free) & (moment >= start) & (moment < until)
        first = np.where(lies, ends, np.inf).min(axis=0)
        moved = np.where(full, np.maximum(moved, first), moved)
    return moved
