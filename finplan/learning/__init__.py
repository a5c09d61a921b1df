"""What a shop learns from its own ticks: how thick it lays a finish on, how long it works, how fast its coats dry.

The catalogue's ranges say what is known beforehand, by cause; what was weighed and timed says more. No file, no clock
and no ledger here: observations come in as values.

Names are imported when they are asked for: whoever checks a file needs only what a piece is made with.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from finplan.lazy import lazily

if TYPE_CHECKING:
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

if not TYPE_CHECKING:
    __getattr__ = lazily(
        __name__,
        {
            "coated": (
                "Coated",
                "Weighed",
                "coated_of",
            ),
            "pace": (
                "SORTS",
                "Pace",
                "Timed",
                "paces",
            ),
            "rate": ("lessons",),
            "said": (
                "Rate",
                "Said",
                "SetAside",
            ),
            "times": (
                "NO_TIMES",
                "OwnTime",
                "Times",
                "times_of",
            ),
        },
    )
