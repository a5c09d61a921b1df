"""The materials of a piece as plain data."""

from __future__ import annotations

from typing import Any

from finplan.export.ranges import range_data
from finplan.material import MaterialPlan, quantile


def materials_data(plan: MaterialPlan) -> dict[str, Any]:
    """Return every material with its coats and packs; volumes in ml, areas in m²."""
    return {
        "format": "finplan-materials/1",
        "confidence": plan.confidence,
        "materials": [
            {
                "material": need.material,
                "measure": "ml",
                "needed": {**range_data(need.needed_ml), "at_confidence": need.at_confidence_ml},
                "coats": [
                    {
                        "item": coat.item,
                        "coat": coat.step.label,
                        "area_m2": coat.area_m2,
                        "needed": {
                            **range_data(coat.needed_ml),
                            "at_confidence": quantile(coat.needed_ml, plan.confidence),
                        },
                        "thinner": range_data(coat.thinner_ml),
                        "groups": [
                            {
                                "part": group.group.part,
                                "faces": list(group.group.faces),
                                "area_m2": group.group.area_m2,
                                "liquid": range_data(group.needed_ml),
                            }
                            for group in coat.groups
                        ],
                        "stays_in_tool": range_data(coat.fixed_ml),
                    }
                    for coat in need.coats
                ],
                "on_shelf": 0.0,
                "buy": [
                    {"pack": purchase.size_ml, "count": purchase.count, "price": purchase.price}
                    for purchase in need.buy
                ],
                "enough_probability": need.enough_probability,
                "left_over": need.left_over_ml,
                "cost": need.cost,
            }
            for need in plan.materials
        ],
        "consumables": [],
    }
