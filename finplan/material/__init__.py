"""Materials: how much of everything, how sure, in cans that exist."""

from finplan.material.mix import components_ml
from finplan.material.need import CoatNeed, GroupNeed, absorption, coat_need
from finplan.material.packs import Purchase, cheapest_packs
from finplan.material.plan import DEFAULT_CONFIDENCE, MaterialNeed, MaterialPlan, material_plan
from finplan.material.quantile import probability_below, quantile, sure_percent
from finplan.material.spread_rate import spread_rate, thinned_solids, wet_film

__all__ = [
    "DEFAULT_CONFIDENCE",
    "CoatNeed",
    "GroupNeed",
    "MaterialNeed",
    "MaterialPlan",
    "Purchase",
    "absorption",
    "cheapest_packs",
    "coat_need",
    "components_ml",
    "material_plan",
    "probability_below",
    "quantile",
    "spread_rate",
    "sure_percent",
    "thinned_solids",
    "wet_film",
]
