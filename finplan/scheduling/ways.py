"""How the solver is set: two ways of searching that take turns, since each proves what the other does not.

The quick way finds good schedules soon. The bounding way raises the bound instead, and weighs all work against all
capacity, which alone proves the optimum where a resource is busy throughout. Each turn starts afresh from the best
schedule and bound so far, and forgets what else was learnt: so turns are few, and soon long.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import count

from finplan.scheduling.objective import EarliestFinish, EarliestStarts, LargestSlack, Makespan, Objective

Choices = Mapping[str, bool | int]

QUICK: Choices = {
    "cp_model_probing_level": 0,
    "linearization_level": 0,
    "symmetry_level": 0,
    "max_presolve_iterations": 1,
}
BOUNDING: Choices = {**QUICK, "use_objective_lb_search": True, "use_overload_checker_in_cumulative": True}
OTHERWISE: Choices = {**QUICK, "cp_model_probing_level": 2, "linearization_level": 1}
"""Set otherwise than both, to confirm what one of them has proven."""

FIRST_TURN = 0.1
TURNS_GROW = 8.0
BOUNDING_SHARE = 0.5
TURNS_ALONE = 3
"""After so many turns of each, all threads search together, where there are several."""
TIE_BREAK = 0.1
"""Efforts in the solver's deterministic units, of some seconds each: the same search ends at the same point."""


def turns(objective: Objective, workers: int) -> Iterator[tuple[Choices, float]]:
    """Return how to search for an objective, way after way, each with its effort.

    Parameters
    ----------
    objective
        What is wanted
    workers
        Threads; with several the last turn is theirs together, each on a way of its own
    """
    match objective:
        case EarliestStarts():
            yield QUICK, TIE_BREAK
        case Makespan() | EarliestFinish() | LargestSlack():
            for turn in count():
                if turn == TURNS_ALONE and workers > 1:
                    yield {"num_workers": workers}, math.inf
                    return
                effort = FIRST_TURN * TURNS_GROW**turn
                yield QUICK, effort
                yield BOUNDING, effort * BOUNDING_SHARE
        case _:
            yield QUICK, math.inf
