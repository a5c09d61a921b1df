"""A plan made better a piece at a time: one moves, all others stay, in turns until nothing more is gained."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from finplan.scheduling import (
    EarliestFinish,
    Fewest,
    LatestStarts,
    Objective,
    Schedule,
    Slots,
    neighbourhood,
    solve,
)
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation
from finplan.timetable.problem import Placement

_AT_ONCE = 24
"""So many operations move together: a small model is soon searched to its end."""
_EFFORT = 0.1
"""Of the solver for each objective of a neighbourhood, in its own units of time."""
_LARGEST_MODEL = 15_000
"""Constraints. With more of them, of items that may be begun weeks sooner or later, no plan was found with this effort,
and the solver took half a gigabyte."""
_ROUNDS = 2


@dataclass(frozen=True, slots=True)
class Wanted:
    """What makes a plan better: the score falls. ``late``: by later starts; else by earlier ends."""

    score: Callable[[Schedule], tuple[float, ...]]
    late: bool
    loss: Callable[[Schedule], Mapping[str, int]]
    """By piece key: by how much it could be better if it were alone in the shop."""
    most: int
    """So many neighbourhoods are looked at."""
    left_s: Callable[[], float]
    """What is left of the time: the net beyond the counted effort. [s]"""


def improved(plan: Schedule, placement: Placement, pieces: Sequence[PieceWork], wanted: Wanted) -> Schedule:
    """Return a plan that scores at least as well.

    Parameters
    ----------
    plan
        A plan that keeps every rule
    placement
        The problem of all pieces
    pieces
        The pieces
    wanted
        What makes it better
    """
    chains = dict(zip((piece.key for piece in pieces), placement.chains, strict=True))
    by_key = {piece.key: piece for piece in pieces}
    looked = 0
    for _ in range(_ROUNDS):
        before = plan
        losses = wanted.loss(plan)
        for key in sorted(losses, key=lambda one: -losses[one]):
            if losses[key] <= 0 or looked >= wanted.most or wanted.left_s() <= 0:
                break
            looked += 1
            tried = _moved(plan, placement, by_key[key], chains[key], wanted)
            if tried is not None and wanted.score(tried) < wanted.score(plan):
                plan = tried
        if plan is before:
            break
    return plan


def _moved(
    plan: Schedule, placement: Placement, piece: PieceWork, chain: tuple[str, ...], wanted: Wanted
) -> Schedule | None:
    """Return a plan in which what matters most of a piece is where it is best; None where nothing is found."""
    operations = list(_moving(plan, piece, late=wanted.late))
    again = {one.again.id for one in operations if one.again is not None} & set(placement.again)
    free = {one.id for one in operations} | again
    starts = [plan[one.id].start for one in piece.open] + [plan[name].start for name in again if name in plan]
    ends = [plan[one.id].end for one in piece.open]
    due = [one.at for one in placement.problem.deadlines if one.activity in free]
    within = Slots(min(starts), max([*ends, *due]) if wanted.late else max(ends))
    small = neighbourhood(placement.problem, plan, free, within, chain)
    tails = tuple(name for batch in small.batches for name in batch.tails)
    finishes = tuple(one for one in placement.finishes[piece.key] if one.activity in free)
    main: Objective = LatestStarts((chain,)) if wanted.late else EarliestFinish(finishes)
    objectives = [*([Fewest(tuple(sorted(again)))] if again else []), main, Fewest(tails)]
    result = solve(
        small,
        objectives,
        limit_s=max(wanted.left_s(), 0.1),
        effort=_EFFORT,
        largest=_LARGEST_MODEL,
        workers=1,
        hint=plan,
        confirm=False,
    )
    if not result.schedule:
        return None
    moved = free | set(tails)
    kept = {name: one for name, one in plan.items() if name not in moved}
    return kept | {name: one for name, one in result.schedule.items() if name in moved}


def _moving(plan: Schedule, piece: PieceWork, *, late: bool) -> Iterator[Operation]:
    """Give what moves of a piece: all of it, or the items that are begun first, or ended last."""
    items: dict[str, list[Operation]] = {}
    for operation in piece.open:
        items.setdefault(operation.item, []).append(operation)

    def first(item: str) -> int:
        return min(plan[one.id].start for one in items[item]) if late else -max(plan[one.id].end for one in items[item])

    given = 0
    for item in sorted(items, key=first):
        if given and given + len(items[item]) > _AT_ONCE:
            return
        yield from items[item]
        given += len(items[item])
