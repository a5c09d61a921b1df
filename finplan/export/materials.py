"""The materials of an order as plain data, and as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from finplan.export.csv_text import csv_text
from finplan.export.ranges import range_data
from finplan.material import (
    CoatMix,
    CoatNeed,
    ConsumableNeed,
    Left,
    MakeUp,
    MaterialNeed,
    MaterialPlan,
    Measured,
    MixPart,
    Purchase,
    Supply,
    Use,
)
from finplan.quantity import Range

COLUMNS = (
    *("kind", "name", "title", "measure", "low", "typical", "high", "at_confidence", "on_shelf"),
    *("component", "pack", "count", "price", "cost", "enough_probability", "left_over"),
)
"""The columns of the spreadsheet; a row for every size of pack to buy, and one where nothing is bought."""


def materials_data(plan: MaterialPlan) -> dict[str, Any]:
    """Return every material with its coats and packs, and what is measured out; areas in m², measures as named."""
    return {
        "format": "finplan-materials/1",
        "confidence": plan.confidence,
        "enough_probability": plan.enough_probability,
        "cost": plan.cost,
        "materials": [
            *(_finish(need, plan) for need in plan.materials),
            *(_supply(supply, "solvent", plan) for supply in plan.solvents),
        ],
        "make_up": [_make_up(one) for one in plan.make_ups],
        "consumables": [consumable_data(need) for need in plan.consumables],
    }


def materials_csv(plan: MaterialPlan) -> str:
    """Return what to buy as comma-separated values, prices that are not given left empty."""
    return csv_text(COLUMNS, _all_rows(plan))


def _all_rows(plan: MaterialPlan) -> Iterator[list[object]]:
    for need in plan.materials:
        yield from _supply_rows("finish", need.supply)
    for supply in plan.solvents:
        yield from _supply_rows("solvent", supply)
    for one in plan.consumables:
        kind = "abrasive" if one.grit else "consumable"
        title = f"{one.title}, {one.grit}" if one.grit else one.title
        head = [kind, one.name, title, "pieces", *_figures(one.needed, one.at_confidence, one.shelf.good)]
        yield from _rows(head, one.buy, one.enough_probability, one.left_over)


def _supply_rows(kind: str, supply: Supply) -> Iterator[list[object]]:
    head = [kind, supply.material, supply.title, supply.measure]
    head += _figures(supply.needed, supply.at_confidence, supply.shelf.good)
    return _rows(head, supply.buy, supply.enough_probability, supply.left_over)


def _figures(needed: Range, at_confidence: float, on_shelf: float) -> list[Any]:
    return [_short(value) for value in (needed.low, needed.typical, needed.high, at_confidence, on_shelf)]


def _rows(head: list[Any], buy: tuple[Purchase, ...], probability: float, left_over: float) -> Iterator[list[object]]:
    tail = [f"{probability:.4f}", _short(left_over)]
    for one in buy:
        price, cost = ("", "") if one.price is None else (f"{one.price:.2f}", f"{one.price * one.count:.2f}")
        yield [*head, one.component or "", _short(one.size), one.count, price, cost, *tail]
    if not buy:
        yield [*head, "", "", 0, "", "", *tail]


def _short(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def _finish(need: MaterialNeed, plan: MaterialPlan) -> dict[str, Any]:
    data = _supply(need.supply, "finish", plan)
    coats = [{**use, **_coat(coat, plan)} for use, coat in zip(data["coats"], need.coats, strict=True)]
    return {**data, "as_put_on_ml": range_data(need.needed_ml), "coats": coats}


def _supply(supply: Supply, kind: str, plan: MaterialPlan) -> dict[str, Any]:
    data: dict[str, Any] = {
        "material": supply.material,
        "kind": kind,
        "title": supply.title,
        "measure": supply.measure,
        "needed": {**range_data(supply.needed), "at_confidence": supply.at_confidence},
        "coats": [_use(use, plan.confidence) for use in supply.uses],
        "on_shelf": supply.shelf.good,
        "spoiled": [_left(one) for one in supply.shelf.spoiled],
        "buy": [_purchase(one) for one in supply.buy],
        "enough_probability": supply.enough_probability,
        "uncertainty": [{"cause": kind, "share": share} for kind, share in supply.shares],
        "surer": _surer(supply),
        "left_over": supply.left_over,
        "left_over_keeps_h": None if supply.keeps_h is None else range_data(supply.keeps_h),
        "cost": supply.cost,
    }
    if supply.components:
        data["components"] = [
            {
                "component": part.material,
                "measure": part.measure,
                "needed": {**range_data(part.needed), "at_confidence": part.at_confidence},
                "on_shelf": part.shelf.good,
                "holds": part.holds,
            }
            for part in supply.components
        ]
    return data


def _surer(supply: Supply) -> dict[str, Any] | None:
    better = supply.surer
    return None if better is None else {"do": better.deed, "at_confidence": better.at_confidence}


def _use(use: Use, confidence: float) -> dict[str, Any]:
    return {
        "piece": use.piece,
        "item": use.item,
        "coat": use.coat,
        "area_m2": use.area_m2,
        "needed": {**range_data(use.needed), "at_confidence": use.at(confidence)},
    }


def _purchase(one: Purchase) -> dict[str, Any]:
    data: dict[str, Any] = {"pack": one.size, "count": one.count, "price": one.price}
    if one.parts:
        data["parts"] = list(one.parts)
    if one.component is not None:
        data["component"] = one.component
    return data


def _left(one: Left) -> dict[str, Any]:
    return {
        "name": one.name,
        "left": one.amount,
        "opened": None if one.opened is None else one.opened.isoformat(),
        "good_until": None if one.good_until is None else one.good_until.isoformat(),
    }


def _coat(coat: CoatNeed, plan: MaterialPlan) -> dict[str, Any]:
    """Return what a coat has beside what it needs: thinner, faces, film, and how it is mixed. Volumes in ml."""
    film, measured = coat.film, plan.measured_of(coat)
    return {
        "as_put_on_ml": range_data(coat.needed_ml),
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
        "dry_film_um": None if film is None else range_data(film.dry_um),
        "wet_film_um": None if film is None else range_data(film.wet_um),
        "comb_gauge_um": None if film is None else range_data(film.gauge_um),
        "thickness_factor": 1.0 if film is None else film.thickness_factor,
        "mix": None if len(measured) > 1 else _mix(measured[0].mix),
        "sides": [_side(one) for one in measured if one.side],
    }


def _side(one: Measured) -> dict[str, Any]:
    """Return what one side of a coat takes, and how it is mixed."""
    return {
        "coat": one.label,
        "area_m2": one.coat.area_m2,
        "as_put_on_ml": range_data(one.coat.needed_ml),
        "mix": _mix(one.mix),
    }


def _mix(mix: CoatMix) -> dict[str, Any]:
    return {
        "batches": mix.batches,
        "decant": _part(mix.decant),
        "up_to_ml": mix.up_to_ml,
        "parts": [_part(part) for part in mix.parts],
        "thinner": None if mix.thinner is None else _part(mix.thinner),
        "use_within_h": mix.use_within_h,
    }


def _part(part: MixPart) -> dict[str, Any]:
    return {"name": part.name, "volume_ml": part.volume_ml, "mass_g": part.mass_g}


def _make_up(one: MakeUp) -> dict[str, Any]:
    return {
        "finish": one.finish,
        "volume_ml": one.volume_ml,
        "parts": [_part(one.solid), _part(one.liquid)],
        "strength_g_l": one.strength_g_l,
        "cut_lb_gal": one.cut_lb_gal,
        "wait_h": None if one.wait_h is None else range_data(one.wait_h),
    }


def consumable_data(need: ConsumableNeed) -> dict[str, Any]:
    """Return one thing that is bought by the piece as plain data."""
    return {
        "consumable": need.name,
        "title": need.title,
        "grit": need.grit,
        "measure": "pieces",
        "needed": {**range_data(need.needed), "at_confidence": need.at_confidence},
        "on_shelf": need.shelf.good,
        "buy": [_purchase(one) for one in need.buy],
        "enough_probability": need.enough_probability,
        "left_over": need.left_over,
        "cost": need.cost,
    }
