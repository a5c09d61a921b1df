"""The materials of an order for a person."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import shorten, wrap

from finplan import nothing
from finplan.catalogue import Catalogue
from finplan.cli.coats import coat_tables
from finplan.cli.table import table
from finplan.listing import breakable
from finplan.material import ConsumableNeed, MaterialPlan, Supply, sure_percent
from finplan.quantity import Units
from finplan.showing import plain, show_amount
from finplan.telling import (
    Mixing,
    cause_words,
    keeps_words,
    left_over_words,
    not_counted,
    pack_words,
    piece_words,
    price_words,
    short_title,
    surer_words,
    total_words,
)

_WIDTH = 100
"""Letters of a line of running text."""
_TITLE = 32
"""Letters of a material's name that leave room for its packs."""


WORN_ELSEWHERE = (
    "What is worn and kept ready for safety is listed by 'finplan safety' and on the sheet, under Buy and mix."
)


def materials_lines(
    plan: MaterialPlan, catalogue: Catalogue, units: Units, safety: Sequence[ConsumableNeed] | None = None
) -> list[str]:
    """Return what each coat takes, what to measure out for it, and what to buy.

    Parameters
    ----------
    plan, catalogue, units
        The materials
    safety
        What is bought for safety; None where no timetable is known from which that follows
    """
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
        *(_consumables(plan.consumables, units) if plan.consumables else [nothing.TO_USE_UP]),
        "",
        *(["What is worn and used up for safety", "", *_consumables(safety, units), ""] if safety else []),
        *([WORN_ELSEWHERE, ""] if safety is None else []),
        *_foot(plan, units, safety),
    ]


def _make_ups(plan: MaterialPlan, catalogue: Catalogue, units: Units) -> list[str]:
    mixing = Mixing(catalogue, units)
    told = [
        f"{catalogue.finishes[make_up.finish].title}. {breakable(mixing.make_up(make_up))}" for make_up in plan.make_ups
    ]
    lines = [line for text in told for line in wrap(text, _WIDTH, subsequent_indent="  ")]
    return [*lines, ""] if lines else []


def _supplies(plan: MaterialPlan, units: Units) -> list[str]:
    shelf = any(supply.shelf.good for supply in plan.supplies)
    rows: list[list[str]] = []
    for supply in plan.supplies:
        there = show_amount(supply.shelf.good, supply.measure, units) if supply.shelf.good else ""
        held = [there] if shelf else []
        first, *others = pack_words(supply, units)
        rows.append(
            [
                shorten(short_title(supply.title), _TITLE, placeholder="…"),
                show_amount(supply.at_confidence, supply.measure, units),
                *held,
                first,
                f"{sure_percent(supply.enough_probability)} %",
                left_over_words(supply, units),
                keeps_words(supply),
                price_words(supply.cost, supply.buy),
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
    told = [f"{short_title(supply.title)}: {causes}.", surer_words(supply, plan.confidence, units)]
    return [line for text in told for line in wrap(text, _WIDTH, subsequent_indent="  ")]


def _consumables(needs: Sequence[ConsumableNeed], units: Units) -> list[str]:
    shelf = any(need.shelf.good for need in needs)
    rows = [
        [
            " ".join(filter(None, [need.grit, short_title(need.title, units)])),
            str(need.at_confidence),
            *([plain(need.shelf.good) if need.shelf.good else ""] if shelf else []),
            piece_words(need),
            price_words(need.cost, need.buy),
        ]
        for need in needs
    ]
    heading = ["what", "needed", *(["on shelf"] if shelf else []), "packs", "price"]
    return table(heading, rows, "lrrlr" if shelf else "lrlr")


def _foot(plan: MaterialPlan, units: Units, safety: Sequence[ConsumableNeed] | None) -> list[str]:
    together = f"All finishes and solvents together are enough with {sure_percent(plan.enough_probability)} %."
    lines = [together] if plan.supplies else []
    cost = total_words(plan, safety)
    if cost:
        lines.append(f"Together {cost}.")
    return [*lines, *(f"Not counted: {left}." for left in not_counted(plan, units))]
