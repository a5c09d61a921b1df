"""The sanding of a piece: minutes, abrasives and dust, against worked examples."""

from __future__ import annotations

from math import exp, log, sqrt
from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.planning import read_source, together
from finplan.quantity import Range
from finplan.sanding import SandingPlan, airborne_mg_m3, loose_l
from tests.sanding.pieces import board, group_of
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
    (planned,) = together([source])
    return planned.sanding


PARTS = """\
piece: Parts
lengths: mm
timber: {timber}
system: {system}
parts:
  part: {part}
"""


@pytest.mark.parametrize(
    ("grits", "hint"),
    [("[80, 120, 150, 180]", "Washboard ripples want CAMI 80."), ("[P80, P120, P180]", "Washboard ripples want P80.")],
)
def test_what_a_surface_wants_is_told_in_the_grades_that_are_sold(tmp_path: Path, grits: str, hint: str) -> None:
    found = group_of(kit(tmp_path, board(), shop=f"grits: {grits}\n"), "top")
    assert found.hints == (hint,)


def test_minutes_of_a_worked_example(tmp_path: Path) -> None:
    # 2.0 m² of red oak, 705.6 kg/m³, by hand: 0.2 mm with P80 are 282.2 g at 3.4 x 201/125 = 5.467 g/min; 0.25 x 201 µm
    # with P120 70.9 g at 3.4 g/min; 0.25 x 125 µm with P180 44.1 g at 3.4 x 82/125 = 2.230 g/min. Passing over it all,
    # at 10 m²/h 12 min each, is less. Rates of practice.
    (group,) = planned(tmp_path).groups
    assert [step.grit for step in group.steps] == ["P80", "P120", "P180"]
    assert [step.hours.typical * 60 for step in group.steps] == pytest.approx([51.6, 20.9, 19.8], abs=0.05)
    # One part is picked up three times.
    assert group.handling_h.typical * 60 == pytest.approx(3 * 1.5)


def test_what_hardly_has_to_be_cut_takes_as_long_as_passing_over_it(tmp_path: Path) -> None:
    # 0.015 mm of hand-planed oak are 21.2 g, 9.5 min at 2.23 g/min; 2 m² at 10 m²/h are 12 min.
    (group,) = planned(tmp_path, surface="hand-planed").groups
    (step,) = group.steps
    assert step.hours.typical * 60 == pytest.approx(12)
    assert step.dust_g.typical == pytest.approx(2 * 0.015e-3 * 705.6e3)


def test_four_parts_are_picked_up_for_each_grit(tmp_path: Path) -> None:
    # The same 2.0 m² on four parts: 92.3 min, and 4 parts x 3 grits x 1.5 min.
    part = "{shape: measured, count: 4, surface: planed-torn, faces: {top: 0.5 m2}}"
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part), GRITS)
    assert plan.hours_of(found.group for found in plan.groups).typical * 60 == pytest.approx(92.25 + 18, abs=0.05)


def test_a_part_is_picked_up_once_for_each_grit_whatever_the_number_of_its_groups(tmp_path: Path) -> None:
    # A board has flat faces, long edges and ends; it is picked up for 1.5 min with each of its grits, and the faces
    # share that by how long they are sanded.
    part = "{shape: board, count: 6, length: 600, width: 90, thickness: 20}"
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part))
    grits = {step.grit for found in plan.groups for step in found.steps}
    assert grits == {"P80", "P120", "P180", "P220"}
    assert (plan.groups[0].steps[0].method, plan.groups[1].steps[0].method) == ("random-orbit-125", "hand")
    assert plan.handling_of("part").typical * 60 == pytest.approx(6 * 1.5 * len(grits))
    shares = {
        round(found.handling_h.typical / sum(step.hours.typical for step in found.steps), 9) for found in plan.groups
    }
    assert len(shares) == 1


def test_spindles_on_the_lathe(tmp_path: Path) -> None:
    # pi x 0.04 x 0.45 = 0.0565 m² each; four at 2 m²/h with three grits are 20.4 min, and 4 x 3 x 1.5 min; by hand.
    # Cutting off 0.15 mm, 23.9 g, with P80 at 2 x 201/125 = 3.216 g/min takes 7.4 min, more than the 6.8 min of a pass.
    part = (
        "{shape: turned, count: 4, surface: turned-torn, elements: [{cylinder: {diameter: 40, length: 450}}], "
        "faces: {top-end: {exposure: covered}, foot-end: {exposure: covered}}}"
    )
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part), GRITS)
    (found,) = plan.groups
    assert found.group.area_m2 == pytest.approx(4 * 0.0565, rel=1e-3)
    assert {step.method for step in found.steps} == {"lathe"}
    assert [step.grit for step in found.steps] == ["P80", "P120", "P180"]
    assert [step.hours.typical * 60 for step in found.steps] == pytest.approx([7.44, 6.79, 6.79], abs=0.01)
    assert found.hours.typical * 60 == pytest.approx(7.44 + 2 * 6.79 + 18, abs=0.05)


