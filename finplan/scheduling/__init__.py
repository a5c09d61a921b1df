"""Scheduling in general: activities, lags, calendars and resources, solved to proven optimum where time allows.

>>> from finplan.scheduling import Activity, Problem, solve
>>> problem = Problem((Activity.of("a", 2, {"m": 1}), Activity.of("b", 3, {"m": 1})), 10, capacities={"m": 1})
>>> solve(problem).makespan
5
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
    Span,
)
from finplan.scheduling.result import Result, Scheduled, Stage, Status
from finplan.scheduling.solve import solve

__all__ = [
    "Activity",
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
    "Rule",
    "Scheduled",
    "SerialBatch",
    "Span",
    "Stage",
    "Status",
    "broken_rules",
    "critical",
    "solve",
    "start_bounds",
]
