"""What to buy, as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from finplan.data.csv_text import csv_text
from finplan.material import ConsumableNeed, MaterialPlan, Purchase, Supply
from finplan.quantity import Range

COLUMNS = (
    *("kind", "name", "title", "measure", "low", "typical", "high", "at_confidence", "on_shelf"),
    *("component", "pack", "count", "price", "cost", "enough_probability", "left_over"),
)
"""The columns of the spreadsheet; a row for every size of pack to buy, and one where nothing is bought."""


def materials_csv(plan: MaterialPlan, safety: Sequence[ConsumableNeed] | None = None) -> str:
    """Return what to buy as comma-separated values, prices that are not given left empty.

    Parameters
    ----------
    plan
        The materials
    safety
        What is bought for safety, where a timetable is known from which that follows
    """
    return csv_text(COLUMNS, _all_rows(plan, safety or ()))


def _all_rows(plan: MaterialPlan, safety: Sequence[ConsumableNeed]) -> Iterator[list[object]]:
    for material in plan.materials:
        yield from _supply_rows("finish", material.supply)
    for supply in plan.solvents:
        yield from _supply_rows("solvent", supply)
    pieces = [("abrasive" if consumable.grit else "consumable", consumable) for consumable in plan.consumables]
    for kind, need in [*pieces, *(("safety", need) for need in safety)]:
        title = f"{need.title}, {need.grit}" if need.grit else need.title
        head = [kind, need.name, title, "pieces", *_figures(need.needed, need.at_confidence, need.shelf.good)]
        yield from _rows(head, need.buy, need.enough_probability, need.left_over)


def _supply_rows(kind: str, supply: Supply) -> Iterator[list[object]]:
    head = [kind, supply.material, supply.title, supply.measure]
    head += _figures(supply.needed, supply.at_confidence, supply.shelf.good)
    return _rows(head, supply.buy, supply.enough_probability, supply.left_over)


def _figures(needed: Range, at_confidence: float, on_shelf: float) -> list[Any]:
    return [_short(value) for value in (needed.low, needed.typical, needed.high, at_confidence, on_shelf)]


def _rows(head: list[Any], buy: tuple[Purchase, ...], probability: float, left_over: float) -> Iterator[list[object]]:
    tail = [f"{probability:.4f}", _short(left_over)]
    for purchase in buy:
        price, cost = (
            ("", "") if purchase.price is None else (f"{purchase.price:.2f}", f"{purchase.price * purchase.count:.2f}")
        )
        yield [*head, purchase.component or "", _short(purchase.size), purchase.count, price, cost, *tail]
    if not buy:
        yield [*head, "", "", 0, "", "", *tail]


def _short(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
