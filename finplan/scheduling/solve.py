"""Solving: the one door to the solver behind."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from finplan.scheduling.objective import Fewest, Makespan, Objective
from finplan.scheduling.problem import Problem
from finplan.scheduling.result import Result, Scheduled, SearchProgress


def solve(
    problem: Problem,
    objectives: Sequence[Objective] = (Makespan(),),
    *,
    limit_s: float = 60.0,
    effort: float = math.inf,
    largest: float = math.inf,
    workers: int = 8,
    seed: int = 1,
    hint: Mapping[str, Scheduled] | None = None,
    confirm: bool = True,
    progress: SearchProgress | None = None,
) -> Result:
    """Return the best schedule of a problem, and how good it is proven to be.

    Parameters
    ----------
    problem
        What is to be scheduled
    objectives
        What is wanted, the most important first; each later one keeps what the earlier ones reached. None at all: any
        schedule will do
    limit_s
        After so many seconds of wall time the best found so far is returned. [s], above 0
    effort
        So much of the solver's own deterministic time, of some seconds a unit, each objective may take: unlike the
        clock it ends the same search at the same point on every machine
    largest
        A model of more constraints than this is not searched, and the status is "unknown": of one that is very large
        the solver counts its own time too low, by a hundred times
    workers
        Threads for what one alone does not prove soon. With 1 the same problem always gets the same schedule, unless
        the limit cuts it short; with more, what they prove is certain, but which of several best schedules is not
    seed
        Of the search. Another seed may find another of several equally good schedules
    hint
        A schedule to start from, all of it or part
    confirm
        Whether to search once more, otherwise set, before anything is called impossible
    progress
        Told of every improvement

    Examples
    --------
    >>> from finplan.scheduling import Activity, Lag
    >>> saw, glue = Activity.of("saw", 2, {"bench": 1}), Activity.of("glue", 3, {"bench": 1})
    >>> cramp = Lag("glue", "saw", -4)
    >>> result = solve(Problem((saw, glue), horizon=10, relations=(cramp,), capacities={"bench": 1}))
    >>> result.status, result.makespan
    ('optimal', 5)
    """
    from finplan.scheduling.search import search

    return search(
        problem,
        objectives or (Fewest(()),),
        limit_s=limit_s,
        effort=effort,
        largest=largest,
        workers=workers,
        seed=seed,
        hint=hint or {},
        confirm=confirm,
        progress=progress,
    )
