"""How the stages of one finish stand to each other: what follows from what a film does while it dries.

Relations between times and films that no record may contradict, each as a window narrow enough to notice a factor of
two. Where a window is one of practice it is common trade practice, from memory, and says so.

- A finishers' forum, "Measuring finish thickness", 7 November 2001, as read: a light coat of a gun is 3 wet mils, one
  that is almost ready to run 5.
- US Army TM 43-0139, Painting Instructions for Army Materiel, 3-6, as read: coatings are applied in 50 °F or higher.
"""

from __future__ import annotations

from itertools import pairwise
from math import log

import pytest

from finplan.catalogue import Finish, bundled_catalogue

CATALOGUE = bundled_catalogue()
FINISHES = CATALOGUE.finishes
MIL_UM = 25.4
LB_GAL = 453.59237 / 3.785411784


def typical(name: str, field: str) -> float:
    return float(getattr(FINISHES[name], field).typical)


def wrong(held: dict[str, float], low: float, high: float) -> dict[str, float]:
    """Return those that lie outside a window."""
    return {name: value for name, value in held.items() if not low <= value <= high}


def those(field: str) -> dict[str, Finish]:
    return {name: one for name, one in FINISHES.items() if getattr(one, field) is not None}


def test_dust_stops_sticking_before_as_much_time_again_has_gone() -> None:
    # Drying slows down, but a surface that takes no fingerprint holds no fibre for long.
    ratios = {name: one.dust_free_h.typical / one.touch_dry_h.typical for name, one in those("dust_free_h").items()}  # type: ignore[union-attr]
    assert not wrong(ratios, 1, 1.9)
    assert len(ratios) >= 16


def test_light_use_comes_at_a_sixth_to_a_third_of_the_cure() -> None:
    # Practice: a film bears a cup when it is dry through, and a hot one when it has cured. Urethane with oil is hard
    # soonest for its cure; shellac, from which only alcohol leaves, is cured when it is hard.
    both = {name: one for name, one in those("light_use_h").items() if one.cure_h is not None}
    shares = {name: typical(name, "light_use_h") / typical(name, "cure_h") for name in both}
    assert set(wrong(shares, 0.12, 0.36)) == {"oil-polyurethane", "shellac"}
    assert shares["tung-oil"] == pytest.approx(shares["boiled-linseed-oil"], rel=0.2)  # one chemistry


def test_a_shiny_film_of_a_dispersion_is_taken_in_hand_when_it_is_dry_through() -> None:
    # A finger prints a film that has not flowed together yet; a matt primer bears it sooner, a sealer is sanded.
    shiny = ("waterborne-polyurethane", "polyurethane-2k-waterborne", "acrylic-enamel")
    for name in shiny:
        film = FINISHES[name].film
        assert film is not None
        assert film.through_dry_h.high <= typical(name, "handle_h") <= 2.1 * film.through_dry_h.typical, name
    primer = FINISHES["acrylic-primer"].film
    assert primer is not None
    assert 0.7 <= typical("acrylic-primer", "handle_h") / primer.through_dry_h.typical <= 1.4


def test_a_film_of_a_dispersion_forms_where_paint_may_be_put_on() -> None:
    # 50 °F, which labels of such finishes print too.
    assert {one.film.above_c for one in FINISHES.values() if one.film is not None} == {(50 - 32) / 1.8}


def test_each_lacquer_waits_about_twice_as_long_as_the_one_in_which_less_reacts() -> None:
    # Practice: by evaporation with a little acid in it, with acid stirred in, with isocyanate.
    rising = ("pre-catalysed-lacquer", "catalysed-lacquer", "polyurethane-2k")
    for field in ("recoat_h", "handle_h"):
        for less, more in pairwise(rising):
            assert 1.45 <= typical(more, field) / typical(less, field) <= 2.9, (less, more, field)
    # More acid closes the window sooner.
    closes_h = [typical(name, "recoat_limit_h") for name in rising[:2]]
    assert 1.45 <= closes_h[0] / closes_h[1] <= 2.9


def test_a_window_of_varnish_closes_between_those_of_urethane_and_of_enamel() -> None:
    closes_h = [typical(name, "recoat_limit_h") for name in ("oil-polyurethane", "oil-varnish", "alkyd-enamel")]
    assert all(later / sooner >= 1.45 for sooner, later in pairwise(closes_h))


def test_what_is_wiped_is_coated_again_no_later_than_handled() -> None:
    # Nothing lies on the wood that a hand could mark when the next coat may go on; drying oils and dyes in water stay
    # longer in it.
    for name in ("oil-stain", "gel-stain", "oil-grain-filler", "water-grain-filler", "hardwax-oil"):
        assert typical(name, "recoat_h") <= typical(name, "handle_h"), name


