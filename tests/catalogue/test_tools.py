"""What a tool holds, loses and takes to make ready, by its size; and how fast what is used up goes.

Reckoned from sizes that are those of the trade: a cloth of 0.1 m² and 200 g/m², which holds about its own mass; a foam
sleeve of 100 mm, 35 mm across on a core of 15 mm; a hose of 15 m and a quarter of an inch. Where nothing can be
reckoned it is common trade practice, from memory, as a range narrower than a factor of two.

US Army TM 43-0139, Painting Instructions for Army Materiel, 5-13 (cleaning of brushes and rollers), as read: a small
amount of cleaner is worked into the brush and discarded, then a somewhat larger one as many times as necessary; rollers
are cleaned in much the same manner, in a pan instead of a pail.
"""

from __future__ import annotations

from math import pi

from finplan.catalogue import bundled_catalogue

CATALOGUE = bundled_catalogue()
METHODS, CONSUMABLES = CATALOGUE.methods, CATALOGUE.consumables
CLOTHS = ("wipe", "pad")
GUNS = [name for name, method in METHODS.items() if method.sprayed]

CLOTH_G = 0.1 * 200
CLOTH_ML = CLOTH_G / 1.0  # its own mass, of a liquid of about 1 g/ml
SLEEVE_ML = pi / 4 * (3.5**2 - 1.5**2) * 10
HOSE_ML = pi / 4 * 0.635**2 * 1500


def typical(method: str, field: str) -> float:
    return float(getattr(METHODS[method], field).typical)


def test_what_stays_behind_is_what_the_tool_holds() -> None:
    for name in CLOTHS:
        assert 0.7 <= typical(name, "fixed_loss_ml") / CLOTH_ML <= 1.4, name
    # The bristles of a 50 mm brush are half hollow: 50 x 15 x 50 mm hold as much as a cloth; so does a filling knife's
    # board. Of a sleeve half is squeezed out, of a hose two thirds pumped back.
    for name in ("brush", "spatula"):
        assert typical(name, "fixed_loss_ml") == typical("wipe", "fixed_loss_ml"), name
    assert 0.35 <= typical("roller", "fixed_loss_ml") / SLEEVE_ML <= 0.65
    assert 0.22 <= typical("spray-airless", "fixed_loss_ml") / HOSE_ML <= 0.44
    # The walls and the tube of a cup of 0.6 l, a tenth of it and a little more.
    assert 50 <= typical("spray-hvlp", "fixed_loss_ml") <= 95


def test_a_tool_is_rinsed_two_or_three_times_with_what_it_holds() -> None:
    for name in ("brush", "roller"):
        times = typical(name, "rinse_ml") / typical(name, "fixed_loss_ml")
        assert 1.4 <= times <= 3.4, name
    assert 1.1 <= typical("roller", "rinse_ml") / typical("brush", "rinse_ml") <= 1.9  # a pan for a pail
    # A cloth is thrown away, a knife wiped: what is left is a few spots, half a cloth full.
    for name in (*CLOTHS, "spatula"):
        assert 0.35 <= typical(name, "rinse_ml") / CLOTH_ML <= 0.68, name
        assert typical(name, "rinse_ml") == typical("wipe", "rinse_ml"), name


def test_losses_stand_to_each_other_as_the_tools_do() -> None:
    # Brush, cloth and knife are wiped out on the rim; a sleeve or a cloth that takes the surplus off keeps twice that.
    for name in ("pad", "spatula"):
        assert METHODS[name].loss_pct == METHODS["brush"].loss_pct, name
    for name in ("roller", "wipe"):
        assert 1.5 <= typical(name, "loss_pct") / typical("brush", "loss_pct") <= 3, name
    assert {METHODS[gun].loss_pct for gun in GUNS} == {METHODS["spray-hvlp"].loss_pct}
    assert 1.1 <= typical("spray-hvlp", "loss_pct") <= 3.9  # what misses is told by the transfer


def test_making_ready_goes_by_the_tool() -> None:
    # A tin is opened, stirred and strained; a roller wants its tray and its sleeve besides.
    for name in ("wipe", "pad", "spatula"):
        assert METHODS[name].set_up_h == METHODS["brush"].set_up_h, name
    assert 1.1 <= typical("roller", "set_up_h") / typical("brush", "set_up_h") <= 1.9
    assert len({METHODS[gun].set_up_h for gun in GUNS}) == 1


def test_cleaning_up_goes_by_the_tool() -> None:
    # A cloth is spread to dry, a knife wiped; a brush is washed out three times, a sleeve and its tray take longer.
    for name in ("pad", "spatula"):
        assert METHODS[name].clean_up_h == METHODS["wipe"].clean_up_h, name
    order = [typical(name, "clean_up_h") for name in ("wipe", "brush", "roller", "spray-hvlp")]
    assert order == sorted(set(order))
    assert order[-1] <= 2 * order[1]
    assert len({METHODS[gun].clean_up_h for gun in GUNS}) == 1


