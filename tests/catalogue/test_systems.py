"""Whether each system can be carried out with the finishes and methods that it names."""

from __future__ import annotations

from itertools import pairwise

import pytest

from finplan.catalogue import System, bundled_catalogue
from finplan.catalogue.compatibility import finish_called, is_called
from tests.each import each

CATALOGUE = bundled_catalogue()
SYSTEMS = [pytest.param(name, system, id=name) for name, system in CATALOGUE.systems.items()]
GRADES = list(CATALOGUE.grades["p-grade"].sizes_um)


@each(("name", "system"), SYSTEMS)
def test_it_starts_on_bare_wood_and_ends_with_a_coat(name: str, system: System) -> None:
    deeds = [step.do for step in system.steps]
    assert deeds[0] == "sand", name
    assert deeds.count("sand") == 1, name
    assert deeds[-1] == "coat", name


@each(("name", "system"), SYSTEMS)
def test_abrading_lies_between_coats_or_takes_filler_or_raised_fibres_off(name: str, system: System) -> None:
    deeds = [step.do for step in system.steps]
    for index, deed in enumerate(deeds):
        if deed in ("abrade", "rub-out"):
            assert deeds[index - 1] in ("coat", "fill", "raise-grain"), name
            assert "coat" in deeds[index:], name
        if deed == "raise-grain":
            assert deeds[index + 1] == "abrade", name


@each(("name", "system"), SYSTEMS)
def test_each_coat_goes_on_in_ways_that_the_finish_allows(name: str, system: System) -> None:
    for step in system.steps:
        if step.finish:
            assert step.methods, (name, step)
            assert set(step.methods) <= set(CATALOGUE.finishes[step.finish].methods), (name, step)


@each(("name", "system"), SYSTEMS)
def test_coats_can_be_put_on_without_a_spray_gun_unless_the_finish_forbids_it(name: str, system: System) -> None:
    for step in system.steps:
        if not step.finish:
            continue
        by_hand = [one for one in CATALOGUE.finishes[step.finish].methods if not CATALOGUE.methods[one].sprayed]
        sprayed_only = name == "lacquer"  # brushed only with a slow thinner, so not offered
        if by_hand and not sprayed_only:
            assert set(step.methods) & set(by_hand), (name, step)


@each(("name", "system"), SYSTEMS)
def test_fibres_are_raised_before_water_meets_bare_wood(name: str, system: System) -> None:
    first = next(step.finish for step in system.steps if step.do == "coat")
    raised = any(step.do == "raise-grain" for step in system.steps)
    assert first is not None
    # A water-based primer raises the fibres itself and is abraded.
    primed = CATALOGUE.finishes[first].family == "primer"
    assert raised == (CATALOGUE.finishes[first].raises_grain and not primed), name


@each(("name", "system"), SYSTEMS)
def test_grits_are_grades_and_get_no_coarser_from_coat_to_coat(name: str, system: System) -> None:
    stops = system.stop_grit
    assert {stops.open, stops.closed, stops.softwood, stops.oily} <= set(GRADES), name
    between = [step.grit for step in system.steps if step.grit]
    assert set(between) <= set(GRADES), name
    for earlier, later in pairwise(between):
        assert GRADES.index(earlier) <= GRADES.index(later), name


@each(("name", "system"), SYSTEMS)
def test_coats_are_abraded_finer_than_bare_wood_under_a_film(name: str, system: System) -> None:
    between = [GRADES.index(step.grit) for step in system.steps if step.grit]
    stops = (system.stop_grit.open, system.stop_grit.closed, system.stop_grit.softwood)
    assert all(grade >= max(GRADES.index(stop) for stop in stops) for grade in between), name


@each(("name", "system"), SYSTEMS)
def test_what_is_thinned_is_flagged_as_giving_off_vapour(name: str, system: System) -> None:
    for step in system.steps:
        if step.finish and step.thin_pct:
            finish = CATALOGUE.finishes[step.finish]
            assert finish.thinner, (name, step)
            assert finish.hazards.flammable or finish.thinner.startswith("water"), (name, step)


@each(("name", "system"), SYSTEMS)
def test_nothing_goes_over_wax(name: str, system: System) -> None:
    finishes = [step.finish for step in system.steps if step.finish]
    assert all(later == "paste-wax" for earlier, later in pairwise(finishes) if earlier == "paste-wax"), name


@each(("name", "system"), SYSTEMS)
def test_waterborne_goes_over_fresh_oil_only_with_something_between(name: str, system: System) -> None:
    used = [CATALOGUE.finishes[step.finish] for step in system.steps if step.do == "coat" and step.finish]
    for under, over in pairwise(used):
        assert not (under.drying == "oxidation" and over.drying == "water"), name


@each(("name", "system"), SYSTEMS)
def test_colour_and_gloss_are_sanded_strictly_and_paint_loosely(name: str, system: System) -> None:
    families = {CATALOGUE.finishes[finish].family for finish in system.finishes()}
    if system.opaque:
        assert system.progression == "paint", name
    elif families & {"stain", "dye"}:
        assert system.progression == "strict", name
        assert system.end_grain_steps == 2, name  # end grain drinks colour
    else:
        assert system.progression in ("normal", "strict"), name


@each(("name", "system"), SYSTEMS)
def test_it_says_how_to_look_after_it(name: str, system: System) -> None:
    assert system.care, name
    assert all(line.endswith(".") for line in system.care), name