def test_dyes_are_taken_in_hand_soon_after_they_are_dry() -> None:
    ratios = {name: typical(name, "handle_h") / typical(name, "touch_dry_h") for name in ("water-dye", "alcohol-dye")}
    assert not wrong(ratios, 1.4, 2.5)


def test_gel_is_wiped_off_about_twice_as_soon_as_stain() -> None:
    # It is a stain that stands, and drags when its solvent has left; practice.
    assert 1.45 <= typical("oil-stain", "wipe_off_h") / typical("gel-stain", "wipe_off_h") <= 2.9


def test_oil_is_handled_when_the_next_coat_may_go_on_or_a_day_later() -> None:
    for name in ("tung-oil", "boiled-linseed-oil"):
        assert 1.2 <= typical(name, "handle_h") / typical(name, "recoat_h") <= 2.3, name


def test_sprayed_coats_are_as_thick_as_a_gun_lays_them() -> None:
    for name, finish in FINISHES.items():
        for method, further in finish.spread_rate.by_method.items():
            wet_um = 1000 / (finish.spread_rate.next_m2_l.typical * further.typical)
            if CATALOGUE.methods[method].sprayed:
                assert 3 * MIL_UM <= wet_um <= 5 * MIL_UM, (name, method)
            else:
                # A wet pad lays about half a brush coat; practice.
                assert method == "pad", (name, method)
                assert 1.5 * MIL_UM <= wet_um <= 2.7 * MIL_UM, (name, method)


def test_the_first_coat_of_shellac_is_a_wash() -> None:
    # Practice: 1 to 1½ pounds to the gallon of alcohol, by what thins the cut of the tin.
    recipe = FINISHES["shellac"].dissolve
    assert recipe is not None
    pounds = recipe.strength_g_l / LB_GAL
    grown = 1 + recipe.strength_g_l / recipe.density_g_l.typical  # litres of the cut to a litre of its alcohol
    thinned = [(name, step.thin_pct) for name, one in CATALOGUE.systems.items() for step in one.steps if step.thin_pct]
    shellac = [
        pounds / (1 + step.thin_pct / 100 * grown)
        for one in CATALOGUE.systems.values()
        for step in one.steps
        if step.finish == "shellac" and step.thin_pct
    ]
    assert shellac
    assert all(1 <= cut <= 1.5 for cut in shellac)
    assert len(thinned) > len(shellac)


def test_thinned_varnish_is_still_within_the_limit_for_varnish() -> None:
    # 450 g/l as put on (40 CFR 59 subpart D, recalled); with less than a twentieth of thinner nobody would bother.
    for system in CATALOGUE.systems.values():
        for step in system.steps:
            finish = FINISHES[step.finish] if step.finish else None
            if finish is None or finish.family != "varnish" or not step.thin_pct:
                continue
            assert finish.thinner_solvent is not None
            thinner_g_l = CATALOGUE.solvents[finish.thinner_solvent].density_g_l.typical
            share = step.thin_pct / 100
            assert (finish.voc_g_l.typical + share * thinner_g_l) / (1 + share) <= 450, system.title
            assert step.thin_pct > 5, system.title


def test_tung_oil_is_thinned_one_to_one_at_first_and_half_as_much_next() -> None:
    # Trade articles, as read: 1:1; that the next coat takes half of that is practice.
    thinned = [step.thin_pct for step in CATALOGUE.systems["tung-oil"].steps if step.do == "coat"]
    assert thinned == [100, 50, 0, 0]


def test_soap_is_one_cup_of_flakes_to_four_of_water() -> None:
    # Two articles on furniture treated with soap, as read: a cup to a quart, and to four cups; flakes heaped weigh
    # about 0.2 kg a litre, practice.
    recipe = FINISHES["soap-flakes"].dissolve
    assert recipe is not None
    assert 0.71 <= recipe.strength_g_l / (200 / 4) <= 1.41


def test_soap_cools_before_it_is_used() -> None:
    # A litre of boiling water in a glass jar of 0.06 m² loses heat by 15 W/m²K: lukewarm, 40 °C in a room of 23.
    recipe = FINISHES["soap-flakes"].dissolve
    assert recipe is not None
    assert recipe.wait_h is not None
    hours = 4186 / (15 * 0.06) / 3600 * log((100 - 23) / (40 - 23))
    assert 0.71 <= recipe.wait_h.typical / hours <= 1.41


def test_flakes_are_left_to_dissolve_for_a_night_or_two() -> None:
    # Practice: put in at night, and shaken now and then until the next evening.
    recipe = FINISHES["shellac"].dissolve
    assert recipe is not None
    assert recipe.wait_h is not None
    assert 16 <= recipe.wait_h.typical <= 30


def test_heaped_powder_is_a_third_to_a_half_of_the_solid() -> None:
    recipe = FINISHES["casein-paint"].dissolve
    assert recipe is not None
    assert recipe.loose_g_l is not None
    assert 0.3 <= recipe.loose_g_l.typical / recipe.density_g_l.typical <= 0.5
