"""Scheduling in general: activities, lags, calendars and resources, solved to proven optimum where time allows.

Time is counted in whole slots from 0 to the horizon. An activity has a duration and takes so much of each resource
while it lasts; a resource has a capacity. All precedence is a lag from start to start, of either sign: "b after a" is a
lag as long as a, "b starts at most 6 after a" is one of -6 from b to a.

>>> from finplan.scheduling import Activity, Lag, Problem, solve
>>> problem = Problem(
...     activities=(
...         Activity.of("saw", 2, {"bench": 1}),
...         Activity.of("glue", 3, {"bench": 1, "cramps": 2}),
...         Activity.of("paint", 0),
...     ),
...     horizon=20,
...     relations=(Lag("saw", "glue", 2), Lag("glue", "saw", -6), Lag("glue", "paint", 3)),
...     capacities={"bench": 1, "cramps": 4},
... )
>>> result = solve(problem, limit_s=10)
>>> result.status, result.makespan, result.schedule["glue"].start
('optimal', 5, 2)
>>> result.stages[0].bound  # what no schedule can be better than
5

What cannot be kept is a result, "impossible"; too little time is "unknown", or "feasible" with its bound. Calendars,
modes, start-dependent durations, optional activities and the rest stand in ``problem``, what can be wanted in
``objective``.
"""

from finplan.scheduling.bounds import start_bounds
from finplan.scheduling.check import broken_rules
from finplan.scheduling.critical import critical
from finplan.scheduling.objective import (
    EarliestFinish,
    EarliestStarts,
    Fewest,
    Finish,
    LargestSlack,
    LatestStarts,
    Makespan,
    Objective,
)
from finplan.scheduling.problem import (
    Activity,
    Deadline,
    Hold,
    Lag,
    Mode,
    NotAfter,
    NotBefore,
    Problem,
    ProblemError,
    Relation,
    Rule,
    SerialBatch,
    Slots,
)
from finplan.scheduling.result import Attained, Result, ResultStatus, Schedule, Scheduled
from finplan.scheduling.solve import solve

__all__ = [
    "Activity",
    "Attained",
    "Deadline",
    "EarliestFinish",
    "EarliestStarts",
    "Fewest",
    "Finish",
    "Hold",
    "Lag",
    "LargestSlack",
    "LatestStarts",
    "Makespan",
    "Mode",
    "NotAfter",
    "NotBefore",
    "Objective",
    "Problem",
    "ProblemError",
    "Relation",
    "Result",
    "ResultStatus",
    "Rule",
    "Schedule",
    "Scheduled",
    "SerialBatch",
    "Slots",
    "broken_rules",
    "critical",
    "solve",
    "start_bounds",
]
