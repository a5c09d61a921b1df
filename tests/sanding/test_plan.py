"""The sanding of a piece: minutes, abrasives and dust, against worked examples."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from finplan.sanding import SandingPlan, airborne_mg_m3, loose_l, sanding_plan
from finplan.source import read_source, surface_of, treatments_of
from tests.sanding.pieces import planned as kit

# A top of 2.0 m² of faces to sand by machine, its edges covered; red oak, whose specific gravity at 12 % is 0.63.
PANEL = """\
piece: Panel
timber: red-oak
system: {system}
parts:
  top:
    shape: measured
    count: 1
    surface: {surface}
    faces: {{top: 2.0 m2}}
"""
GRITS = "grits: [P80, P120, P150, P180, P220, P240]\n"


def planned(
    folder: Path, *, system: str = "oil-varnish", surface: str = "planed-torn", grits: str = GRITS
) -> SandingPlan:
    piece, shop = folder / "piece.yaml", folder / "shop.yaml"
    piece.write_text(PANEL.format(system=system, surface=surface), encoding="utf-8")
    shop.write_text(f"shop: Test\nmethods: [brush, wipe, random-orbit-125, hand]\n{grits}", encoding="utf-8")
    source = read_source(piece, shop)
    faces = surface_of(source)
    return sanding_plan(treatments_of(source, faces), faces, source.catalogue, source.shop)


PARTS = """\
piece: Parts
lengths: mm
timber: {timber}
system: {system}
parts:
  part: {part}
