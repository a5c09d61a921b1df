"""Sanding: which grits on which part, how long it takes, what it uses up and what dust it makes."""

from finplan.sanding.cutting import mass_g
from finplan.sanding.depth import budget_mm, depth_mm, removed_mm
from finplan.sanding.dust import airborne_mg_m3, loose_l
from finplan.sanding.group import GroupSanding, Veneer, grits_of
from finplan.sanding.kept import in_kept_grades
from finplan.sanding.order import GLUED, OrderDeed, OrderStep, SandingStage
from finplan.sanding.packs import whole_packs
from finplan.sanding.plan import AbrasiveNeed, LaterWork, SandingPlan, sanding_plan
from finplan.sanding.progression import Fall, Progression, progression
from finplan.sanding.refusal import sanding_findings
from finplan.sanding.step import SandingStep
from finplan.sanding.stock import Stock
from finplan.sanding.stop import Finest

__all__ = [
    "GLUED",
    "AbrasiveNeed",
    "Fall",
    "Finest",
    "GroupSanding",
    "LaterWork",
    "OrderDeed",
    "OrderStep",
    "Progression",
    "SandingPlan",
    "SandingStage",
    "SandingStep",
    "Stock",
    "Veneer",
    "airborne_mg_m3",
    "budget_mm",
    "depth_mm",
    "grits_of",
    "in_kept_grades",
    "loose_l",
    "mass_g",
    "progression",
    "removed_mm",
    "sanding_findings",
    "sanding_plan",
    "whole_packs",
]
