"""What mends a coat, woven into the treatment in which it is: every fault in every finish that a system puts on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.material import MaterialPlan
from finplan.planning import PlannedPiece, read_sources
from finplan.system import CoatRepair, CoatStep, Treatment, mended
from tests.plans import plan_of

CATALOGUE = bundled_catalogue()
SHELF = """piece: Wall shelf
lengths: mm
timber: {timber}
system: {system}
set: {alike}
parts:
  board: {{count: 2, shape: rectangle, length: 900, width: 220, thickness: 20, edge: {{top: roundover 3}}}}
"""
NOW = datetime(2027, 3, 1, 8, tzinfo=UTC)


def shelf(folder: Path, system: str, timber: str = "sugar-maple", alike: int = 1) -> PlannedPiece:
    file, shop = folder / f"{system}.yaml", folder / "shop.yaml"
    file.write_text(SHELF.format(system=system, timber=timber, alike=alike), encoding="utf-8")
    shop.write_text("shop: Teal Row\nmethods: [wipe, pad, brush, roller, spatula, spray-hvlp]\n", encoding="utf-8")
    return plan_of(read_sources([file], shop), now=NOW).pieces[0]


def _coats(treatment: Treatment) -> Iterator[CoatStep]:
    """Give the last coat of each finish, and the first of the first."""
    last = {step.finish: step for step in treatment.put_on}
    yield from dict.fromkeys((treatment.put_on[0], *last.values()))


@pytest.mark.parametrize("system", list(CATALOGUE.systems))
def test_every_fault_of_every_coat_of_a_system_can_be_mended(tmp_path: Path, system: str) -> None:
    """Its steps are work with hours, in the order of the chain, and its coats take material."""
    piece = shelf(tmp_path, system)
    (treatment,) = piece.by_recipe
    before = {operation.id for operation in piece.operations}
    for coat in _coats(treatment):
        for name, fault in CATALOGUE.faults.items():
            answer = fault.answer(coat.finish, CATALOGUE.finishes[coat.finish])
            repair = CoatRepair(1, name, coat.id, coat.id, 0.1)
            (woven,) = mended((treatment,), (repair,), CATALOGUE)
            new = [step for step in woven.steps if step.mends is not None]
            if answer is None:
                assert woven == treatment, (name, coat.id)
                continue
            assert new or all(one.only == "last" for one in answer.steps), (name, coat.id)
            assert woven.steps.index(new[0]) == treatment.steps.index(coat) + 1, "right after the coat"
            for step in new:
                if step.recipe.extra is not None:
                    assert step.recipe.extra in CATALOGUE.extra_steps, (name, coat.id)
                assert 0 < step.area_m2 <= coat.area_m2 + 1e-9
    repaired = replace(piece, repairs=(CoatRepair(1, "sand-through", coat.id, coat.id, 0.1),))
    operations = repaired.operations
    assert before < {operation.id for operation in operations}
    assert all(operation.hours.typical > 0 for operation in operations)
    assert len({operation.id for operation in operations}) == len(operations)


def test_before_another_coat_the_recipe_goes_on_and_after_the_last_one_more_is_put_on(tmp_path: Path) -> None:
    (treatment,) = shelf(tmp_path, "oil-varnish").by_recipe
    _, second, third = treatment.put_on
    deeds = []
    for coat in (second, third):
        (woven,) = mended((treatment,), (CoatRepair(1, "runs", coat.id, coat.id, 0.05),), CATALOGUE)
        deeds.append([(step.do, step.recipe.grit) for step in woven.steps if step.mends is not None])
    assert deeds[0] == [("extra", None), ("abrade", "P240")]
    assert deeds[1] == [("extra", None), ("abrade", "P240"), ("abrade", "P320"), ("coat", None)]


def test_a_place_is_its_share_and_a_part_that_part_alone(tmp_path: Path) -> None:
    (treatment,) = shelf(tmp_path, "oil-varnish").by_recipe
    coat = treatment.put_on[-1]
    (woven,) = mended((treatment,), (CoatRepair(1, "runs", coat.id, coat.id, 0.05),), CATALOGUE)
    scraped, *_, again = [step for step in woven.steps if step.mends is not None]
    assert scraped.area_m2 == pytest.approx(0.05 * coat.area_m2)
    assert again.area_m2 == pytest.approx(coat.area_m2)


def test_sanded_through_to_the_colour_gets_its_colour_and_its_coats_again(tmp_path: Path) -> None:
    (treatment,) = shelf(tmp_path, "stain-and-varnish").by_recipe
    coat = treatment.put_on[2]
    assert coat.finish == "oil-varnish"
    (woven,) = mended((treatment,), (CoatRepair(1, "sand-through", coat.id, coat.id, 0.05),), CATALOGUE)
    again = [step.finish for step in woven.steps if step.mends is not None and step.finish]
    assert again == ["oil-stain", "oil-varnish", "oil-varnish"]


def test_a_coat_that_went_wrong_waits_as_thick_as_it_is_and_counts_as_meant_for_the_customer(tmp_path: Path) -> None:
    piece = shelf(tmp_path, "oil-varnish")
    coat = piece.by_recipe[0].put_on[-1]
    repaired = replace(piece, repairs=(CoatRepair(1, "runs", coat.id, coat.id, 0.05),))
    of_coat = [operation for operation in repaired.operations if operation.of_step == coat.id and operation.finish]
    assert {(one.thickness, one.times_as_thick, one.next_waits_for) for one in of_coat} >= {(1.0, 2.0, "handle")}
    first = next(
        operation
        for operation in repaired.operations
        if operation.step is not None and operation.step.mends is not None
    )
    assert {after.times_as_thick for after in first.after if after.stage == "handle"} >= {2.0}


def test_of_a_set_one_piece_alone_is_mended(tmp_path: Path) -> None:
    piece = shelf(tmp_path, "hardwax-oil", alike=3)
    coat = piece.by_recipe[1].put_on[-1]
    repaired = replace(piece, repairs=(CoatRepair(4, "tacky", coat.id, coat.id, 1.0),))
    new = [
        operation
        for operation in repaired.operations
        if operation.step is not None and operation.step.mends is not None
    ]
    assert {one.number for one in new} == {2}
    plain = [operation for operation in repaired.operations if operation not in new]
    assert [one.kin for one in plain] == [operation.kin for operation in piece.operations]


def test_what_wipes_a_coat_is_bought_and_wished_for(tmp_path: Path) -> None:
    """White spirit for the whole of an oiled shelf, at ten to 25 m² a litre."""
    file = shelf(tmp_path, "hardwax-oil").source
    plan = plan_of((file,), now=NOW)
    coat = plan.pieces[0].by_recipe[0].put_on[-1]
    pieces = (replace(plan.pieces[0], repairs=(CoatRepair(1, "tacky", coat.id, coat.id, 1.0),)),)
    before, after = plan.materials, replace(plan, pieces=pieces).materials
    used = [_white_spirit_ml(found) for found in (before, after)]
    assert used[1] - used[0] == pytest.approx(coat.area_m2 / 15 * 1000, rel=0.35)
    assert after.materials[0].needed_ml.typical > before.materials[0].needed_ml.typical


def _white_spirit_ml(found: MaterialPlan) -> float:
    return sum(one.needed.typical for one in found.solvents if one.material == "white-spirit")


def test_a_repair_of_what_the_files_no_longer_have_is_left_out(tmp_path: Path) -> None:
    (treatment,) = shelf(tmp_path, "hardwax-oil").by_recipe
    lost = CoatRepair(1, "runs", "top/oil-varnish/6", "top/oil-varnish/6", 0.1)
    assert mended((treatment,), (lost,), CATALOGUE) == (treatment,)
