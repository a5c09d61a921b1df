"""The materials of an order for a person."""

from __future__ import annotations

from textwrap import shorten, wrap

from finplan import nothing
from finplan.catalogue import Catalogue
from finplan.cli.coats import coat_tables, part
from finplan.cli.table import table
from finplan.material import MaterialPlan, Purchase, Supply, sure_percent
from finplan.quantity import Units
from finplan.showing import plain, show_amount, show_duration, show_pack_of, show_strength, show_volume
from finplan.telling import cause_words, surer_words

_WIDTH = 100
"""Letters of a line of running text."""
_TITLE = 32
"""Letters of a material's name that leave room for its packs."""


WORN_ELSEWHERE = (
    "What is worn and kept ready for safety is listed by 'finplan safety' and on the sheet, under Buy and mix."
)


def packs_text(supply: Supply, units: Units) -> list[str]:
    """Return the packs to buy, as a person says it, each size by itself: ``1 × 250 ml``, ``2 × 1 L``."""
    return [f"{one.count} × {pack_text(one, supply, units)}" for one in supply.buy] or ["none"]


def pack_text(one: Purchase, supply: Supply, units: Units) -> str:
    """Return one pack: its size; of a set its parts; of a component which it is."""
    if one.parts:
        return f"({' + '.join(show_pack_of(part, 'ml', units) for part in one.parts)})"
    size = show_pack_of(one.size, supply.measure, units)
    return size if one.component is None else f"{size} {one.component}"


def materials_lines(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    """Return what each coat takes, what to measure out for it, and what to buy."""
    return [
        *coat_tables(plan, catalogue, units),
        *_make_ups(plan, catalogue, units),
        f"What to buy, to have enough of each with {plain(plan.confidence * 100)} % confidence",
        "",
        *(_supplies(plan, units) if plan.supplies else [nothing.TO_BUY]),
        "",
        *_sureness(plan, units),
        "What else is used up",
        "",
        *(_consumables(plan, units) if plan.consumables else [nothing.TO_USE_UP]),
        "",
        WORN_ELSEWHERE,
        "",
        *_foot(plan, units),
    ]


def _make_ups(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    lines: list[str] = []
    for one in plan.make_ups:
        finish = catalogue.finishes[one.finish]
        strength = show_strength(one.strength_g_l, units)
        if finish.family == "shellac":
            strength += f", a {plain(one.cut_lb_gal, 2)} lb cut"
        name, parts = finish.title.partition(",")[0].lower(), f"{part(one.solid, units)} in {part(one.liquid, units)}"
        lines.append(f"Make up {show_volume(one.volume_ml, units)} of {name}: {parts} ({strength}).")
    return [*lines, ""] if lines else []


def _supplies(plan: MaterialPlan, units: Units) -> list[str]:
    shelf = any(supply.shelf.good for supply in plan.supplies)
    rows: list[list[str]] = []
    for supply in plan.supplies:
        there = show_amount(supply.shelf.good, supply.measure, units) if supply.shelf.good else ""
        held = [there] if shelf else []
        first, *others = packs_text(supply, units)
        rows.append(
            [
                shorten(supply.title.partition(" (")[0], _TITLE, placeholder="…"),
                show_amount(supply.at_confidence, supply.measure, units),
                *held,
                first,
                f"{sure_percent(supply.enough_probability)} %",
                show_amount(supply.left_over, supply.measure, units),
                show_duration(supply.keeps_h.low) if supply.keeps_h is not None else "",
                _price(supply.cost) if supply.buy else "",
            ]
        )
        rows += [["", "", *([""] if shelf else []), other, "", "", "", ""] for other in others]
    heading = ["material", "needed", *(["on shelf"] if shelf else []), "packs", "enough", "left over", "keeps", "price"]
    return table(heading, rows, "lrrlrrrr" if shelf else "lrlrrrr")


def _sureness(plan: MaterialPlan, units: Units) -> list[str]:
    """Return what makes each finish uncertain, and what would make it surer."""
    told = [(need.supply, cause_words(need.supply)) for need in plan.materials]
    lines = [line for supply, causes in told if causes for line in _sure_lines(supply, causes, plan, units)]
    return ["What makes that uncertain, by its share, and what would make it surer", "", *lines, ""] if lines else []


def _sure_lines(supply: Supply, causes: str, plan: MaterialPlan, units: Units) -> list[str]:
    told = [f"{supply.title.partition(' (')[0]}: {causes}.", surer_words(supply, plan.confidence, units)]
    return [line for text in told for line in wrap(text, _WIDTH, subsequent_indent="  ")]


def _consumables(plan: MaterialPlan, units: Units) -> list[str]:
    shelf = any(need.shelf.good for need in plan.consumables)
    rows = [
        [
            " ".join(filter(None, [need.grit, _in_units(need.title, units)])),
            str(need.at_confidence),
            *([plain(need.shelf.good) if need.shelf.good else ""] if shelf else []),
            " + ".join(f"{one.count} × {plain(one.size)}" for one in need.buy) or "none",
            _price(need.cost) if need.buy else "",
        ]
        for need in plan.consumables
    ]
    heading = ["what", "needed", *(["on shelf"] if shelf else []), "packs", "price"]
    return table(heading, rows, "lrrlr" if shelf else "lrlr")


def _in_units(title: str, units: Units) -> str:
    """Return a title without what stands in brackets in it, save where that is its size in inches."""
    name, bracket, rest = title.partition(" (")
    inside = rest.partition(")")[0]
    return f"{name}{bracket}{inside})" if units == "us" and inside.endswith(" in") else name


def _price(cost: float | None) -> str:
    return "not given" if cost is None else f"{cost:.2f}"


def _foot(plan: MaterialPlan, units: Units) -> list[str]:
    together = f"All finishes and solvents together are enough with {sure_percent(plan.enough_probability)} %."
    lines = [together] if plan.supplies else []
    if plan.known_cost:
        rest = " for what has a price; the other prices are not given" if plan.cost is None else ""
        lines.append(f"Together {plan.known_cost:.2f}{rest}.")
    for supply in plan.supplies:
        for left in supply.shelf.spoiled:
            what = supply.title if left.name == supply.material else f"{supply.title}: {left.name}"
            amount = show_amount(left.amount, supply.measure, units)
            why = f"good until {left.good_until}" if left.good_until else "after it is needed"
            lines.append(f"Not counted: {amount} of {what}, opened {left.opened}, {why}.")
    return lines
