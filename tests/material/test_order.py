"""Whole orders: several pieces together, sample boards, and what may never grow or shrink."""

from __future__ import annotations

from dataclasses import replace
from math import log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.material import SAMPLE, MaterialPlan
from finplan.quantity import Range
from finplan.system import Treatment
from tests.material.pieces import CATALOGUE, job, order, treatment

SYSTEMS = sorted(CATALOGUE.systems)


def needed(plan: MaterialPlan) -> dict[str, tuple[float, float, float, float]]:
    return {
        supply.material: (supply.needed.low, supply.needed.typical, supply.needed.high, supply.at_confidence)
        for supply in plan.supplies
    }


def never_less(small: MaterialPlan, large: MaterialPlan) -> None:
    """Everything that the small order needs the large one needs as well, and at least as much of it."""
    more = needed(large)
    for name, figures in needed(small).items():
        for one, other in zip(figures, more[name], strict=True):
            assert other >= one * (1 - 1e-9), name


@settings(max_examples=40)
@given(st.sampled_from(SYSTEMS), st.floats(0.01, 20), st.floats(0, 10), st.sampled_from(["P120", "P180", "P240"]))
def test_more_area_never_needs_less(system: str, area_m2: float, more_m2: float, grit: str) -> None:
    small = order(job(treatment(system, area_m2=area_m2), grit=grit))
    never_less(small, order(job(treatment(system, area_m2=area_m2 + more_m2), grit=grit)))


@settings(max_examples=40)
@given(st.sampled_from(SYSTEMS), st.integers(1, 5))
def test_more_coats_never_need_less(system: str, coats: int) -> None:
    never_less(order(job(treatment(system, coats=coats))), order(job(treatment(system))))


@settings(max_examples=40)
@given(st.sampled_from(SYSTEMS), st.floats(0.5, 0.999), st.floats(0.5, 0.999))
def test_more_confidence_never_needs_less(system: str, one: float, other: float) -> None:
    unsure, sure = sorted((one, other))
    never_less(order(job(treatment(system)), sure=unsure), order(job(treatment(system)), sure=sure))


@settings(max_examples=30)
@given(
    st.lists(st.tuples(st.sampled_from(SYSTEMS), st.floats(0.05, 5)), min_size=2, max_size=4),
    st.integers(0, 15),
)
def test_in_two_files_and_ordered_together_no_more_is_needed(items: list[tuple[str, float]], split: int) -> None:
    treated = [treatment(system, f"item {n}", area) for n, (system, area) in enumerate(items)]
    whole = order(job(*treated))
    parts = [tuple(one for n, one in enumerate(treated) if bool(split >> n & 1) is side) for side in (False, True)]
    together = order(*(job(*part, piece=f"piece {n}") for n, part in enumerate(parts) if part))
    for name, figures in needed(whole).items():
        assert needed(together)[name] == pytest.approx(figures), name
    assert needed(together).keys() == needed(whole).keys()
    bought, apart = ({supply.material: supply.buy for supply in plan.supplies} for plan in (whole, together))
    assert bought == apart
    assert {consumable.name: consumable.at_confidence for consumable in together.consumables} == {
        consumable.name: consumable.at_confidence for consumable in whole.consumables
    }


def test_ordered_apart_they_need_more() -> None:
    one, other = treatment("oil-varnish", "one"), treatment("oil-varnish", "other")
    together = needed(order(job(one), job(other, piece="other")))["oil-varnish"]
    apart = [needed(order(job(each)))["oil-varnish"] for each in (one, other)]
    assert together[1] < apart[0][1] + apart[1][1]  # each would fill a pot and try a board of its own


def test_every_system_is_tried_on_one_board() -> None:
    plan = order(job(treatment("wax", "a"), treatment("wax", "b"), treatment("hardwax-oil", "c")))
    boards = [coat for need in plan.materials for coat in need.coats if coat.item == SAMPLE]
    assert sorted(coat.step.id for coat in boards) == [
        "sample board/hardwax-oil/2",
        "sample board/hardwax-oil/4",
        "sample board/wax/2",
        "sample board/wax/3",
    ]
    assert {coat.area_m2 for coat in boards} == {0.06}


def test_a_sample_board_takes_what_its_area_takes() -> None:
    # By hand: 0.06 m² of oil at 22 m²/L on beech, of which a tenth stays in the cloth: 3.03 ml.
    plan = order(job(treatment("hardwax-oil")))
    board = next(coat for coat in plan.materials[0].coats if coat.item == SAMPLE)
    assert board.needed_ml.typical == pytest.approx(0.06 / 22 * 1000 / 0.9)
    # How large the offcut is is one more thing that is not known.
    (term,) = board.groups[0].terms_ml
    (size,) = (cause.log_sd for cause in term.causes if cause.of == ("", SAMPLE, "hardwax-oil"))
    assert size == pytest.approx(log(0.1 / 0.04) / 2 / 1.6448536)
    assert board.fixed_ml == Range(0.0, 0.0, 0.0)


def test_all_of_it_together_is_less_sure_than_the_least() -> None:
    plan = order(job(treatment("alkyd-enamel", method="brush")))
    each = [supply.enough_probability for supply in plan.supplies]
    assert plan.enough_probability == pytest.approx(np.prod(each))
    assert plan.enough_probability <= min(each)


def test_pieces_of_one_name_and_nothing_at_all() -> None:
    twice = order(job(treatment("wax"), piece="a"), job(treatment("wax"), piece="b"))
    assert len(twice.measured) == len({(coat.piece, coat.step.id) for need in twice.materials for coat in need.coats})
    empty = order(job())
    assert (empty.materials, empty.solvents, empty.consumables, empty.cost) == ((), (), (), 0)
    assert empty.enough_probability == 1.0


def test_the_same_order_is_the_same_plan() -> None:
    assert order(job(treatment("shellac"))) == order(job(treatment("shellac")))


def of_timber(one: Treatment, timber: str) -> Treatment:
    (group,) = one.groups
    other = replace(group, timber=timber)
    return replace(one, groups=(other,), steps=tuple(replace(step, groups=(other,)) for step in one.steps))


def test_the_sample_is_of_the_timber_that_drinks_most() -> None:
    # So that a little more of one timber never makes the board change to one that takes less.
    beech, oak = treatment("hardwax-oil", "beech", 3.0), of_timber(treatment("hardwax-oil", "oak", 0.1), "white-oak")
    plan = order(job(beech, oak))
    boards = [coat for coat in plan.materials[0].coats if coat.item == SAMPLE]
    assert boards[0].groups[0].group.timber == "white-oak"


@settings(max_examples=30)
@given(st.floats(0.5, 2), st.floats(0, 0.1))
def test_more_area_of_either_timber_never_needs_less(area_m2: float, more_m2: float) -> None:
    oak = of_timber(treatment("hardwax-oil", "oak", 1.0), "white-oak")
    small = order(job(oak, treatment("hardwax-oil", "beech", area_m2)))
    never_less(small, order(job(oak, treatment("hardwax-oil", "beech", area_m2 + more_m2))))
