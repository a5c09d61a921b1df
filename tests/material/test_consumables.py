"""What is bought by the piece: abrasives, cloths, tools, paper."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from finplan.catalogue import PiecePack
from finplan.material import AbrasiveUse, ConsumableNeed, MaterialPlan, quantile
from finplan.quantity import Range
from tests.material.pieces import CATALOGUE, job, on_shelf, order, treatment

SANDED = (AbrasiveUse("disc-150", "P120", Range(1.2, 2.4, 4.0)), AbrasiveUse("sheet", "P320", Range(0.2, 0.3, 0.5)))


def found(plan: MaterialPlan, name: str, grit: str | None = None) -> ConsumableNeed | None:
    return next(
        (consumable for consumable in plan.consumables if (consumable.name, consumable.grit) == (name, grit)), None
    )


def got(plan: MaterialPlan, name: str, grit: str | None = None) -> ConsumableNeed:
    need = found(plan, name, grit)
    assert need is not None, name
    return need


def test_abrasives_in_whole_packs() -> None:
    plan = order(job(treatment("hardwax-oil"), abrasives=SANDED))
    discs = got(plan, "disc-150", "P120")
    assert discs.at_confidence == math.ceil(quantile(Range(1.2, 2.4, 4.0), 0.9)) == 4
    assert [(one.size, one.count) for one in discs.buy] == [(5, 1)]
    assert discs.enough_probability > 0.95
    assert got(plan, "sheet", "P320").at_confidence == 1


def test_abrasives_of_several_pieces_and_of_the_shelf() -> None:
    pieces = [job(treatment("hardwax-oil"), piece=name, abrasives=SANDED) for name in "abc"]
    discs = got(order(*pieces), "disc-150", "P120")
    assert discs.needed.typical == pytest.approx(3 * 2.4)
    left = on_shelf(abrasive="disc-150", grit="P120", left=7)
    fewer = got(order(*pieces, shelf=(left,)), "disc-150", "P120")
    assert fewer.shelf.good == 7
    assert sum(one.count * one.size for one in fewer.buy) == 5  # 11 are needed
    other = on_shelf(abrasive="disc-150", grit="P180", left=50)
    assert got(order(*pieces, shelf=(other,)), "disc-150", "P120").shelf.good == 0


def test_cloths_by_area_and_coat() -> None:
    # By hand: two coats of 2 m² and of the sample's 0.06 m², 0.4 cloths a square metre and 2 a coat.
    plan = order(job(treatment("hardwax-oil")))
    assert got(plan, "lint-free-cloth").needed.typical == pytest.approx(0.4 * 2 * 2.06 + 2 * 2)


def test_a_coat_that_items_get_together_is_one() -> None:
    plan = order(job(treatment("hardwax-oil", "a"), treatment("hardwax-oil", "b")))
    assert got(plan, "mixing-cup").needed.typical == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("system", "brush", "other"),
    [
        ("oil-varnish", "bristle-brush", "synthetic-brush"),
        ("waterborne-polyurethane", "synthetic-brush", "bristle-brush"),
    ],
)
def test_the_brush_that_the_finish_wants(system: str, brush: str, other: str) -> None:
    plan = order(job(treatment(system, method="brush")))
    assert got(plan, brush).at_confidence == 1
    assert found(plan, other) is None


def test_what_safety_asks_for_is_not_among_them() -> None:
    """Who wears what when is known with the timetable; it is bought with the precautions."""
    for system in ("lacquer", "hardwax-oil", "waterborne-polyurethane", "polyurethane-2k"):
        names = {consumable.name for consumable in order(job(treatment(system))).consumables}
        assert not names & {name for caution in CATALOGUE.cautions.values() for name in caution.uses}


def test_prices() -> None:
    packs = (PiecePack(count=10, price=4.2), PiecePack(count=50, price=18.0))
    cups = CATALOGUE.consumables["mixing-cup"].model_copy(update={"packs": packs})
    catalogue = replace(CATALOGUE, consumables={**CATALOGUE.consumables, "mixing-cup": cups})
    plan = order(job(treatment("hardwax-oil")), catalogue=catalogue)
    assert got(plan, "mixing-cup").cost == pytest.approx(4.2)
    assert got(plan, "lint-free-cloth").cost is None
    assert plan.cost is None
    assert plan.known_cost == pytest.approx(4.2)