def test_a_hand_holds_one_tool_at_a_time() -> None:
    one_each = ("foam-roller", "foam-applicator", "paint-strainer", "mixing-cup", "nitrile-gloves")
    for name in (*one_each, "plastic-sheeting", "waste-bag"):
        use = CONSUMABLES[name].use_per_coat
        assert use is not None
        assert use.typical == 1, name
    cloths, swabs = CONSUMABLES["lint-free-cloth"].use_per_coat, CONSUMABLES["lead-test"].use_per_coat
    assert cloths is not None
    assert swabs is not None
    assert cloths.typical == 2, "one puts on, the next wipes off"
    assert swabs.typical == 3, "three places on each item"


def test_a_cloth_takes_up_what_is_lost_in_it() -> None:
    # Of oil that is wiped on and off, in full cloths for a square metre.
    per_m2 = CONSUMABLES["lint-free-cloth"].use_per_m2
    assert per_m2 is not None
    wiped = [one for one in CATALOGUE.finishes.values() if one.family == "oil" and one.drying == "oxidation"]
    wet_ml_m2 = [1000 / one.spread_rate.first_m2_l.typical for one in wiped]
    lost_ml_m2 = sum(wet_ml_m2) / len(wet_ml_m2) * typical("wipe", "loss_pct") / 100
    assert 0.71 <= per_m2.typical / (lost_ml_m2 / CLOTH_ML) <= 1.41


def test_a_can_holds_cloths_folded_loosely() -> None:
    # Cotton folded loosely weighs about 60 g a litre; practice.
    assert 0.71 <= CATALOGUE.waste_cans["oily-cloths"].per_cloth_ml.typical / (CLOTH_G / 60 * 1000) <= 1.41


def test_paper_lies_under_half_of_what_is_coated() -> None:
    # Of a board that has two faces one is up; a sheet is a square metre, and one in two coats goes on a fresh one.
    paper = CONSUMABLES["lining-paper"]
    assert paper.use_per_m2 is not None
    assert paper.use_per_coat is not None
    assert 0.4 <= paper.use_per_m2.typical <= 0.7
    assert 0.4 <= paper.use_per_coat.typical <= 0.7


def test_how_often_a_tool_is_used_again() -> None:
    # Practice: a brush that is washed lasts one or two dozen coats, a tack cloth two, folded over.
    brush, tack = (CONSUMABLES[name].use_per_coat for name in ("bristle-brush", "tack-cloth"))
    assert brush is not None
    assert tack is not None
    assert 14 <= 1 / brush.typical <= 26
    assert 1.5 <= 1 / tack.typical <= 2.5


def test_how_long_things_last() -> None:
    # Practice: thin gloves an hour; a booth's filter a working week of spraying, three at most; what is breathed
    # through a shift, oil-proof particle filters five of them.
    lives_h = {name: one.life_h.typical for name, one in CONSUMABLES.items() if one.life_h is not None}
    shift_h = lives_h["dust-mask"]
    assert 0.7 <= lives_h["nitrile-gloves"] <= 1.5
    assert 15 <= lives_h["spray-booth-filter"] <= 40
    assert lives_h["organic-vapour-cartridge"] == shift_h
    assert lives_h["particulate-filter"] == 5 * shift_h


def test_wet_cloths_clean_the_sheeting_and_the_floor_under_it() -> None:
    # 40 CFR 745.85(b), recalled: a wet cloth for 40 square feet at most; here twice, above the sheeting and below it.
    sheet_ft2 = 4 * 5 / 0.3048**2
    cloths = CONSUMABLES["wet-paper-cloths"].use_per_coat
    assert cloths is not None
    assert 0.75 <= cloths.typical / (2 * sheet_ft2 / 40) <= 1.4


def test_an_offcut_is_a_sample_board() -> None:
    # Practice: 200 x 300 mm, give or take a third.
    assert 0.04 <= CATALOGUE.allowances["sample-board"].area_m2.typical <= 0.08


def test_a_figure_too_many_is_a_slip_and_the_heaviest_hand_is_none() -> None:
    # More than all causes at their highest at one, and less than ten times: a figure too many, let alone fluid ounces
    # of 29.57 ml (NIST Handbook 44) taken for millilitres.
    rule = CATALOGUE.learning["shop"]
    drunk = max(one.first.high / one.first.typical for one in CATALOGUE.absorption.values())
    laid_on = max(one.hand.high * one.coat_to_coat.high for one in METHODS.values())
    rates = [
        rate for one in CATALOGUE.finishes.values() for rate in (one.spread_rate.first_m2_l, one.spread_rate.next_m2_l)
    ]
    spread = max(rate.typical / rate.low for rate in rates)
    assert drunk * laid_on * spread < rule.slip_times < 10
