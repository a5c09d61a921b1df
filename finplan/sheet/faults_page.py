"""The page 'If a coat goes wrong', where it is asked for: one page at most, what does not fit on it named."""

from __future__ import annotations

import math
from dataclasses import dataclass

from finplan.listing import listed
from finplan.planning import Plan
from finplan.telling import JobFault, job_faults

_LINES = 76
"""Lines of its size of type that fit on a page below its heading, of either paper."""
_LOOKS, _DONE = 34, 92
"""Letters of a line, of how a fault looks and of what is done."""


@dataclass(frozen=True, slots=True)
class FaultsPage:
    """The faults that fit on the page, and the names of those that do not."""

    faults: tuple[JobFault, ...]
    others: str
    """Empty where all fit."""


def faults_page(plan: Plan) -> FaultsPage:
    """Return what is printed of what can go wrong with the coats of a plan."""
    shown: list[JobFault] = []
    others: list[str] = []
    left = float(_LINES)
    for fault in job_faults(plan):
        takes = _lines(fault)
        if others or takes > left:
            others.append(fault.title.lower())
            continue
        left -= takes
        shown.append(fault)
    return FaultsPage(tuple(shown), listed(others))


def _lines(fault: JobFault) -> float:
    """Return how many lines a fault takes, with the space below it."""
    looks = math.ceil(len(fault.looks) / _LOOKS) + math.ceil(len(fault.title) / _LOOKS)
    done = sum(math.ceil((len(fault_done.finishes) + len(fault_done.words) + 2) / _DONE) for fault_done in fault.done)
    return max(looks, done) + _SPACE


_SPACE = 0.4
