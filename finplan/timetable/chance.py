"""How sure a plan is: the same plan lived through many times, work and drying each time a little faster or slower.

All draws are lived through at once: every time is an array, one element a draw.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from random import Random

import numpy as np

from finplan.material import deviations_of, values_at
from finplan.quantity import Range
from finplan.scheduling import Scheduled
from finplan.timetable.coats import Luck
from finplan.timetable.job import PieceWork, ReadyFor
from finplan.timetable.life import Life
from finplan.timetable.operation import Deed, Operation, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.stages import StageTime
from finplan.timetable.taken import Draws

SEED = 20_270_301
DRAWS = 1_000
_MOST_STEPS_DRAWN = 600_000
"""So many steps in all draws together; what has more than six hundred of them is drawn less often."""
FEW_DRAWS, _FEWEST_DRAWS = 125, 50
"""As many as show that a plan of many pieces is not sure enough yet; and of very many steps."""
_MOST_STEPS_LOOKED_AT = 100_000
"""So many steps in these draws together."""
_MOST_AT_ONCE = 1_000_000
"""So many draws of all steps together are lived through at once, of more steps some of the draws at a time: all at once
take 250 MB of forty pieces."""


@dataclass(frozen=True, slots=True)
class Lived:
    """When each piece was ready in every draw, in minutes after the origin; infinite where it never was."""

    ready_min: Mapping[str, Draws]
    """By piece key."""

    def in_time(self, due_min: Mapping[str, float]) -> float:
        """Return in which share of the draws every piece was ready by its date."""
        kept = np.logical_and.reduce([self.ready_min[key] <= due for key, due in due_min.items()])
        return float(kept.mean())

    def piece_in_time(self, key: str, due_min: float) -> float:
        """Return in which share of the draws one piece was ready by its date."""
        return float((self.ready_min[key] <= due_min).mean())

    def ready_by(self, key: str, share: float) -> float:
        """Return the minute by which a piece was ready in a share of the draws."""
        return _within(self.ready_min[key], share)

    def all_ready_min(self, share: float) -> float:
        """Return the minute by which everything was ready in a share of the draws."""
        return _within(np.maximum.reduce(list(self.ready_min.values())), share)


def _within(draws: Draws, share: float) -> float:
    return float(np.sort(draws)[min(len(draws) - 1, math.ceil(share * len(draws)) - 1)])


def lived(
    pieces: Sequence[PieceWork],
    setting: Setting,
    schedule: Mapping[str, Scheduled],
    ready_for: ReadyFor,
    luck: Drawn | None = None,
) -> Lived:
    """Return how a plan fares when work and drying take more or less than is typical.

    Parameters
    ----------
    pieces, setting
        The work and the shop
    schedule
        The plan
    ready_for
        What the customer may do when a piece counts as ready
    luck
        What is drawn, where that was done before; the same is drawn every time, so that a plan is always told the same

    Notes
    -----
    The low, typical and high times of a finish are the 5th, 50th and 95th percentile of a two-piece lognormal; all its
    stages and coats are drawn together, finishes independently. Work of one sort on one piece, all its sanding say,
    takes a share of the time planned that is drawn once (``catalogue.labour``). Each is drawn once from every
    thousandth of its distribution (Latin hypercube; McKay, Beckman and Conover 1979), so that a thousand draws tell as
    much as many more; where they are fewer (``draws_of``), from every part of as many.

    How the plan is repaired where something takes longer stands in ``life``.
    """
    luck = Drawn(setting, pieces, SEED, draws=draws_of(pieces)) if luck is None else luck
    ready = [Life(pieces, setting, schedule, ready_for, part).ready() for part in _parts(luck, len(schedule))]
    return Lived({key: np.concatenate([of_part[key] for of_part in ready]) for key in ready[0]})


def draws_of(pieces: Sequence[PieceWork]) -> int:
    """Return how often a plan of some pieces is lived through: a thousand times, of very many steps less often."""
    return max(FEW_DRAWS, min(DRAWS, _MOST_STEPS_DRAWN // _steps_of(pieces)))


def few_draws_of(pieces: Sequence[PieceWork]) -> int:
    """Return how often one is while its dates are moved up, which only has to show whether it is sure enough."""
    return max(_FEWEST_DRAWS, min(FEW_DRAWS, _MOST_STEPS_LOOKED_AT // _steps_of(pieces)))


def _steps_of(pieces: Sequence[PieceWork]) -> int:
    return max(1, sum(1 for piece in pieces for _ in all_operations(piece.open)))


@dataclass(frozen=True, slots=True)
class _Part:
    """What is drawn in some of the draws."""

    luck: Luck
    first: int
    draws: int

    def hours(self, finish: str, stage: StageTime) -> Draws:
        return self.luck.hours(finish, stage)[self.first : self.first + self.draws]

    def work_min(self, piece: PieceWork, operation: Operation) -> Draws:
        return self.luck.work_min(piece, operation)[self.first : self.first + self.draws]


def _parts(luck: Luck, steps: int) -> Iterator[Luck]:
    """Give what is drawn, of many steps some of the draws at a time."""
    most = max(1, luck.draws // math.ceil(luck.draws * max(1, steps) / _MOST_AT_ONCE))
    for first in range(0, luck.draws, most):
        yield _Part(luck, first, min(most, luck.draws - first))


class Drawn:
    """Work and drying *draws* times, and that so many *times* over: the same luck in every plan of several."""

    def __init__(self, setting: Setting, pieces: Sequence[PieceWork], seed: int, times: int = 1, *, draws: int) -> None:
        self._times, self._once = times, draws
        self.draws = draws * times
        self._catalogue = setting.catalogue
        self._takes = setting.catalogue.labour["handwork"].takes
        finishes = sorted(setting.drying)
        sorts = sorted({(piece.key, operation.deed) for piece in pieces for operation in all_operations(piece.open)})
        self._seed, self._drawn = seed, len(finishes) + len(sorts)
        self._of_finish = {name: place for place, name in enumerate(finishes)}
        self._of_work = {sort: place for place, sort in enumerate(sorts, start=len(finishes))}
        self._hours_of = cache(self._hours)
        self._shares = cache(self._share)

    def _hours(self, finish: str, stage: StageTime) -> Draws:
        return self._told(self._of_finish[finish], stage.hours)

    def _share(self, key: str, deed: Deed) -> Draws:
        return self._told(self._of_work[key, deed], self._takes)

    def _told(self, place: int, known: Range) -> Draws:
        return np.tile(_values(self._seed, self._drawn, self._once, place, known), self._times)

    def hours(self, finish: str, stage: StageTime) -> Draws:
        """Return how long a finish takes to a stage, in the air that its time is given for. [h]"""
        return self._hours_of(finish, stage)

    def work_min(self, piece: PieceWork, operation: Operation) -> Draws:
        """Return how long an operation takes. [min]"""
        return operation.work_min * self._shares(piece.key, operation.deed)


@lru_cache(maxsize=512)
def _values(seed: int, many: int, draws: int, place: int, known: Range) -> Draws:
    """Return so many draws of a quantity: the same in every plan in which it is drawn in that place."""
    return np.array(values_at(known, _luck(seed, many, draws)[place].tolist()))


@lru_cache(maxsize=16)
def _luck(seed: int, many: int, draws: int) -> tuple[Draws, ...]:
    """Return what is drawn of so many things, one after another, each in standard deviations."""
    random = Random(seed)  # noqa: S311 - a simulation, no secret
    return tuple(np.array([deviations_of(shares) for shares in _stratified(random, draws)]) for _ in range(many))


def _stratified(random: Random, draws: int) -> list[float]:
    """Return a number from every equal part of 0 to 1, in any order."""
    parts = list(range(draws))
    random.shuffle(parts)
    return [(part + random.random()) / draws for part in parts]
