"""In which order pieces are placed: what lost most by coming late in it is moved to the front, while that pays."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeVar

_Plan = TypeVar("_Plan")
_SHARES = (0.0, 0.5, 1.0, 2.0, 3.0)
"""So many times what a piece takes of the shop it comes later among the others."""


def by_share(latest: Mapping[str, int], due: Mapping[str, int], shares: Mapping[str, float]) -> Iterator[list[str]]:
    """Give orders from which to go on: what is due last, or could be begun last, first, what takes much later.

    Parameters
    ----------
    latest, due
        By key: how late each could be begun alone, and when it is due. [slot]
    shares
        By key: how long each would take all of the shop. [slots]

    Notes
    -----
    Placed backwards, each piece delays all that come after it by its share: for the sum of starts small ones go first,
    as far as their dates let them (Smith, "Various optimizers for single-stage production", 1956, from memory).
    """

    def late(moment: Mapping[str, int], times: float) -> list[str]:
        return sorted(latest, key=lambda key: (times * shares[key] - moment[key], key))

    for times in _SHARES:
        yield late(due, times)
        yield late(latest, times)
    yield sorted(latest, key=lambda key: (shares[key], key))


def reordered(
    order: Sequence[str],
    plan: _Plan,
    place: Callable[[Sequence[str]], _Plan | None],
    losses: Callable[[_Plan], Mapping[str, int]],
    score: Callable[[_Plan], tuple[float, ...]],
    tries: int,
) -> tuple[Sequence[str], _Plan, int]:
    """Return an order with a plan that scores at least as well, and how many tries are left.

    Parameters
    ----------
    order, plan
        One that is known, with its plan
    place
        Gives the plan of an order; None where something finds no room
    losses
        By key: by how much what is placed could be better if it were placed alone
    score
        How good a plan is: the lower, the better
    tries
        So many orders are tried at most

    Notes
    -----
    Whatever has lost something is tried at the front, half way there and one place on, what has lost most first: what
    takes little of the shop is so taken before what takes much and hardly notices.
    """
    failed: set[tuple[str, int]] = set()
    while tries > 0:
        lost = losses(plan)
        at = {key: number for number, key in enumerate(order)}
        moves = [
            (key, to)
            for key in sorted(lost, key=lambda key: (-lost[key], key))
            if lost[key] > 0 and key in at
            for to in dict.fromkeys((0, at[key] // 2, at[key] - 1))
            if to < at[key] and (key, to) not in failed
        ]
        for key, to in moves:
            if tries <= 0:
                break
            tries -= 1
            others = [other for other in order if other != key]
            moved = [*others[:to], key, *others[to:]]
            tried = place(moved)
            if tried is not None and score(tried) < score(plan):
                order, plan = moved, tried
                failed.clear()
                break
            failed.add((key, to))
        else:
            break
    return order, plan, tries
