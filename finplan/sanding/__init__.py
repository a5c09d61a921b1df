"""Sanding: which grits on which part, how long it takes, what it uses up and what dust it makes."""

from finplan.sanding.plan import AbrasiveNeed, GroupSanding, SandingPlan, SandingStep, sanding_plan
from finplan.sanding.progression import Progression, progression, stand_in
from finplan.sanding.stop import stop_grit

__all__ = [
    "AbrasiveNeed",
    "GroupSanding",
    "Progression",
    "SandingPlan",
    "SandingStep",
    "progression",
    "sanding_plan",
    "stand_in",
    "stop_grit",
]
