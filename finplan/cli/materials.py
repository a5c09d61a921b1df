"""The materials of a piece for a person."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.cli.table import table
from finplan.material import MaterialNeed, MaterialPlan, sure_percent
from finplan.quantity import Units
from finplan.showing import plain, show_area, show_pack, show_volume


def packs_text(need: MaterialNeed, units: Units) -> str:
    """Return the packs to buy, as a person says it: ``1 × 250 ml + 2 × 1 L``."""
    return " + ".join(f"{purchase.count} × {show_pack(purchase.size_ml, units)}" for purchase in need.buy)


def materials_lines(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return what each coat takes, and what to buy."""
    coats = [
        [
            coat.item,
            coat.step.label,
            catalogue.finishes[coat.finish].title,
            show_area(coat.area_m2, units),
            show_volume(coat.needed_ml.low, units),
            show_volume(coat.needed_ml.typical, units),
            show_volume(coat.needed_ml.high, units),
            show_volume(coat.thinner_ml.typical, units) if coat.thinner_ml.typical else "",
        ]
        for need in plan.materials
        for coat in need.coats
    ]
    buy = [
        [
            catalogue.finishes[need.material].title,
            show_volume(need.at_confidence_ml, units),
            packs_text(need, units),
            f"{sure_percent(need.enough_probability)} %",
            show_volume(need.left_over_ml, units),
            "not given" if need.cost is None else plain(need.cost, 4),
        ]
        for need in plan.materials
    ]
    return [
        "What each coat takes",
        "",
        *table(["item", "coat", "finish", "area", "low", "typical", "high", "thinner"], coats, "lllrrrrr"),
        "",
        f"What to buy, to have enough with {plan.confidence * 100:.0f} % confidence",
        "",
        *table(["material", "needed", "packs", "enough", "left over", "price"], buy, "lrlrrr"),
    ]
