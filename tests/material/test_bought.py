"""Finishes and solvents as they are bought: in cans, by mass, dry, in components, and after what is on the shelf."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from finplan.catalogue import Catalogue, Finish
from finplan.material import MaterialPlan, Supply
from finplan.reading import validate
from tests.material.pieces import CATALOGUE, job, on_shelf, order, treatment


def supply(plan: MaterialPlan, name: str) -> Supply:
    return next(one for one in plan.supplies if one.material == name)


def with_finish(name: str, **changes: object) -> Catalogue:
    """The catalogue with a finish whose fields are changed, as a shop file says them."""
    finish = CATALOGUE.finishes[name]
    said = {**{field: getattr(finish, field) for field in type(finish).model_fields if field in changes}, **changes}
    laid, findings = validate(Finish, {"title": "x", "basis": "practice", **_plain(finish), **said})
    assert laid is not None, findings
    return replace(CATALOGUE, finishes={**CATALOGUE.finishes, name: laid})


def _plain(finish: Finish) -> dict[str, object]:
    return {
        info.alias or field: getattr(finish, field)
        for field, info in type(finish).model_fields.items()
        if getattr(finish, field) not in (None, ())
    }


def test_packs_reach_the_confidence() -> None:
    plan = order(job(treatment("hardwax-oil")))
    oil = supply(plan, "hardwax-oil")
    assert oil.holds >= oil.at_confidence
    assert oil.enough_probability >= plan.confidence
    assert oil.needed.low < oil.needed.typical < oil.at_confidence < oil.needed.high
    assert oil.left_over == pytest.approx(oil.holds - oil.needed.typical)


def test_wax_is_bought_by_mass() -> None:
    # By hand: millilitres times 0.85 g/ml.
    plan = order(job(treatment("wax")))
    wax = supply(plan, "paste-wax")
    assert wax.measure == "g"
    assert wax.needed.typical == pytest.approx(0.85 * plan.materials[0].needed_ml.typical)
    assert {one.size for one in wax.buy} <= {100.0, 250.0, 500.0, 1000.0, 2500.0, 5000.0}


def test_flakes_and_alcohol() -> None:
    # A litre of a two pound cut at 1.15 kg/l holds 198.3 g of flakes and 827.5 ml of alcohol.
    plan = order(job(treatment("shellac")))
    need = next(material for material in plan.materials if material.material == "shellac")
    flakes, alcohol = supply(plan, "shellac"), supply(plan, "denatured-alcohol")
    assert (flakes.title, flakes.measure) == ("Shellac flakes", "g")
    assert flakes.needed.typical == pytest.approx(0.1983 * need.needed_ml.typical, rel=1e-3)
    thinner_ml = sum(coat.thinner_ml.typical for coat in need.coats)
    sessions = len({coat.step.coat for coat in need.coats})
    rinse_ml = CATALOGUE.methods["pad"].rinse_ml
    assert rinse_ml is not None
    expected = 0.8275 * need.needed_ml.typical + thinner_ml + sessions * rinse_ml.typical
    assert alcohol.needed.typical == pytest.approx(expected, rel=1e-3)
    assert thinner_ml > 0


def test_shellac_in_cans_where_the_shop_buys_it_ready() -> None:
    catalogue = with_finish("shellac", packs=["500 ml", "1 l"])
    plan = order(job(treatment("shellac")), catalogue=catalogue)
    ready = supply(plan, "shellac")
    assert ready.measure == "ml"
    assert ready.needed.typical == pytest.approx(plan.materials[0].needed_ml.typical)
    assert not plan.make_ups
    assert all("dissolve" not in use.coat for use in supply(plan, "denatured-alcohol").uses)


def test_components_come_as_a_set() -> None:
    # 4 to 1: the common litre of lacquer comes with 250 ml of hardener and makes 1.25 L.
    plan = order(job(treatment("polyurethane-2k", method="brush")))
    lacquer = supply(plan, "polyurethane-2k")
    assert all(one.parts[0] == pytest.approx(4 * one.parts[1]) for one in lacquer.buy)
    assert all(one.size == pytest.approx(sum(one.parts)) for one in lacquer.buy)
    assert lacquer.holds >= lacquer.at_confidence
    parts = lacquer.components
    assert [part.material for part in parts] == ["lacquer", "isocyanate hardener"]
    assert parts[0].at_confidence == pytest.approx(0.8 * lacquer.at_confidence)
    assert [part.holds for part in parts] == pytest.approx([0.8 * lacquer.holds, 0.2 * lacquer.holds])


def test_a_set_is_worth_what_its_meagre_part_allows() -> None:
    # By hand: 1 L of lacquer and 200 ml of hardener at 4 to 1 make a litre of mix; 200 ml of lacquer are over.
    packs = [{"parts": ["1 l", "200 ml"], "price": 50}]
    plan = order(
        job(treatment("polyurethane-2k", method="brush")), catalogue=with_finish("polyurethane-2k", packs=packs)
    )
    found = supply(plan, "polyurethane-2k")
    (bought,) = found.buy
    assert bought.size == pytest.approx(1000.0)
    assert bought.parts == (1000.0, 200.0)
    assert found.cost == pytest.approx(50.0 * bought.count)
    assert found.holds >= found.at_confidence


def test_components_sold_apart_are_each_enough() -> None:
    mix = {
        "components": [
            {"name": "lacquer", "parts": 4, "packs": ["750 ml"]},
            {"name": "hardener", "parts": 1, "packs": ["100 ml", "400 ml"]},
        ],
        "pot-life": "2/4/8 h",
    }
    plan = order(job(treatment("polyurethane-2k", method="brush")), catalogue=with_finish("polyurethane-2k", mix=mix))
    found = supply(plan, "polyurethane-2k")
    for part, share in zip(found.components, (0.8, 0.2), strict=True):
        assert part.holds >= share * found.at_confidence
        assert all(one.component == part.material for one in found.buy if one.size in {p.size for p in part.buy})
    assert found.enough_probability == min(part.enough_probability for part in found.components)
    assert found.holds == pytest.approx(min(found.components[0].holds / 0.8, found.components[1].holds / 0.2))


def test_what_is_on_the_shelf_comes_first() -> None:
    plain = supply(order(job(treatment("hardwax-oil"))), "hardwax-oil")
    left = on_shelf(finish="hardwax-oil", left="150 ml", opened="2027-02-01")
    found = supply(order(job(treatment("hardwax-oil")), shelf=(left,)), "hardwax-oil")
    assert found.shelf.good == 150.0
    assert found.at_confidence == plain.at_confidence
    assert found.holds + 150.0 >= found.at_confidence
    assert found.holds <= plain.holds
    enough = on_shelf(finish="hardwax-oil", left="5 l")
    nothing = supply(order(job(treatment("hardwax-oil")), shelf=(enough,)), "hardwax-oil")
    assert (nothing.buy, nothing.cost) == ((), 0)
    assert nothing.enough_probability == 1.0


@pytest.mark.parametrize(
    ("opened", "good", "source"),
    [
        ("2026-09-02", True, "180 days later is 2027-03-01, the day itself"),
        ("2026-09-01", False, "the shelf life at its low end, 6 months of 30 days, ended the day before"),
        (None, True, "still sealed"),
    ],
)
def test_what_is_too_old_is_told_and_not_counted(opened: str | None, good: bool, source: str) -> None:
    said: dict[str, object] = {"finish": "hardwax-oil", "left": "150 ml"}
    left = on_shelf(**said, **({"opened": opened} if opened else {}))
    found = supply(order(job(treatment("hardwax-oil"), day=date(2027, 3, 1)), shelf=(left,)), "hardwax-oil")
    assert (found.shelf.good == 150.0) == good, source
    assert bool(found.shelf.spoiled) != good, source


def test_flakes_keep_longer_than_what_is_made_up() -> None:
    solution = on_shelf(finish="shellac", left="300 ml", opened="2026-10-01")
    flakes = on_shelf(finish="shellac", left="40 g", opened="2026-10-01")
    plan = order(job(treatment("shellac")), shelf=(solution, flakes))
    found = supply(plan, "shellac")
    assert found.shelf.good == 40.0
    assert [left.amount for left in found.shelf.spoiled] == pytest.approx([300 * 0.19832], rel=1e-4)
    fresh = order(job(treatment("shellac")), shelf=(on_shelf(finish="shellac", left="300 ml", opened="2027-02-01"),))
    assert supply(fresh, "shellac").shelf.good == pytest.approx(300 * 0.19832, rel=1e-4)
    assert supply(fresh, "denatured-alcohol").shelf.good == pytest.approx(
        300 * 0.82754, rel=1e-4
    )  # its alcohol is in it


def test_a_component_alone_mixes_nothing() -> None:
    lacquer = on_shelf(finish="polyurethane-2k", component="lacquer", left="400 ml")
    hardener = on_shelf(finish="polyurethane-2k", component="isocyanate hardener", left="60 ml")
    jobs = job(treatment("polyurethane-2k", method="brush"))
    assert supply(order(jobs, shelf=(lacquer,)), "polyurethane-2k").shelf.good == 0.0
    both = supply(order(jobs, shelf=(lacquer, hardener)), "polyurethane-2k")
    assert both.shelf.good == pytest.approx(300.0)  # by hand: 60 ml of hardener take 240 ml of lacquer


def test_water_is_not_bought_and_own_thinner_is() -> None:
    names = {one.material for one in order(job(treatment("waterborne-polyurethane"))).solvents}
    assert names == set()
    names = {one.material for one in order(job(treatment("polyurethane-2k", method="brush"))).solvents}
    assert names == {"polyurethane-2k-thinner"}


def test_tools_are_cleaned_once_for_every_coat() -> None:
    # Two items and two pieces that get the same two coats of oil varnish: three coats, three cleanings of the brush.
    pieces = [job(treatment("oil-varnish", item), treatment("oil-varnish", f"{item} 2"), piece=item) for item in "ab"]
    plan = order(*pieces)
    cleanings = [use for use in supply(plan, "white-spirit").uses if use.item == "clean-up"]
    assert len(cleanings) == 3
    rinse_ml = CATALOGUE.methods["brush"].rinse_ml
    assert rinse_ml is not None
    assert cleanings[0].needed.typical == rinse_ml.typical
    assert cleanings[0].needed.high / cleanings[0].needed.low == pytest.approx(rinse_ml.high / rinse_ml.low)


def test_a_solvent_on_the_shelf() -> None:
    plan = order(job(treatment("oil-varnish")), shelf=(on_shelf(solvent="white-spirit", left="5 l"),))
    assert supply(plan, "white-spirit").buy == ()


@pytest.mark.parametrize(
    ("name", "changes", "path"),
    [
        ("hardwax-oil", {"density": None, "packs": ["500 g"]}, ("packs",)),
        ("polyurethane-2k", {"packs": [{"parts": ["1 l", "1 l", "1 l"]}]}, ("packs",)),
        ("polyurethane-2k", {"packs": ["500 g"]}, ("packs",)),
        ("hardwax-oil", {"packs": [{"parts": ["1 l", "250 ml"]}]}, ("packs",)),
        ("hardwax-oil", {"packs": ["1 l", "500 g"]}, ("packs",)),
        ("hardwax-oil", {"packs": [{"price": 5}]}, ("packs",)),
        ("shellac", {"mix": CATALOGUE.finishes["polyurethane-2k"].mix}, ("dissolve",)),
        ("oil-varnish", {"volume-solids": "0/10/20 %"}, ("volume-solids",)),
    ],
)
def test_what_cannot_be_measured_is_refused(name: str, changes: dict[str, object], path: tuple[str, ...]) -> None:
    data = {key: value for key, value in {**_plain(CATALOGUE.finishes[name]), **changes}.items() if value is not None}
    finish, findings = validate(Finish, data)
    assert finish is None
    assert [finding.path[: len(path)] for finding in findings] == [path]