@each(("name", "system"), SYSTEMS)
def test_it_says_what_it_is_and_how_it_is_mended(name: str, system: System) -> None:
    assert system.repair is not None, name
    told = (system.about or "", system.repair.scratch, system.repair.ring, system.repair.worn)
    assert all(line.endswith(".") for line in told), name


@each(("name", "system"), SYSTEMS)
def test_what_its_owner_renews_it_with_goes_over_its_last_coat(name: str, system: System) -> None:
    if system.renewed_with is None:
        assert system.repair is not None, name
        assert "workshop" in system.repair.worn, name
        return
    over = finish_called(system.renewed_with, CATALOGUE.finishes[system.renewed_with])
    last = [step.finish for step in system.steps if step.finish][-1]
    under = finish_called(last, CATALOGUE.finishes[last])
    hardened = [rule for rule in CATALOGUE.compatibility.values() if rule.after_h is None and not rule.after_cure]
    broken = [rule.title for rule in hardened if is_called(rule.over, over) and is_called(rule.under, under)]
    assert not broken, name


@each(("name", "system"), SYSTEMS)
def test_its_owner_handles_no_hardener_and_no_gun(name: str, system: System) -> None:
    if system.renewed_with is not None:
        finish = CATALOGUE.finishes[system.renewed_with]
        assert finish.mix is None, name
        assert any(not CATALOGUE.methods[method].sprayed for method in finish.methods), name


RANKS = {  # of one to five, the least first: common trade practice, from memory, why beside it
    "water": [
        ("wax", "soap"),  # drops mark what only lies in the pores
        ("linseed-oil", "shellac", "casein-paint"),
        ("tung-oil", "hardwax-oil", "oil-varnish-blend", "lacquer"),
        ("hardwax-oil-2k", "oil-varnish", "waterborne-polyurethane", "alkyd-enamel", "acrylic-enamel"),
        ("oil-polyurethane", "catalysed-lacquer", "polyurethane-2k"),  # dense films
    ],
    "heat": [
        ("wax", "shellac"),  # melt or soften below the heat of a cup
        ("linseed-oil", "soap", "lacquer"),
        (
            *("tung-oil", "hardwax-oil", "oil-varnish-blend", "casein-paint"),
            *("waterborne-polyurethane", "acrylic-enamel"),  # thermoplastic, but hard
        ),
        ("hardwax-oil-2k", "oil-varnish", "oil-polyurethane", "alkyd-enamel", "catalysed-lacquer"),
        ("polyurethane-2k",),
    ],
    "wear": [
        ("wax",),
        ("linseed-oil", "tung-oil", "shellac", "soap"),
        ("hardwax-oil", "oil-varnish-blend", "lacquer", "casein-paint", "acrylic-enamel"),
        ("hardwax-oil-2k", "oil-varnish", "waterborne-polyurethane", "alkyd-enamel"),
        ("oil-polyurethane", "catalysed-lacquer", "polyurethane-2k"),  # urethane or a hardener
    ],
    "repair": [
        ("catalysed-lacquer", "polyurethane-2k"),  # nothing dissolves or bites into it
        ("oil-varnish", "oil-polyurethane", "waterborne-polyurethane"),
        ("alkyd-enamel", "acrylic-enamel"),  # a film that is painted over
        ("hardwax-oil-2k", "lacquer", "casein-paint"),
        # Its own solvent or more of it melts into it.
        ("hardwax-oil", "linseed-oil", "tung-oil", "oil-varnish-blend", "shellac", "wax", "soap"),
    ],
}


@pytest.mark.parametrize("of", list(RANKS))
def test_ratings_order_the_systems_as_the_trade_does(of: str) -> None:
    found = {name: int(getattr(system.ratings, of)) for name, system in CATALOGUE.systems.items()}
    for rank, names in enumerate(RANKS[of], 1):
        assert {name: found[name] for name in names} == dict.fromkeys(names, rank)
    # Colour under a film changes nothing but that a mended place shows.
    coloured = {
        "stain-and-varnish": "oil-varnish",
        "dye-and-waterborne": "waterborne-polyurethane",
        "tinted-oil": "hardwax-oil",
        "tinted-oil-2k": "hardwax-oil-2k",
    }
    assert {name for names in RANKS[of] for name in names} | set(coloured) == set(found)
    for name, clear in coloured.items():
        mended = (
            found[clear] - 1 if name.startswith("tinted") else 1
        )  # a tinted oil is oiled again, its colour touched in
        assert found[name] == (mended if of == "repair" else found[clear]), name


def test_what_fills_pores_is_worked_and_abraded_alike_in_a_system_and_beside_one() -> None:
    """Filler that is left on the wood clouds a clear film: it is taken off down to the pores. Practice, no source."""
    beside = [(step.do, step.grit, step.note) for step in CATALOGUE.extra_steps["fill-pores"].steps]
    for name, system in CATALOGUE.systems.items():
        steps = [(step.do, step.grit, step.note) for step in system.steps]
        for at in (at for at, step in enumerate(system.steps) if step.finish == "water-grain-filler"):
            assert steps[at : at + 2] == beside, name


def test_no_title_says_that_pores_are_filled() -> None:
    """Those of fibreboard and close-grained timber are not, and the customer reads the title of the offer."""
    filling = [system for system in CATALOGUE.systems.values() if any(step.do == "fill" for step in system.steps)]
    assert filling
    assert not [system.title for system in filling if "filled" in system.title]
