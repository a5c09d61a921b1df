"""What is done at the bench: steps ticked and taken back in the job's record, the rest planned again; and its words."""

from finplan.bench.again import rest_planned
from finplan.bench.fault import faults_at, looked_at, scene_of
from finplan.bench.job_now import JobNow, job_now
from finplan.bench.mend import Affected, Repaired, repaired, unrepaired
from finplan.bench.noted import Noted
from finplan.bench.opened import NotHeldError, opened
from finplan.bench.stands import standing_words, standing_words_of
from finplan.bench.ticked import Ticked, step_names, tick_off
from finplan.bench.told import entry_words, late_words, left_words, tick_lines
from finplan.bench.undone import undone

__all__ = [
    "Affected",
    "JobNow",
    "NotHeldError",
    "Noted",
    "Repaired",
    "Ticked",
    "entry_words",
    "faults_at",
    "job_now",
    "late_words",
    "left_words",
    "looked_at",
    "opened",
    "repaired",
    "rest_planned",
    "scene_of",
    "standing_words",
    "standing_words_of",
    "step_names",
    "tick_lines",
    "tick_off",
    "undone",
    "unrepaired",
]
