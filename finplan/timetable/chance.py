"""How sure a plan is: the same plan lived through many times, each finish drying a little faster or slower."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from random import Random

from finplan.catalogue import Finish
from finplan.material import quantile
from finplan.scheduling import Scheduled, Span
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.operation import Operation, Stage, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.stages import StageTime, stage_time, surface_time

SEED = 20_270_301
MOST_DRAWS = 1_000
_WORK = 20_000
"""Operations lived through altogether, so that many pieces are not drawn for minutes."""


@dataclass(frozen=True, slots=True)
class Lived:
    """When each piece was ready in every draw, in minutes after the origin; infinite where it never was."""

    ready_min: Mapping[str, tuple[float, ...]]
    """By piece key."""

    def in_time(self, due_min: Mapping[str, float]) -> float:
        """Return in which share of the draws every piece was ready by its date."""
        draws = list(zip(*(self.ready_min[key] for key in due_min), strict=True))
        kept = sum(1 for draw in draws if all(ready <= due for ready, due in zip(draw, due_min.values(), strict=True)))
        return kept / len(draws)

    def all_ready_min(self, share: float) -> float:
        """Return the minute by which everything was ready in a share of the draws."""
        last: list[float] = sorted(max(draw) for draw in zip(*self.ready_min.values(), strict=True))
        index = min(len(last) - 1, math.ceil(share * len(last)) - 1)
        return last[index]


def lived(
    pieces: Sequence[PieceWork],
    setting: Setting,
    schedule: Mapping[str, Scheduled],
    ready_for: ReadyFor,
    *,
    seed: int = SEED,
) -> Lived:
    """Return how a plan fares when finishes dry faster or slower than typical.

    Parameters
    ----------
    pieces, setting
        The work and the shop
    schedule
        The plan
    ready_for
        What the customer may do when a piece counts as ready
    seed
        Of the draws, so that the same plan is always told the same

    Notes
    -----
    The low, typical and high times of a finish are the 5th, 50th and 95th percentile of a two-piece lognormal; all its
    stages and coats are drawn together, finishes independently. The plan is repaired as a person would: everything
    keeps its turn, and begins when it was planned or, where it cannot yet, as soon as it can: then by whoever has it
    done first. Where the coat below has become too hard it is abraded first. The rack is not looked at.
    """
    life = _Life(pieces, setting, schedule, ready_for)
    count = max(1, min(MOST_DRAWS, _WORK // max(1, len(life.order))))
    random = Random(seed)  # noqa: S311 - a simulation, no secret
    finishes = sorted(setting.drying)
    draws = [life.once({name: random.random() for name in finishes}) for _ in range(count)]
    return Lived({piece.key: tuple(draw[piece.key] for draw in draws) for piece in pieces})


class _Life:
    """A plan that can be lived through."""

    def __init__(
        self,
        pieces: Sequence[PieceWork],
        setting: Setting,
        schedule: Mapping[str, Scheduled],
        ready_for: ReadyFor,
    ) -> None:
        self._setting = setting
        self._ready_for = ready_for
        self._schedule = schedule
        self.order: list[tuple[PieceWork, Operation, Scheduled]] = sorted(
            (
                (piece, operation, schedule[operation.id])
                for piece in pieces
                for operation in all_operations(piece.open)
                if operation.id in schedule
            ),
            key=lambda one: (one[2].start, one[2].end),
        )
        rooms = setting.rooms
        self._dusty = {use: rooms["sanding"] in (room, rooms["drying"]) for use, room in rooms.items()}
        self._pieces = pieces
        self._operations = {one.id: one for piece in pieces for one in all_operations(piece.operations)}
        self._coat_of = {one.clean_up.id: one.id for piece in pieces for one in piece.open if one.clean_up is not None}
        self._who_can = {operation.id: setting.who(operation) for _, operation, _ in self.order}
        self._end = cache(self._worked)
        """In most draws most operations begin when they were planned."""

    def once(self, luck: Mapping[str, float]) -> dict[str, float]:
        """Return when each piece is ready, in minutes, with the quantile at which each finish dries."""
        ends: dict[str, float] = {}
        free: dict[str, float] = {}
        dust_free_min = 0.0
        ready = {piece.key: self._done_min(piece, luck) for piece in self._pieces}
        people: dict[str, str] = {}
        for piece, operation, planned in self.order:
            name = operation.id
            planned_min = float(planned.start * self._setting.slot_min)
            ready_min = max([planned_min, *self._waits(piece, operation, ends, luck)])
            if operation.makes_dust:
                ready_min = max(ready_min, dust_free_min)
            tried = []
            for person in self._who(name, planned, people, late=ready_min > planned_min):
                start = max(ready_min, free.get(person, 0.0))
                start += self._abrading_min(operation, ends, start)
                tried.append((self._end(name, person, start), person))
            end, person = min(tried, key=lambda one: one[0])
            people[name] = person
            ends[name] = free[person] = end
            if operation.finish is not None and math.isfinite(end):
                if self._dusty["spraying" if operation.room_use == "spraying" else "coating"]:
                    dust_free_min = max(
                        dust_free_min, self._dry(operation, end, surface_time(self._finish(operation)), luck)
                    )
                end = self._dry(operation, end, stage_time(self._finish(operation), self._ready_for), luck)
            ready[piece.key] = max(ready[piece.key], end)
        return ready

    def _who(self, name: str, planned: Scheduled, people: Mapping[str, str], *, late: bool) -> list[str]:
        """Return who may do an operation, the one who was planned first; whoever put a coat on cleans up after it."""
        coat = self._coat_of.get(name)
        if coat is not None and coat in people:
            return [people[coat]]
        who = self._who_can[name]
        own = who[planned.mode]
        return [own, *(person for person in who if person != own)] if late else [own]

    def _done_min(self, piece: PieceWork, luck: Mapping[str, float]) -> float:
        """Return when what has been put on a piece already is fit for the customer."""
        fit = [0.0]
        for operation in piece.operations:
            if operation.id in piece.done and operation.finish is not None:
                end = self._setting.minute(piece.done[operation.id])
                fit.append(self._dry(operation, end, stage_time(self._finish(operation), self._ready_for), luck))
        return max(fit)

    def _waits(
        self, piece: PieceWork, operation: Operation, ends: Mapping[str, float], luck: Mapping[str, float]
    ) -> Iterator[float]:
        """Give the minutes before which an operation cannot start, by what it waits for."""
        for after in operation.after:
            before = self._operations[after.id]
            end = ends.get(after.id)
            if end is None:
                end = self._setting.minute(piece.done[after.id]) if after.id in piece.done else 0.0
            yield self._reached(before, end, after.stage, luck)
        coat = self._coat_of.get(operation.id)
        if coat is not None and coat in ends:
            yield ends[coat]

    def _reached(self, before: Operation, end: float, stage: Stage, luck: Mapping[str, float]) -> float:
        if before.finish is None or stage == "done":
            return end + before.wait_h * 60
        return self._dry(before, end, stage_time(self._finish(before), stage), luck)

    def _dry(self, coat: Operation, end: float, stage: StageTime, luck: Mapping[str, float]) -> float:
        if not math.isfinite(end):
            return math.inf
        nominal_h = quantile(stage.hours, luck[coat.finish or ""])
        reached = self._setting.drying_of(coat).reached(end, stage.phase, nominal_h, coat.thickness)
        return math.inf if reached is None else reached

    def _abrading_min(self, operation: Operation, ends: Mapping[str, float], start: float) -> float:
        """Return how long the coat below is abraded first, where it has become too hard and that was not planned."""
        if operation.over is None or operation.again is None or operation.again.id in self._schedule:
            return 0.0
        below = self._operations[operation.over]
        end = ends.get(operation.over)
        closes = None if end is None else self._setting.drying_of(below).recoat_closes(end)
        if closes is None or start <= closes:
            return 0.0
        return float(operation.again.work_min)

    def _finish(self, operation: Operation) -> Finish:
        return self._setting.catalogue.finishes[operation.finish or ""]

    def _worked(self, name: str, person: str, start: float) -> float:
        """Return when an operation ends that starts as soon after a minute as hours and air allow."""
        if not math.isfinite(start):
            return math.inf
        operation, setting, spans = self._operations[name], self._setting, self._setting.spans[person]
        pauses = setting.pauses(operation, person)
        index = bisect_right(spans, start / setting.slot_min, key=lambda span: span.end)
        left = operation.work_min
        while index < len(spans):
            begins, ends = _minutes(spans[index], setting.slot_min)
            begins = max(begins, start)
            if operation.finish is not None and left == operation.work_min:
                begins = setting.drying_of(operation).next_allowed(begins, 0 if pauses else left, operation.thickness)
            if begins + left <= ends:
                return begins + left
            if pauses and begins < ends:
                left -= int(ends - begins)
            start = max(start, min(begins, float(setting.slots * setting.slot_min)))
            index += 1
        return math.inf


def _minutes(span: Span, slot_min: int) -> tuple[float, float]:
    return float(span.start * slot_min), float(span.end * slot_min)
