"""What makes an amount uncertain, what would make it surer, and how that is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finplan.catalogue import overruled
from finplan.material import Supply
from finplan.telling import cause_words, surer_together, surer_words
from tests.material.draws import item
from tests.material.pieces import CATALOGUE, job, order, treatment


def of(system: str, finish: str, sure: float = 0.9, coats: int | None = None, label: str = "") -> Supply:
    said = {"finishes": {finish: {"spread-rate": {"first": label, "next": label}}}} if label else {}
    catalogue, findings = overruled(CATALOGUE, said)
    assert not findings
    plan = order(job(treatment(system, coats=coats)), sure=sure, catalogue=catalogue)
    return next(need.supply for need in plan.materials if need.material == finish)


def test_the_tin_weighed_on_the_first_coat_makes_it_surest() -> None:
    supply = of("oil-varnish", "oil-varnish")
    assert supply.surer is not None
    assert supply.surer.deed == "weigh"
    # Only coats still differ from each other: what is enough then lies a little above what is typical.
    assert supply.needed.typical < supply.surer.at_confidence < 1.05 * supply.needed.typical
    assert supply.surer.at_confidence < supply.at_confidence
    told = surer_words(supply, 0.9, "metric")
    assert told.startswith("Weigh the can or jar before and after the first coat: should it go as usual, ")
    assert told.endswith(f"are enough with 90 %, not {supply.at_confidence:.0f} ml.")


def test_of_a_single_coat_the_label_tells_more() -> None:
    supply = of("hardwax-oil-2k", "hardwax-oil-2k")
    assert supply.surer is not None
    assert supply.surer.deed == "label"
    assert surer_words(supply, 0.9, "metric").startswith("Read off the label how far a litre goes")
    assert surer_words(supply, 0.9, "us").startswith("Read off the label how far a gallon goes")
    known = of("hardwax-oil-2k", "hardwax-oil-2k", label="20/35/50 m2/l")
    assert known.at_confidence == pytest.approx(supply.surer.at_confidence)
    assert known.surer is None
    assert surer_words(known, 0.9, "metric") == ""


def test_what_makes_several_surer_is_told_once() -> None:
    varnish, oil = of("oil-varnish", "oil-varnish"), of("hardwax-oil-2k", "hardwax-oil-2k")
    assert surer_together([varnish], 0.9, "metric") == (f"{varnish.title}: {surer_words(varnish, 0.9, 'metric')}",)
    (weighed, label) = surer_together([varnish, oil, varnish], 0.9, "metric")
    assert weighed.count("Weigh the can") == 1
    assert weighed.count(f"{varnish.title} ") == 2
    assert weighed.count(f", not {varnish.at_confidence:.0f} ml") == 2
    assert label.endswith(surer_words(oil, 0.9, "metric"))


def test_half_sure_is_not_made_surer() -> None:
    assert of("oil-varnish", "oil-varnish", sure=0.5).surer is None


def test_shares_are_told_the_largest_first() -> None:
    supply = of("oil-varnish", "oil-varnish")
    assert sum(share for _, share in supply.shares) == pytest.approx(1.0)
    told = cause_words(replace(supply, shares=(("product", 0.25), ("hand", 0.7), ("wood", 0.004), ("coat", 0.046))))
    assert told == "hand and tool 70 %, how far this product goes 25 %, coat to coat 5 %"
    assert cause_words(replace(supply, shares=())) == ""


def test_end_grain_makes_the_wood_count() -> None:
    # A top that is a third end grain, which drinks two to five times as much: the wood is no small share any more.
    shares = []
    for ends_m2 in (0.0, 0.7):
        plan = order(job(item("hardwax-oil", "top", 2.0, ends_m2, "beech")))
        shares.append(dict(plan.materials[0].supply.shares)["wood"])
    assert shares[1] > 5 * shares[0]


def test_the_label_leaves_no_share_to_the_tin() -> None:
    assert dict(of("oil-varnish", "oil-varnish", label="10/12/14 m2/l").shares)["product"] == 0.0