"""


def test_four_parts_are_picked_up_for_each_grit(tmp_path: Path) -> None:
    # The same 2.0 m² on four parts: 44 min, and 4 parts x 3 grits x 1.5 min, 62 min; by hand, at trade rates.
    part = "{shape: measured, count: 4, surface: planed-torn, faces: {top: 0.5 m2}}"
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part), GRITS)
    assert plan.hours_of(found.group for found in plan.groups).typical * 60 == pytest.approx(62)


def test_a_part_is_picked_up_once_for_each_grit_whatever_the_number_of_its_groups(tmp_path: Path) -> None:
    # A board has flat faces, long edges and ends; without area it would be 1.5 min for each of its grits.
    part = "{shape: board, length: 600, width: 90, thickness: 20}"
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part))
    grits = {step.grit for found in plan.groups for step in found.steps}
    assert grits == {"P120", "P180", "P220"}
    methods = plan.groups[0].steps[0].method, plan.groups[1].steps[0].method
    assert methods == ("random-orbit-125", "hand")
    handling_min = 1.5 * len(grits)
    bare_min = sum(
        found.group.area_m2 / speed * 60
        for found, speeds in zip(plan.groups, [(6, 10), (1, 1), (2, 2, 2)], strict=True)
        for _, speed in zip(found.steps, speeds, strict=True)
    )  # end grain by hand at half of 4 m²/h
    assert plan.hours_of(found.group for found in plan.groups).typical * 60 == pytest.approx(bare_min + handling_min)


def test_spindles_on_the_lathe(tmp_path: Path) -> None:
    # pi x 0.04 x 0.45 = 0.0565 m² each; four at 2 m²/h with three grits are 20.4 min, and 4 x 3 x 1.5 min; by hand.
    part = (
        "{shape: turned, count: 4, surface: turned-torn, elements: [{cylinder: {diameter: 40, length: 450}}], "
        "faces: {top-end: {exposure: covered}, foot-end: {exposure: covered}}}"
    )
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part), GRITS)
    (found,) = plan.groups
    assert found.group.area_m2 == pytest.approx(4 * 0.0565, rel=1e-3)
    assert {step.method for step in found.steps} == {"lathe"}
    assert [step.grit for step in found.steps] == ["P80", "P120", "P180"]
    assert found.hours.typical * 60 == pytest.approx(20.4 + 18, abs=0.05)


def test_discs_of_a_worked_example(tmp_path: Path) -> None:
    # 2.0 m², 125 mm, P80, P120, P180 at 1.0, 0.5 and 0.4 discs per m²; practice.
    needs = {need.grit: need.needed.typical for need in planned(tmp_path).abrasives if need.product == "disc 125 mm"}
    assert needs == pytest.approx({"P80": 2.0, "P120": 1.0, "P180": 0.8})


def test_resin_clogs(tmp_path: Path) -> None:
    # A third more on resinous softwood: 1.3 discs per m² instead of 1.0; practice.
    part = "{shape: measured, faces: {top: 1.0 m2}}"
    plain = kit(tmp_path, PARTS.format(timber="red-oak", system="wax", part=part)).groups[0].steps[0].used
    clogged = kit(tmp_path, PARTS.format(timber="white-pine", system="wax", part=part)).groups[0].steps[0].used
    assert (plain.typical, clogged.typical) == pytest.approx((1.0, 1.3))


def test_dust_as_a_heap_and_in_the_air(tmp_path: Path) -> None:
    # 169 g at 200 kg/m³ are 0.85 l; 1 % of it in 60 m³ of still air is 28 mg/m³, 9.4 times 3 mg/m³. By hand.
    rules = bundled_catalogue().sanding_rules["usual"]
    heap = loose_l(Range(100.0, 169.344, 250.0), rules)
    assert (heap.low, heap.typical, heap.high) == pytest.approx((0.4, 0.847, 1.667), abs=1e-3)
    hangs = airborne_mg_m3(169.344, 60.0, rules.airborne_pct)
    assert (hangs, hangs / 3) == pytest.approx((28.2, 9.4), abs=0.05)


def test_a_shop_of_numbers_without_a_p(tmp_path: Path) -> None:
    plan = planned(tmp_path, grits="grits: [80, 120, '180', CAMI 220, 280]\n")
    (group,) = plan.groups
    assert [step.grit for step in group.steps] == ["CAMI 80", "CAMI 120", "CAMI 180"]
    assert [step.other_scale for step in group.steps] == ["P80", "P120", "P180"]
    assert [step.p_grade for step in group.steps] == ["P80", "P120", "P180"]
    assert [step.size_um for step in group.steps] == [192, 116, 78]
    assert group.note is None
    assert {need.grit for need in plan.abrasives} == {"CAMI 80", "CAMI 120", "CAMI 180", "CAMI 280"}  # P320: CAMI 280


def test_both_scales_in_one_shop(tmp_path: Path) -> None:
    plan = planned(tmp_path, grits="grits: [P80, 120, P180, 320]\n")
    assert [step.grit for step in plan.groups[0].steps] == ["P80", "CAMI 120", "P180"]


def test_raising_the_grain_abrading_and_rubbing_out_are_told(tmp_path: Path) -> None:
    plan = planned(tmp_path, system="waterborne-polyurethane")
    told = [(work.do, work.steps[0].grit if work.steps else None) for work in plan.later]
    assert told == [("raise-grain", None), ("abrade", "P240"), ("abrade", "P320"), ("abrade", "P400")]
    # 2 m² at 20 m²/h and 1.5 min for the one part, each time by hand; practice.
    assert [work.hours.typical * 60 for work in plan.later] == pytest.approx([7.5, 7.5, 7.5, 7.5])
    assert plan.buy == ("P320", "P400")  # the shop has neither


def test_minutes_of_a_worked_example(tmp_path: Path) -> None:
    # 2.0 m² flat at 6 m²/h for the first grit and 10 for each later one, 1.5 min of handling a grit:
    # 80, 120, 180 take 2/6 + 2/10 + 2/10 h = 44 min, and 3 x 1.5 min; by hand, at trade rates.
    (group,) = planned(tmp_path).groups
    assert [step.grit for step in group.steps] == ["P80", "P120", "P180"]
    assert sum(step.hours.typical for step in group.steps) * 60 == pytest.approx(44 + 4.5)


def test_dust_of_a_worked_example(tmp_path: Path) -> None:
    # Dust is area x depth x density; density at 12 % moisture is 1120 times the specific gravity (Wood Handbook,
    # FPL-GTR-190, chapter 4): red oak of 0.63 is 706 kg/m³. The first grit takes what the surface asks, here the low,
    # typical and high of torn planing; then a quarter of the grain size before: 0.25 x 201 µm and 0.25 x 125 µm.
    plan = planned(tmp_path)
    first, second, third = plan.groups[0].steps
    assert second.dust_g.typical == pytest.approx(2.0 * 0.25 * 201e-6 * 705.6e3, rel=1e-3)
    assert third.dust_g.typical == pytest.approx(2.0 * 0.25 * 125e-6 * 705.6e3, rel=1e-3)
    assert first.dust_g.low < first.dust_g.typical < first.dust_g.high
    assert plan.dust_g.typical == pytest.approx(sum(step.dust_g.typical for step in plan.groups[0].steps))


def test_abrasives_are_bought_for_the_worst(tmp_path: Path) -> None:
    # 125 mm discs for the first grit: 0.6/1.0/1.5 per m², so 1.2 to 3 for 2 m²; a pack of five holds three.
    (first, *_) = (
        need for need in planned(tmp_path).abrasives if need.product.startswith("disc") and need.grit == "P80"
    )
    assert first.needed.low == pytest.approx(1.2)
    assert first.needed.high == pytest.approx(3.0)
    assert sum(number * count for number, count in first.packs) >= first.needed.high


def test_a_shop_that_lacks_grades_is_told_both_things(tmp_path: Path) -> None:
    (group,) = planned(tmp_path, grits="grits: [P80, P240]\n").groups
    assert group.note is not None
    assert "P180 is not among the grades at hand: P240 is the nearest" in group.note
    assert "from P80 to P240 the grain falls by 3.44 at once where 1.67 is the limit" in group.note  # 201 µm / 58.5 µm


@pytest.mark.parametrize(
    ("surface", "first"), [("planed-torn", "P80"), ("planed", "P120"), ("hand-planed", "P180"), ("sanded-150", "P150")]
)
def test_where_it_starts(surface: str, first: str, tmp_path: Path) -> None:
    assert planned(tmp_path, surface=surface).groups[0].steps[0].grit == first


def test_strips_off_a_roll_and_a_pad_between_the_coats(tmp_path: Path) -> None:
    # A strip of 115 mm by 140 mm is a quarter of a sheet: 3 per m² by hand, 12 on an edge of 4 m²; a 5 m roll has 35.
    part = "{shape: measured, faces: {edge: 4.0 m2}}"
    text = PARTS.format(timber="red-oak", system="oil-varnish", part=part)
    piece, shop = tmp_path / "piece.yaml", tmp_path / "shop.yaml"
    piece.write_text(text, encoding="utf-8")
    shop.write_text("shop: Test\nmethods: [brush, hand-roll, hand-pad]\n", encoding="utf-8")
    source = read_source(piece, shop)
    faces = surface_of(source)
    plan = sanding_plan(treatments_of(source, faces), faces, source.catalogue, source.shop)
    needs = {(need.abrasive, need.grit): need for need in plan.abrasives}
    first = needs["roll-115", "P120"]
    assert first.needed.typical == pytest.approx(12.0)
    assert first.packs == ((1, 35),)  # 4.8 x 4 = 19.2 at the high end
    assert {abrasive for abrasive, grit in needs if grit == "P320"} == {"pad-maroon"}
