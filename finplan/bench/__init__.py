"""What is done at the bench: steps ticked and taken back in the job's record, the rest planned again; and its words."""

from finplan.bench.again import rest_planned
from finplan.bench.job_now import JobNow, job_now
from finplan.bench.opened import NotHeldError, opened
from finplan.bench.ticked import Noted, Ticked, step_names, ticked
from finplan.bench.told import entry_words, late_words, tick_lines
from finplan.bench.undone import undone

__all__ = [
    "JobNow",
    "NotHeldError",
    "Noted",
    "Ticked",
    "entry_words",
    "job_now",
    "late_words",
    "opened",
    "rest_planned",
    "step_names",
    "tick_lines",
    "ticked",
    "undone",
]
