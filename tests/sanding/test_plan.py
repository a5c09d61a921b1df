"""The sanding of a piece: minutes, abrasives and dust, against worked examples."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.plan import read_source, surface_of, treatments_of
from finplan.sanding import SandingPlan, sanding_plan

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
    return sanding_plan(treatments_of(source, surface_of(source)), source.catalogue, source.shop)


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
    assert "P180 is not among the grades at hand: P240 is the next" in group.note
    assert "the grain falls by 3.44 at once where 1.67 is the limit" in group.note  # 201 µm / 58.5 µm


@pytest.mark.parametrize(
    ("surface", "first"), [("planed-torn", "P80"), ("planed", "P120"), ("hand-planed", "P180"), ("sanded-150", "P150")]
)
def test_where_it_starts(surface: str, first: str, tmp_path: Path) -> None:
    assert planned(tmp_path, surface=surface).groups[0].steps[0].grit == first
