"""Whether a record's own words say what its numbers hold: the size in a title, a pair, a litre."""

from __future__ import annotations

import re
from dataclasses import fields

import pytest

from finplan.catalogue import Abrasive, ApplicationMethod, Catalogue, System, bundled_catalogue
from tests.each import each

CATALOGUE = bundled_catalogue()
MM_PER_IN = 25.4


def test_no_sentence_of_a_list_is_cut_at_its_commas() -> None:
    # In [A, b] without quotes YAML ends a sentence at each comma; what follows one begins with a small letter.
    lists = {
        (kind, name): getattr(record, field)
        for kind in (one.name for one in fields(Catalogue) if one.name != "files")
        for name, record in getattr(CATALOGUE, kind).items()
        for field in ("say", "notes")
        if getattr(record, field, ())
    }
    assert len(CATALOGUE.extra_steps["wax-runners"].say) == 1
    assert {key[0] for key in lists} >= {"extra_steps", "consumables", "finishes", "drying"}
    cut = [(key, line) for key, said in lists.items() for line in said[1:] if line[:1].islower()]
    assert cut == []
    told = [(name, line) for name, step in CATALOGUE.extra_steps.items() for line in step.say]
    assert [(name, line) for name, line in told if not line[0].isupper() or not line.endswith(".")] == []


@each(("name", "abrasive"), list(CATALOGUE.abrasives.items()))
def test_abrasives_are_of_the_size_that_their_title_says(name: str, abrasive: Abrasive) -> None:
    told = [float(number) for number in re.findall(r"(\d+)(?= ?(?:x|mm))", abrasive.title.partition("(")[0])]
    held = [size for size in (abrasive.diameter_mm, abrasive.width_mm, abrasive.length_mm) if size is not None]
    if told:
        assert sorted(told) == sorted(held), name
    inches = re.search(r"\((\d+)(?: x (\d+))? in\)", abrasive.title)
    if inches:
        sizes = sorted(float(number) * MM_PER_IN for number in inches.groups() if number)
        assert sizes == pytest.approx(sorted(held), rel=0.02), name


def test_pads_are_six_by_nine_inches() -> None:
    # The size in which non-woven pads are sold everywhere; practice.
    for abrasive in CATALOGUE.abrasives.values():
        if abrasive.form == "pad":
            assert abrasive.width_mm == pytest.approx(6 * MM_PER_IN, rel=0.02)
            assert abrasive.length_mm == pytest.approx(9 * MM_PER_IN, rel=0.02)


def test_rolls_are_as_long_as_their_trade_names() -> None:
    # Rolls of 5, 10, 25 and 50 m; practice.
    for abrasive in CATALOGUE.abrasives.values():
        if abrasive.form == "roll":
            assert [length_mm / 1000 for length_mm in abrasive.lengths_mm] == [5, 10, 25, 50]


def test_methods_use_up_what_they_name() -> None:
    for method in CATALOGUE.sanding_methods.values():
        abrasive = CATALOGUE.abrasives[method.abrasive]
        told = [float(number) for number in re.findall(r"\d+", method.product)]
        if abrasive.form == "roll":
            assert abrasive.width_mm in told
        else:
            held = (abrasive.diameter_mm, abrasive.width_mm, abrasive.length_mm)
            assert sorted(told) == sorted(size for size in held if size is not None)


def test_surfaces_sanded_to_a_grade_lose_the_scratches_of_that_grade() -> None:
    sizes_um, scratch = CATALOGUE.grades["p-grade"].sizes_um, CATALOGUE.caps["ladder"].scratch_depth
    for grade in ("P120", "P150"):
        remove_mm = CATALOGUE.surfaces[f"sanded-{grade[1:]}"].remove_mm
        assert scratch.low * sizes_um[grade] <= remove_mm.typical * 1000 <= scratch.high * sizes_um[grade]
    # A scratch of a cutting grain is less deep than half of the grain, and more than a tenth.
    assert 0.1 <= scratch.low <= scratch.typical <= 0.33
    assert scratch.typical >= 0.2


@pytest.mark.parametrize("name", list(CATALOGUE.surfaces))
def test_a_surface_starts_with_a_grade_that_suits_what_has_to_come_off(name: str) -> None:
    # In grains of its first grade: a shaving off the plane is a fifth of one, saw marks one and a half; coarser would
    # dig deeper than what it takes off, finer would take for ever.
    surface = CATALOGUE.surfaces[name]
    grains = surface.remove_mm.typical * 1000 / CATALOGUE.grades["p-grade"].sizes_um[surface.start]
    assert 0.15 <= grains <= 1.6


@each(("name", "system"), list(CATALOGUE.systems.items()))
def test_end_grain_goes_one_or_two_grades_finer(name: str, system: System) -> None:
    # An abrasives dealer's note of January 2007, as read: one or two grades finer than the faces; two under colour.
    families = {CATALOGUE.finishes[step.finish].family for step in system.steps if step.finish}
    assert system.end_grain_steps == (2 if families & {"stain", "dye"} or "tinted" in name else 1), name


