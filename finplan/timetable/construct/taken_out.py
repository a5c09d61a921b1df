"""A plan made better a few pieces at a time: they are taken out, and put back one by one around all the others."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from finplan.scheduling import Schedule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.laid_out import LAID_OUT_WHILE_ONE_IS_PLACED, LaidOut
from finplan.timetable.construct.network import Network
from finplan.timetable.setting import Setting

_MOST = 4
"""So many pieces are taken out at most: with more of them little of what was good about the plan is left."""
_STALE = 8
"""After so many tries for each piece in a row that bring nothing it is enough: of three pieces all has been tried."""
_SEED = 22


@dataclass(frozen=True, slots=True)
class Putting:
    """How pieces that were taken out are put back, and what makes a plan better."""

    score: Callable[[Schedule], tuple[float, ...]]
    """The lower, the better."""
    losses: Callable[[Schedule], Mapping[str, int]]
    """By piece key: by how much it could be better if it were alone in the shop."""
    back: Callable[[Bench, Sequence[str]], Schedule | None]
    """Puts pieces back, the first first; None where something finds no room."""


def renewed(
    plan: Schedule, network: Network, setting: Setting, putting: Putting, work: int, random: Random
) -> Schedule:
    """Return a plan that scores at least as well.

    Parameters
    ----------
    plan
        A plan that keeps every rule
    network, setting
        The tasks, and the shop
    putting
        How pieces are put back
    work
        So many tasks are placed, or laid out ten times as often, for all tries together
    random
        By which it is drawn (``the_same_draws``); to go on from before with the same gives others

    Notes
    -----
    Large neighbourhoods (Shaw, "Using constraint programming and local search methods to solve vehicle routing
    problems", 1998, from memory): a piece that has lost something, the sooner the more it lost, is taken out together
    with a few that are worked on in the time in which it should be. Which is drawn at random, by nothing but the
    numbers of a generator that gives the same ones everywhere.
    """
    laid = LaidOut(network, setting, plan)
    slots = {key: _span(plan, network, key) for key in dict.fromkeys(task.piece for task in network.tasks.values())}
    counts = {key: len(network.of_piece(key)) for key in slots}
    losses, best = putting.losses(plan), putting.score(plan)
    stale = 0
    while work > 0 and stale < _STALE * len(slots):
        stale += 1
        lost = {key: loss for key, loss in losses.items() if loss > 0}
        if not lost:
            break
        key = _drawn(random, lost)
        first, last = slots[key]
        reach = last + losses[key]
        near = [other for other, (begun, ended) in slots.items() if other != key and begun < reach and ended > first]
        keys = [key, *_some(random, near, int(random.random() * _MOST))]
        if random.random() < 0.5:
            keys = _some(random, keys, len(keys))
        work -= sum(counts[taken] for taken in keys) + len(network.tasks) // LAID_OUT_WHILE_ONE_IS_PLACED
        bench = laid.without(keys)
        tried = putting.back(bench, keys) if bench.is_sound() else None
        if tried is None:
            continue
        score = putting.score(tried)
        if score <= best:
            stale = stale if score == best else 0
            plan, best, losses = tried, score, putting.losses(tried)
            slots = {slot: _span(plan, network, slot) for slot in slots}
            laid = LaidOut(network, setting, plan)
    return plan


def the_same_draws() -> Random:
    """Return a generator that gives the same numbers everywhere."""
    return Random(_SEED)  # noqa: S311 - no secret


def _span(plan: Schedule, network: Network, key: str) -> tuple[int, int]:
    """Return from when to when a piece is worked on."""
    done = [plan[task.name] for task in network.of_piece(key)]
    return min(scheduled.start for scheduled in done), max(scheduled.end for scheduled in done)


def _drawn(random: Random, weights: Mapping[str, int]) -> str:
    """Return one of several, each as likely as it weighs."""
    left = random.random() * sum(weights.values())
    for key, weight in weights.items():
        left -= weight
        if left < 0:
            return key
    return max(weights)


def _some(random: Random, keys: Collection[str], count: int) -> list[str]:
    """Return so many of several, in any order."""
    return [key for _, key in sorted((random.random(), key) for key in keys)][:count]
