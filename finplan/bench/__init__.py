"""What is done at the bench: steps ticked and taken back in the job's record, the rest planned again; and its words."""

from finplan.bench.again import rest_planned
from finplan.bench.opened import opened
from finplan.bench.ticked import Noted, Ticked, ticked
from finplan.bench.told import tick_lines
from finplan.bench.undone import undone

__all__ = ["Noted", "Ticked", "opened", "rest_planned", "tick_lines", "ticked", "undone"]