def test_discs_follow_the_grams(tmp_path: Path) -> None:
    # A disc cuts for 15 min: 51.6, 20.9 and 19.8 min of cutting are so many discs; practice.
    plan = planned(tmp_path)
    needs = {need.grit: need.needed.typical for need in plan.abrasives if need.product == "disc 125 mm"}
    assert needs == pytest.approx({"P80": 3.44, "P120": 1.39, "P180": 1.32}, abs=0.005)
    # Hand-planed it is passed over for 12 min, but cut for 9.5: 21.2 g at 2.23 g/min.
    (light,) = (need for need in planned(tmp_path, surface="hand-planed").abrasives if need.grit == "P180")
    assert light.needed.typical == pytest.approx(9.49 / 15, abs=0.005)


def test_resin_clogs(tmp_path: Path) -> None:
    # A third more on resinous softwood, for as many minutes of cutting; practice.
    part = "{shape: measured, faces: {top: 1.0 m2}}"
    cut_min, discs = [], []
    for timber in ("red-oak", "white-pine"):
        step = kit(tmp_path, PARTS.format(timber=timber, system="wax", part=part)).groups[0].steps[0]
        gravity = bundled_catalogue().timbers[timber].specific_gravity
        cut_min.append(step.dust_g.typical / (3.4 * (gravity / 0.63) ** -1.25))
        discs.append(step.used.typical)
    assert discs == pytest.approx([cut_min[0] / 15, 1.3 * cut_min[1] / 15])


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
    first = next(need for need in planned(tmp_path).abrasives if need.product.startswith("disc") and need.grit == "P80")
    # 0.1/0.2/0.3 mm, 2.2/3.4/4.5 g/min and 8/15/25 min have nothing to do with each other: spreads add as squares.
    high = 3.44 * exp(sqrt(log(0.3 / 0.2) ** 2 + log(3.4 / 2.2) ** 2 + log(15 / 8) ** 2))
    assert first.needed.high == pytest.approx(high, rel=2e-3)
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
    # A strip of 115 mm by 140 mm is a quarter of a sheet and lasts 5 min: of an edge of 4 m² 0.05 mm, 141 g, come off
    # in 94.1 min at 1.5 g/min, and that is 18.8 strips; a 5 m roll has 35, and for the worst it takes two.
    part = "{shape: measured, faces: {edge: 4.0 m2}}"
    text = PARTS.format(timber="red-oak", system="oil-varnish", part=part)
    piece, shop = tmp_path / "piece.yaml", tmp_path / "shop.yaml"
    piece.write_text(text, encoding="utf-8")
    shop.write_text("shop: Test\nmethods: [brush, hand-roll, hand-pad]\n", encoding="utf-8")
    source = read_source(piece, shop)
    plan = together([source])[0].sanding
    needs = {(need.abrasive, need.grit): need for need in plan.abrasives}
    first = needs["roll-115", "P120"]
    assert first.needed.typical == pytest.approx(18.8, abs=0.05)
    assert 35 < first.needed.high < 70
    assert first.packs == ((2, 35),)
    assert {abrasive for abrasive, grit in needs if grit == "P320"} == {"pad-maroon"}


ENDS = "{shape: board, length: 600, width: 90, thickness: 20}"


def test_a_grade_for_a_few_square_centimetres_is_not_bought(tmp_path: Path) -> None:
    # The ends are 36 cm² and want P80 at first and P220 at last; the faces want P120 and P180. Three such boards have
    # 108 cm² of ends, and 100 cm² are worth a pack.
    one = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=ENDS), "grits: []\n")
    assert {need.grit for need in one.abrasives if need.product.startswith(("disc", "sheet"))} == {
        "P120",
        "P180",
        "P320",
    }
    three = kit(
        tmp_path,
        PARTS.format(timber="red-oak", system="oil-varnish", part=ENDS.replace("{", "{count: 3, ", 1)),
        "grits: []\n",
    )
    assert {need.grit for need in three.abrasives} >= {"P80", "P120", "P180", "P220"}


def test_nor_is_a_grade_that_would_mend_it(tmp_path: Path) -> None:
    # P220 is what the ends want; with P80, P120 and P180 at hand they stop at P180, and P220 is bought for more only.
    grits = "grits: [P80, P120, P180]\n"
    one = kit(tmp_path, PARTS.format(timber="red-oak", system="wax", part=ENDS), grits)
    assert "P240" not in {grit for group in one.groups for grit in group.buy if group.group.kind == "end"}
    ends = next(group for group in one.groups if group.group.kind == "end")
    assert (ends.buy, ends.mended) == ((), ())


def test_a_grade_that_the_file_names_is_bought_for_little_too(tmp_path: Path) -> None:
    part = ENDS.replace("}", ", faces: {ends: {stop-grit: P320}}}")
    plan = kit(tmp_path, PARTS.format(timber="red-oak", system="oil-varnish", part=part), "grits: []\n")
    ends = next(group for group in plan.groups if group.group.kind == "end")
    assert ends.steps[-1].grit == "P320"
