"""Materials: how much of everything, how sure, in cans that exist."""

from finplan.material.absorption import absorption
from finplan.material.consumables import ConsumableNeed
from finplan.material.film import Film, planned_film, thickness_factor
from finplan.material.job import SAMPLE, AbrasiveUse, MaterialJob, coat_needs
from finplan.material.mix import components_ml
from finplan.material.mixing import CoatMix, MakeUp, MixPart, coat_mix, thinned_cut
from finplan.material.need import CoatNeed, GroupNeed, coat_need
from finplan.material.packs import Offer, Purchase, cheapest_packs
from finplan.material.plan import DEFAULT_CONFIDENCE, MaterialNeed, MaterialPlan, material_plan
from finplan.material.quantile import probability_below, quantile, sum_quantile, sure_percent
from finplan.material.shelf import Left, OnShelf
from finplan.material.solution import cut_of, solution, thinned_strength
from finplan.material.spread_rate import spread_rate, thinned_solids, wet_film
from finplan.material.supply import Supply, Use
from finplan.material.words import poured_words

__all__ = [
    "DEFAULT_CONFIDENCE",
    "SAMPLE",
    "AbrasiveUse",
    "CoatMix",
    "CoatNeed",
    "ConsumableNeed",
    "Film",
    "GroupNeed",
    "Left",
    "MakeUp",
    "MaterialJob",
    "MaterialNeed",
    "MaterialPlan",
    "MixPart",
    "Offer",
    "OnShelf",
    "Purchase",
    "Supply",
    "Use",
    "absorption",
    "cheapest_packs",
    "coat_mix",
    "coat_need",
    "coat_needs",
    "components_ml",
    "cut_of",
    "material_plan",
    "planned_film",
    "poured_words",
    "probability_below",
    "quantile",
    "solution",
    "spread_rate",
    "sum_quantile",
    "sure_percent",
    "thickness_factor",
    "thinned_cut",
    "thinned_solids",
    "thinned_strength",
    "wet_film",
]
