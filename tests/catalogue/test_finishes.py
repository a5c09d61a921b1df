"""Whether the finishes are plausible, and say of every danger what their kind is known for."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any, get_args

import pytest

from finplan.catalogue import DryingLaw, Finish, bundled_catalogue
from tests.each import each

CATALOGUE = bundled_catalogue()
FINISHES = [pytest.param(name, finish, id=name) for name, finish in CATALOGUE.finishes.items()]


def those(wanted: Callable[[Finish], object]) -> list[Any]:
    """The finishes of which a rule speaks."""
    return [pytest.param(name, finish, id=name) for name, finish in CATALOGUE.finishes.items() if wanted(finish)]


@each(("name", "finish"), FINISHES)
def test_wet_film_is_between_a_breath_and_a_flood(name: str, finish: Finish) -> None:
    for rate in (finish.spread_rate.first_m2_l, finish.spread_rate.next_m2_l):
        for m2_l in (rate.low, rate.typical, rate.high):
            assert 10 <= 1000 / m2_l <= 250, name  # µm: one litre over so many m²


@each(("name", "finish"), FINISHES)
def test_later_coats_reach_at_least_as_far_as_the_first(name: str, finish: Finish) -> None:
    assert finish.spread_rate.next_m2_l.typical >= finish.spread_rate.first_m2_l.typical, name


@each(("name", "finish"), FINISHES)
def test_solvent_fits_beside_the_solids(name: str, finish: Finish) -> None:
    # A litre is solids and solvent: what is not solid, all of it solvent, is the most that can evaporate.
    solids, voc = finish.volume_solids_pct, finish.voc_g_l
    assert solids.high <= 100, name
    assert (finish.voc_solvent is None) == (voc.high == 0), name
    if finish.voc_solvent is not None:
        density = CATALOGUE.solvents[finish.voc_solvent].density_g_l
        assert voc.typical <= (1 - solids.typical / 100) * density.typical, name
        assert voc.high <= (1 - solids.low / 100) * density.high + 1e-6, name


@each(("name", "finish"), FINISHES)
def test_what_thins_and_cleans_is_a_record_wherever_it_is_a_solvent(name: str, finish: Finish) -> None:
    for words, record in ((finish.thinner, finish.thinner_solvent), (finish.clean_up, finish.clean_up_solvent)):
        own = words is None or words.startswith("its own")
        assert (record is None) == own, name
        if record is not None and words is not None:
            assert words.partition(",")[0].replace(" and soap", "").replace(" ", "-") == record, name


@each(("name", "finish"), FINISHES)
def test_what_is_thinned_with_a_solvent_that_burns_gives_off_such_vapour(name: str, finish: Finish) -> None:
    thinner = finish.thinner_solvent
    if finish.drying == "solvent" and thinner is not None:
        assert CATALOGUE.solvents[thinner].flammable, name
        assert finish.hazards.flammable, name


GLYCOL_ETHER = "dipropylene-glycol-methyl-ether"


@each(("name", "finish"), FINISHES)
def test_drying_goes_in_order(name: str, finish: Finish) -> None:
    stages = [finish.touch_dry_h, finish.dust_free_h, finish.recoat_h, finish.light_use_h, finish.cure_h]
    known = [stage for stage in stages if stage is not None]
    for earlier, later in pairwise(known):
        assert earlier.low <= later.low, name
        assert earlier.typical <= later.typical, name
        assert earlier.high <= later.high, name


@each(("name", "finish"), FINISHES)
def test_it_can_be_handled_after_touch_dry_and_before_cured(name: str, finish: Finish) -> None:
    assert finish.touch_dry_h.typical <= finish.handle_h.typical, name
    if finish.cure_h is not None:
        assert finish.handle_h.typical <= finish.cure_h.typical, name


@pytest.mark.parametrize(("name", "finish"), those(lambda finish: finish.recoat_limit_h))
def test_a_recoat_window_is_open_for_some_time(name: str, finish: Finish) -> None:
    assert finish.recoat_limit_h is not None
    assert finish.recoat_h.typical < finish.recoat_limit_h.typical, name
    assert finish.recoat_h.low < finish.recoat_limit_h.low, name
    assert finish.recoat_h.typical <= finish.recoat_limit_h.low, f"{name}: no plan could do without abrading"


@pytest.mark.parametrize(("name", "finish"), those(lambda finish: finish.film))
def test_a_film_that_forms_in_time_may_be_put_on(name: str, finish: Finish) -> None:
    assert finish.film is not None
    assert finish.film_forming, name
    assert finish.film.above_c <= finish.apply.temperature_c.low, name
    latest_h = max(finish.handle_h.typical, finish.recoat_h.high)
    assert finish.recoat_h.typical <= finish.film.through_dry_h.typical <= latest_h, name


def test_every_film_of_a_dispersion_says_from_when_it_forms() -> None:
    # Glycol ether helps the particles of a dispersion to flow together; besides it keeps a paste of filler open.
    holding = {name: finish for name, finish in CATALOGUE.finishes.items() if finish.voc_solvent == GLYCOL_ETHER}
    dispersions = {name for name, finish in holding.items() if finish.film_forming}
    assert {name for name, finish in CATALOGUE.finishes.items() if finish.film is not None} == dispersions


@pytest.mark.parametrize(("name", "finish"), those(lambda finish: finish.wipe_off_h))
def test_it_is_wiped_off_before_it_has_dried(name: str, finish: Finish) -> None:
    assert finish.wipe_off_h is not None
    assert finish.wipe_off_h.typical <= finish.touch_dry_h.typical, name
    assert finish.absorbed, name


@each(("name", "finish"), FINISHES)
def test_it_can_be_put_on_in_the_air_in_which_its_times_hold(name: str, finish: Finish) -> None:
    assert finish.apply.temperature_c.holds(23.0), name
    assert finish.apply.humidity_pct.holds(50.0), name


@each(("name", "finish"), FINISHES)
def test_what_hardens_with_oxygen_heats_its_cloths(name: str, finish: Finish) -> None:
    # NFPA 2017 and fire departments name drying oils, oil stains, varnish, alkyd; waterborne finishes do not.
    oil_that_hardens = finish.drying == "oxidation" or finish.family == "oil"
    assert finish.hazards.self_heating == oil_that_hardens, name


@each(("name", "finish"), FINISHES)
def test_what_dries_by_water_does_not_burn_and_lifts_the_fibres(name: str, finish: Finish) -> None:
    watery = finish.drying == "water"
    assert finish.raises_grain == watery, name
    if watery:
        assert not finish.hazards.flammable, name
        assert finish.clean_up.startswith("water"), name


@pytest.mark.parametrize(
    ("name", "finish"), those(lambda finish: finish.drying != "water" and finish.voc_g_l.high > 100)
)
def test_what_holds_solvent_gives_off_vapour_that_burns(name: str, finish: Finish) -> None:
    assert finish.hazards.flammable, name


def test_every_law_of_drying_has_its_pace() -> None:
    assert set(CATALOGUE.drying) == set(get_args(DryingLaw))


def test_isocyanates_are_flagged_and_sensitise() -> None:
    flagged = {name for name, finish in CATALOGUE.finishes.items() if finish.hazards.isocyanate}
    assert flagged == {"hardwax-oil-2k", "tinted-oil-2k", "polyurethane-2k", "polyurethane-2k-waterborne"}
    assert all(CATALOGUE.finishes[name].hazards.sensitiser for name in flagged)


def test_acid_lacquers_are_flagged() -> None:
    flagged = {name for name, finish in CATALOGUE.finishes.items() if finish.hazards.acid}
    assert flagged == {"pre-catalysed-lacquer", "catalysed-lacquer"}


@pytest.mark.parametrize(
    ("name", "finish"), those(lambda finish: finish.drying == "reaction" or finish.hazards.isocyanate)
)
def test_what_a_hardener_cures_is_mixed(name: str, finish: Finish) -> None:
    assert finish.mix is not None, name


@pytest.mark.parametrize(("name", "finish"), those(lambda finish: "food" in finish.contact))
def test_only_oils_claim_to_be_on_a_list_for_food(name: str, finish: Finish) -> None:
    # 21 CFR 175.300(b)(3)(i) lists drying oils, tung and linseed among them.
    assert finish.family == "oil", name
    assert finish.source_of("contact") == "21-cfr-175-300", name


@each(("name", "finish"), FINISHES)
def test_a_litre_weighs_what_is_in_it(name: str, finish: Finish) -> None:
    # No finish is lighter than light petroleum or heavier than a paste full of minerals, nor than its own solvent.
    assert finish.density_g_l is not None, name
    assert 700 <= finish.density_g_l.low <= finish.density_g_l.high <= 2000, name
    assert finish.voc_g_l.typical <= finish.density_g_l.typical, name
    if finish.mix is not None:
        parts = [part.density_g_l for part in finish.mix.components]
        assert all(part is not None for part in parts), name
        together = sum(
            share * part.typical for share, part in zip(finish.mix.shares, parts, strict=True) if part is not None
        )
        assert together == pytest.approx(finish.density_g_l.typical, rel=0.03), name


@pytest.mark.parametrize(("name", "finish"), those(lambda finish: finish.dissolve))
def test_what_is_dissolved_adds_up(name: str, finish: Finish) -> None:
    # A litre of liquid with m grams of a solid fills 1 + m / density litres; the solid is what stays.
    assert finish.dissolve is not None
    recipe, liquid = finish.dissolve, CATALOGUE.solvents[finish.dissolve.liquid].density_g_l.typical
    fills_l = 1 + recipe.strength_g_l / recipe.density_g_l.typical
    solids_pct = (fills_l - 1) / fills_l * 100
    assert finish.volume_solids_pct.low * 0.95 <= solids_pct <= finish.volume_solids_pct.high * 1.05, name
    assert finish.density_g_l is not None, name
    weighs_g_l = (recipe.strength_g_l + liquid) / fills_l
    assert finish.density_g_l.low <= weighs_g_l <= finish.density_g_l.high, name
    assert finish.measure == "g", name
    assert finish.bought_dry, name


def test_what_is_sold_by_mass() -> None:
    by_mass = {name for name, finish in CATALOGUE.finishes.items() if finish.measure == "g"}
    assert by_mass == {"paste-wax", "shellac", "soap-flakes", "casein-paint", "water-dye", "alcohol-dye"}
