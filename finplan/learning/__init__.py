"""What a shop learns from its own ticks: how thick it lays a finish on, how long it works, how fast its coats dry.

The catalogue's ranges say what is known beforehand, by cause; what was weighed and timed says more. No file, no clock
and no ledger here: observations come in as values.
"""

from finplan.learning.coated import Coated, Weighed, coated_of
from finplan.learning.pace import SORTS, Pace, Timed, paces
from finplan.learning.rate import lessons
from finplan.learning.said import Rate, Said, SetAside
from finplan.learning.times import NO_TIMES, OwnTime, Times, times_of

__all__ = [
    "NO_TIMES",
    "SORTS",
    "Coated",
    "OwnTime",
    "Pace",
    "Rate",
    "Said",
    "SetAside",
    "Timed",
    "Times",
    "Weighed",
    "coated_of",
    "lessons",
    "paces",
    "times_of",
]
