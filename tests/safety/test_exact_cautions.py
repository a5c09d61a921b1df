"""Four systems on sugar maple, sanded by machine: exactly the cautions they need, and why.

Maple is a hardwood that is listed as irritating; every piece is sanded, with a random-orbit sander where it is flat.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.safety.pieces import plan_with

ALWAYS = {
    "rules-come-first": "goes with every sheet",
    "wood-dust": "every piece is sanded",
    "dust-explosion": "sanding dust lies on ledges",
    "sanding-noise": "flat faces are sanded by machine",
    "hardwood-dust": "maple is a hardwood: Directive (EU) 2017/2398",
    "allergenic-timber": "maple is listed as irritating",
}
BURNS = {
    "flammable-vapour": "its solvent burns",
    "lights-and-heaters": "a switch lights the vapour",
    "vapour-dilution": "solvent leaves for hours",
    "solvent-breath": "a dust mask stops no vapour",
    "solvent-skin": "solvent goes through skin",
    "cartridge-change": "where a mask is worn its cartridges fill up",
    "waste-can": "cloths wet with solvent burn",
    "drains": "solvent goes into no drain",
}
NEEDED = {
    "polyurethane-2k": {
        **BURNS,
        "isocyanate-mask": "its hardener is an isocyanate, which nobody smells",
        "isocyanate-training": "REACH Annex XVII entry 74",
        "sensitiser-skin": "isocyanate makes skin and lungs allergic",
        "reactive-dust": "coats of it are abraded before the next",
        "spray-booth": "what burns is sprayed",
        "spray-residue": "overspray of lacquer burns",
        "spray-static": "a jet charges itself",
        "spray-mask": "it is sprayed",
    },
    "linseed-oil": {
        "oily-cloths": "a drying oil: its cloths catch fire by themselves",
        "oily-cloths-dry": "likewise",
        "oil-in-water-can": "likewise",
        "oily-dust": "it is abraded while it still hardens",
        "waste-can": "cloths leave the building every day",
        "drains": "oil goes into no drain",
        "flammable-cleaner": "it holds hardly any solvent, but white spirit cleans the tools",
        "wait-for-cure": "it hardens for weeks",
    },
    "shellac": {**BURNS},
    "waterborne-polyurethane": {},
}


@pytest.mark.parametrize("system", list(NEEDED))
def test_exactly_these(system: str, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, system, timber="sugar-maple")
    assert sorted(line.code for line in plan.cautions) == sorted({**ALWAYS, **NEEDED[system]})


@pytest.mark.parametrize("system", list(NEEDED))
def test_each_has_a_reason_a_source_and_what_comes_first(system: str, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, system, timber="sugar-maple")
    for line in plan.cautions:
        assert line.reason.endswith("."), line.code
        assert line.source in plan.catalogue.sources, line.code
        for words in ("Local codes", "label", "safety data sheet", "licensed practice"):
            assert words in line.comes_first, line.code


@pytest.mark.parametrize(
    ("system", "code", "because"),
    [
        ("linseed-oil", "oily-cloths", ("Boiled linseed oil",)),
        ("linseed-oil", "flammable-cleaner", ("White spirit (mineral spirits, Stoddard solvent)",)),
        ("polyurethane-2k", "isocyanate-mask", ("Two-component polyurethane, solvent-borne",)),
        ("shellac", "flammable-vapour", ("Shellac, 2 lb cut, dewaxed", "Paste wax")),
        ("waterborne-polyurethane", "sanding-noise", ("Random-orbit sander, 150 mm (6 in) disc",)),
    ],
)
def test_what_calls_for_it(system: str, code: str, because: tuple[str, ...], tmp_path: Path) -> None:
    lines = {line.code: line for line in plan_with(tmp_path, system, timber="sugar-maple").cautions}
    assert lines[code].because == because


def test_one_coat_that_is_never_abraded_makes_no_oily_dust(tmp_path: Path) -> None:
    codes = {line.code for line in plan_with(tmp_path, "hardwax-oil-2k").cautions}
    assert "oily-cloths" in codes
    assert not codes & {"oily-dust", "reactive-dust"}


def test_a_waterborne_finish_that_is_sprayed_needs_no_booth(tmp_path: Path) -> None:
    from dataclasses import replace

    from finplan.safety import cautions

    plan = plan_with(tmp_path, "waterborne-polyurethane")
    sprayed = [
        replace(one, steps=tuple(replace(step, method="spray-hvlp") if step.finish else step for step in one.steps))
        for one in plan.treatments
    ]
    codes = {line.code for line in cautions(sprayed, plan.catalogue)}
    assert "spray-mask" in codes
    assert not codes & {"spray-booth", "spray-static", "spray-residue"}
