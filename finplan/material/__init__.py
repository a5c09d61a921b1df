"""Materials: how much of everything, how sure, in cans that exist."""

from finplan.material.absorption import Absorption, absorption
from finplan.material.cause import Cause, CauseKind, Term, cause, deviation
from finplan.material.consumables import ConsumableNeed, bought_by_piece
from finplan.material.film import Film, planned_film, thickness_factor
from finplan.material.job import AbrasiveUse, MaterialJob, coat_needs
from finplan.material.learnt import NO_LESSONS, CauseKey, Learnt, Lessons
from finplan.material.market import Market
from finplan.material.measured import MeasuredOut, share_of_faces
from finplan.material.measuring import weighed
from finplan.material.mix import components_ml
from finplan.material.mixing import CoatMix, MakeUp, MixPart, coat_mix, joint_parts, thinned_cut
from finplan.material.need import CoatNeed, GroupNeed, coat_need
from finplan.material.packs import Offer, Purchase, cheapest_packs
from finplan.material.plan import DEFAULT_CONFIDENCE, MaterialNeed, MaterialPlan, material_plan
from finplan.material.quantile import deviations_of, probability_below, quantile, sure_percent, values_at
from finplan.material.shelf import Left, OnShelf
from finplan.material.solution import cut_of, solution, thinned_strength
from finplan.material.spread_rate import thinned_solids, wet_film
from finplan.material.supply import Supply
from finplan.material.surer import Surer, SurerDeed
from finplan.material.total import Total, shares, total
from finplan.material.use import SAMPLE, Use

__all__ = [
    "DEFAULT_CONFIDENCE",
    "NO_LESSONS",
    "SAMPLE",
    "AbrasiveUse",
    "Absorption",
    "Cause",
    "CauseKey",
    "CauseKind",
    "CoatMix",
    "CoatNeed",
    "ConsumableNeed",
    "Film",
    "GroupNeed",
    "Learnt",
    "Left",
    "Lessons",
    "MakeUp",
    "Market",
    "MaterialJob",
    "MaterialNeed",
    "MaterialPlan",
    "MeasuredOut",
    "MixPart",
    "Offer",
    "OnShelf",
    "Purchase",
    "Supply",
    "Surer",
    "SurerDeed",
    "Term",
    "Total",
    "Use",
    "absorption",
    "bought_by_piece",
    "cause",
    "cheapest_packs",
    "coat_mix",
    "coat_need",
    "coat_needs",
    "components_ml",
    "cut_of",
    "deviation",
    "deviations_of",
    "joint_parts",
    "material_plan",
    "planned_film",
    "probability_below",
    "quantile",
    "share_of_faces",
    "shares",
    "solution",
    "sure_percent",
    "thickness_factor",
    "thinned_cut",
    "thinned_solids",
    "thinned_strength",
    "total",
    "values_at",
    "weighed",
    "wet_film",
]
