"""Whether grades, surfaces and ways of working agree with each other."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt
from typing import Any

import pytest

from finplan.catalogue import Abrasive, ApplicationMethod, SandingMethod, bundled_catalogue
from finplan.reading import validate

CATALOGUE = bundled_catalogue()
SIZES = CATALOGUE.grades["p-grade"].sizes_um
METHODS = [pytest.param(name, method, id=name) for name, method in CATALOGUE.methods.items()]
SANDING = [pytest.param(name, method, id=name) for name, method in CATALOGUE.sanding_methods.items()]


@pytest.mark.parametrize("scale", list(CATALOGUE.grades))
def test_grain_gets_finer_as_the_number_rises(scale: str) -> None:
    grades = CATALOGUE.grades[scale].sizes_um
    numbers = [int(grade.removeprefix("P")) for grade in grades]
    assert numbers == sorted(numbers)
    assert all(coarse > fine for coarse, fine in pairwise(grades.values()))


@pytest.mark.parametrize(
    ("coarse", "fine", "cap", "allowed"),
    [
        ("P100", "P150", "normal", True),  # 162/100 = 1.62
        ("P60", "P100", "normal", True),  # 269/162 = 1.66
        ("P240", "P400", "normal", False),  # 58.5/35 = 1.671
        ("P80", "P120", "strict", False),  # 201/125 = 1.608
        ("P120", "P180", "strict", False),  # 125/82 = 1.524
        ("P180", "P240", "strict", True),  # 82/58.5 = 1.402
        ("P80", "P150", "paint", True),  # 201/100 = 2.01
        ("P80", "P180", "paint", False),  # 201/82 = 2.45
    ],
)
def test_caps_admit_what_the_trade_skips(coarse: str, fine: str, cap: str, allowed: bool) -> None:
    ladder = CATALOGUE.caps["ladder"]
    assert (SIZES[coarse] / SIZES[fine] <= getattr(ladder, cap)) is allowed


def test_a_start_is_a_grade_and_worse_surfaces_start_coarser() -> None:
    assert all(surface.start in SIZES for surface in CATALOGUE.surfaces.values())
    by_removal = sorted(CATALOGUE.surfaces.values(), key=lambda surface: surface.remove_mm.typical)
    coarseness = [SIZES[surface.start] for surface in by_removal]
    assert coarseness[0] == min(coarseness)
    assert coarseness[-1] == max(coarseness)


@pytest.mark.parametrize(("name", "method"), SANDING)
def test_bare_wood_is_slower_than_dulling_a_coat_and_edges_than_faces(name: str, method: SandingMethod) -> None:
    if method.bare_wood is None:
        assert CATALOGUE.abrasives[method.abrasive].cuts_as, name  # a pad
        return
    assert method.bare_wood.flat_m2_h.typical <= method.scuff_flat_m2_h.typical, name
    if method.bare_wood.profile_m2_h is not None:
        assert method.bare_wood.profile_m2_h.typical <= method.bare_wood.flat_m2_h.typical, name
        assert method.scuff_profile_m2_h is not None, name
        assert method.bare_wood.profile_m2_h.typical <= method.scuff_profile_m2_h.typical, name
    assert method.bare_wood.end_grain.high < 1, name


@pytest.mark.parametrize(("name", "abrasive"), list(CATALOGUE.abrasives.items()))
def test_packs_are_in_order(name: str, abrasive: Abrasive) -> None:
    counts = [pack.count for pack in abrasive.packs]
    assert counts == sorted(set(counts)), name


def test_a_larger_disc_lasts_longer_by_its_area() -> None:
    small, large = CATALOGUE.sanding_methods["random-orbit-125"], CATALOGUE.sanding_methods["random-orbit-150"]
    ratio = (pi * 150**2 / 4) / (pi * 125**2 / 4)  # 1.44
    assert small.bare_wood is not None
    assert large.bare_wood is not None
    assert large.bare_wood.life_h.typical / small.bare_wood.life_h.typical == pytest.approx(ratio, rel=0.03)
    assert small.scuff_use_per_m2.typical / large.scuff_use_per_m2.typical == pytest.approx(ratio, rel=0.05)
    # A hand and its weight are the same on both.
    assert large.bare_wood.removal_g_min == small.bare_wood.removal_g_min


@pytest.mark.parametrize(("name", "method"), METHODS)
def test_flat_surfaces_are_coated_faster_than_profiles(name: str, method: ApplicationMethod) -> None:
    assert method.flat_m2_h.typical > method.profile_m2_h.typical, name
    assert method.loss_pct.high < 50, name


def test_only_guns_have_a_transfer_efficiency() -> None:
    guns = {name for name, method in CATALOGUE.methods.items() if method.sprayed}
    assert guns == {"spray-hvlp", "spray-conventional", "spray-airless"}
    hvlp, air = CATALOGUE.methods["spray-hvlp"].transfer_pct, CATALOGUE.methods["spray-conventional"].transfer_pct
    assert hvlp is not None
    assert air is not None
    assert hvlp.typical == 65  # what a gun must reach to count as high volume and low pressure: SCAQMD, 65 %
    assert air.high < hvlp.low


def test_end_grain_drinks_more_than_the_face() -> None:
    penetrating, film = CATALOGUE.absorption["end-grain-penetrating"], CATALOGUE.absorption["end-grain-film"]
    assert penetrating.first.low >= 2
    assert penetrating.first.typical > penetrating.later.typical > 1
    assert film.later.typical == 1  # sealed by the first coat
    for pores in ("ring-porous", "semi-ring-porous", "diffuse-porous", "softwood"):
        assert 0.9 <= CATALOGUE.absorption[pores].first.low <= CATALOGUE.absorption[pores].first.high <= 1.25


@pytest.mark.parametrize(
    ("name", "area_m2", "source"),
    [
        ("disc-125", 0.012272, "π·0.125²/4, by hand"),
        ("disc-150", 0.017671, "π·0.150²/4, by hand"),
        ("sheet", 0.0644, "0.230·0.280, by hand"),
        ("pad-maroon", 0.0345, "0.230·0.150, by hand"),
    ],
)
def test_areas_of_products(name: str, area_m2: float, source: str) -> None:
    assert CATALOGUE.abrasives[name].area_m2 == pytest.approx(area_m2, rel=1e-4), source


def test_what_is_cut_to_length_or_has_no_face_has_no_area() -> None:
    assert CATALOGUE.abrasives["roll-115"].area_m2 is None
    assert CATALOGUE.abrasives["steel-wool-0000"].area_m2 is None


@pytest.mark.parametrize(("name", "abrasive"), list(CATALOGUE.abrasives.items()))
def test_products_come_in_known_grades_coarse_to_fine(name: str, abrasive: Abrasive) -> None:
    for grades in (abrasive.grits, abrasive.cuts_as):
        sizes = [SIZES[grade] for grade in grades]
        assert sizes == sorted(sizes, reverse=True), name
    assert bool(abrasive.grits) != bool(abrasive.cuts_as), name


def test_a_strip_off_a_roll_is_a_quarter_of_a_sheet() -> None:
    sheet, strip = CATALOGUE.sanding_methods["hand"], CATALOGUE.sanding_methods["hand-roll"]
    assert sheet.bare_wood is not None
    assert strip.bare_wood is not None
    assert sheet.bare_wood.life_h.typical == pytest.approx(4 * strip.bare_wood.life_h.typical)
    assert strip.scuff_use_per_m2.typical == pytest.approx(4 * sheet.scuff_use_per_m2.typical)
    roll = CATALOGUE.abrasives["roll-115"]
    assert [pack.count for pack in roll.packs] == [int(length_mm // 140) for length_mm in roll.lengths_mm]


def test_rules_of_sanding_agree_with_each_other() -> None:
    rules = CATALOGUE.sanding_rules["usual"]
    sizes = [SIZES[grade] for grade in rules.ladder]
    assert sizes == sorted(sizes, reverse=True)
    # A grade stands in for its like: P150 of 100 µm for CAMI 150 of 93 µm.
    assert rules.as_good >= 100 / 93
    # No P-grade does for another: neighbours are farther apart than that.
    assert all(coarse / fine > rules.as_good for coarse, fine in pairwise(SIZES.values()))
    # Veneer of the usual 0.6 mm has just the most to spare.
    assert 0.6 * rules.veneer.share_pct / 100 == pytest.approx(rules.veneer.most_mm)


def test_steel_wool_always_warns_of_tannin_and_water() -> None:
    wools = [one for one in CATALOGUE.abrasives.values() if one.form == "wool"]
    assert len(wools) == 5
    assert all("tannin" in one.notes[0] and "waterborne" in one.notes[0] for one in wools)


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"form": "disc", "length": "100 mm", "packs": [5]}, "a disc is not given these sizes"),
        ({"form": "wool", "width": "100 mm", "packs": [5]}, "a wool is not given these sizes"),
        ({"form": "sheet", "length": "280 mm", "packs": [5]}, "a sheet is not given these sizes"),
        ({"form": "roll", "width": "115 mm", "packs": [5]}, "the lengths do not belong to a roll"),
        ({"form": "disc", "diameter": "125 mm", "lengths": ["5 m"]}, "the lengths do not belong to a disc"),
        ({"form": "disc", "diameter": "125 mm"}, "field 'packs' is missing"),
    ],
)
def test_sizes_have_to_fit_the_form(fields: dict[str, Any], wrong: str) -> None:
    record, findings = validate(Abrasive, {"title": "Own", "basis": "practice", **fields})
    assert record is None
    assert [finding.wrong for finding in findings] == [wrong]


@pytest.mark.parametrize("name", list(CATALOGUE.methods))
def test_cleaning_a_tool_takes_something(name: str) -> None:
    rinse = CATALOGUE.methods[name].rinse_ml
    assert rinse is not None
    assert 0 < rinse.low <= rinse.high
    if CATALOGUE.methods[name].sprayed:
        assert rinse.typical > max(CATALOGUE.methods[by_hand].rinse_ml.high for by_hand in ("wipe", "pad"))  # type: ignore[union-attr]


def test_a_finer_surface_drinks_less() -> None:
    sizes = CATALOGUE.grades["p-grade"].sizes_um
    graded = [one for one in CATALOGUE.absorption.values() if one.finest is not None]
    graded.sort(key=lambda one: -sizes[one.finest or ""])
    assert len(graded) >= 3
    for coarser, finer in pairwise(graded):
        assert finer.first.typical <= coarser.first.typical
        assert finer.first.high <= coarser.first.high


def test_a_disc_follows_a_hollow_as_far_as_its_pad_gives() -> None:
    """Sagitta of a circle, r - sqrt(r² - d²/4), at the least radius: 2 mm, common trade practice, from memory."""
    for name, method in CATALOGUE.sanding_methods.items():
        disc_mm, radius_mm = CATALOGUE.abrasives[method.abrasive].diameter_mm, method.follows_hollow_mm
        assert (radius_mm is None) == (disc_mm is None), name
        if disc_mm is not None and radius_mm is not None:
            assert radius_mm - sqrt(radius_mm**2 - disc_mm**2 / 4) == pytest.approx(2.0, rel=0.05), name
            assert method.follows(radius_mm), name
            assert not method.follows(radius_mm - 1), name


def test_a_machine_goes_inside_where_its_disc_lies_flat_and_a_hand_has_room_on_it() -> None:
    """Common trade practice, from memory: it is higher than its disc is wide, by a hand at most."""
    for name, method in CATALOGUE.sanding_methods.items():
        disc_mm = CATALOGUE.abrasives[method.abrasive].diameter_mm
        assert method.inside_width_mm == disc_mm, name
        assert (method.inside_clear_mm is not None) == (method.by == "machine"), name
        if disc_mm is not None and method.inside_clear_mm is not None:
            assert disc_mm + 60 <= method.inside_clear_mm <= disc_mm + 120, name