def test_what_absorbs_more_or_less_than_its_spread_rate_says() -> None:
    absorption = CATALOGUE.absorption
    for kind in ("penetrating", "film"):
        ends = absorption[f"end-grain-{kind}"]
        # Pores cut across drink two to five times as much, less once they are filled; no published ratio was found.
        assert 2 <= ends.first.low <= ends.first.typical <= 4
        assert ends.first.high <= 6
        assert 1 <= ends.later.typical < ends.first.typical
        assert ends.later.high < ends.first.high
    for name, factors in absorption.items():
        if name.endswith("-edge"):
            # A cut edge of a sheet is end grain in part or in all, and not quite filled by a first coat.
            assert 1.5 <= factors.first.typical <= 3, name
            assert 1 < factors.later.typical <= 1.25, name
        elif not name.startswith("end-grain"):
            # Whatever was there is filled by the first coat, and a face drinks within a quarter of the usual.
            assert factors.later.typical == 1, name
            assert 0.75 <= factors.first.typical <= 1.25, name


def test_only_what_is_breathed_has_excursions() -> None:
    for name, target in CATALOGUE.air_targets.items():
        if name != "breathing":
            assert target.short_times == 1, name


@pytest.mark.parametrize("name", [name for name, one in CATALOGUE.timbers.items() if one.sheet is None])
def test_heavy_wood_shrinks_more(name: str) -> None:
    # Wood Handbook, chapter 4, recalled: volumetric shrinkage is about the fibre saturation point, 28 %, times the
    # specific gravity; oils and resins in the cells take the place of water and make it less.
    timber = CATALOGUE.timbers[name]
    assert timber.shrinkage is not None
    both = timber.shrinkage.radial_pct.typical + timber.shrinkage.tangential_pct.typical
    volumetric = timber.shrinkage.volumetric_pct.typical if timber.shrinkage.volumetric_pct else both * 1.05
    assert (9 if timber.oily or timber.large_pores else 16) <= volumetric / timber.specific_gravity <= 36


@each(("name", "method"), list(CATALOGUE.methods.items()))
def test_how_people_differ_is_in_times_the_usual(name: str, method: ApplicationMethod) -> None:
    # As many lay it on so many times thicker as so many times thinner; one coat beside the next differs less than one
    # person beside another.
    for spread in (method.hand, method.coat_to_coat):
        assert spread.typical == 1, name
        assert spread.low * spread.high == pytest.approx(1, abs=0.02), name
        assert 1.03 <= spread.high <= 1.4, name
    assert method.coat_to_coat.high < method.hand.high, name


def test_guns_with_a_cup_are_cleaned_alike() -> None:
    hvlp, air, airless = (CATALOGUE.methods[f"spray-{kind}"] for kind in ("hvlp", "conventional", "airless"))
    for field in ("set_up_h", "clean_up_h", "fixed_loss_ml", "rinse_ml"):
        assert getattr(hvlp, field) == getattr(air, field), field
    # A cup of 0.6 l is rinsed with a third of it; a hose of 15 m and 6 mm holds 0.42 l, and is filled twice or so.
    assert hvlp.rinse_ml is not None
    assert airless.rinse_ml is not None
    assert 110 <= hvlp.rinse_ml.typical <= 390
    assert 1.5 * 420 <= airless.rinse_ml.typical <= 3 * 420


def test_a_machine_cuts_most_and_a_hand_least() -> None:
    def cut(name: str) -> float:
        bare = CATALOGUE.sanding_methods[name].bare_wood
        assert bare is not None
        return bare.removal_g_min.typical

    assert cut("hand") == cut("hand-roll")
    assert 0.3 <= cut("hand") / cut("random-orbit-125") <= 0.6
    assert cut("hand") < cut("lathe") < cut("random-orbit-125")


def test_jobs_of_picking_up_take_as_long_as_picking_up() -> None:
    # Each is a part fetched, turned and set down; to glue up a joint or put a piece together is several times that.
    picked_h = CATALOGUE.sanding_methods["hand"].handling_h.typical
    for job, least, most in (("raise-grain", 0.7, 1.4), ("flip", 1, 1.9), ("glue-up", 3, 6), ("put-together", 5, 9)):
        assert least <= CATALOGUE.work[job].handling_h.typical / picked_h <= most, job


def test_what_is_the_same_tool_takes_and_loses_the_same() -> None:
    methods, consumables = CATALOGUE.methods, CATALOGUE.consumables
    for field in ("rinse_ml", "clean_up_h", "set_up_h", "fixed_loss_ml"):  # a cloth is a cloth
        assert getattr(methods["wipe"], field) == getattr(methods["pad"], field), field
    assert methods["spray-hvlp"].loss_pct == methods["spray-conventional"].loss_pct
    assert consumables["bristle-brush"].use_per_coat == consumables["synthetic-brush"].use_per_coat
    handling = {method.handling_h for method in CATALOGUE.sanding_methods.values()}
    assert len(handling) == 1


def test_stripped_wood_is_planed_wood_that_was_coated() -> None:
    assert CATALOGUE.surfaces["stripped"].remove_mm == CATALOGUE.surfaces["planed"].remove_mm


@pytest.mark.parametrize("kind", list(CATALOGUE.moisture))
def test_heated_rooms_keep_wood_between_six_and_eleven_per_cent(kind: str) -> None:
    # Wood Handbook, FPL-GTR-190 (2010), chapter 13, recalled: 8 % in most of the United States, 6 in the dry
    # southwest, 11 on damp coasts.
    service = CATALOGUE.moisture[kind].service_pct
    assert 5 <= service.low <= 8 <= service.high <= 11
