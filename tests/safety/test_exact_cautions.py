"""Systems on sugar maple, sanded by machine: exactly the cautions they need, and why.

Maple is a hardwood that is listed as irritating; every piece is sanded, with a random-orbit sander where it is flat,
and on the lathe where it is turned.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.safety.pieces import plan_with

ALWAYS = {
    "rules-come-first": "goes with every sheet",
    "wood-dust": "every piece is sanded",
    "dust-explosion": "sanding dust lies on ledges",
    "hardwood-dust": "maple is a hardwood: Directive (EU) 2017/2398",
    "allergenic-timber": "maple is listed as irritating",
}
BY_MACHINE = {
    "sanding-noise": "flat faces are sanded by machine",
    "extraction": "likewise",
    "lathe-sanding": "its legs are sanded while they turn",
}
VAPOUR = {
    "vapour-dilution": "solvent leaves for hours",
    "solvent-skin": "solvent goes through skin",
    "drains": "solvent goes into no drain",
    "in-the-eye": "it is poured and splashes",
    "on-the-skin": "likewise",
    "breathed-in": "its vapour makes dizzy",
}
ON_FIRE = {"on-fire": "it may burn, or its cloths by themselves"}
BURNS = {
    **VAPOUR,
    **ON_FIRE,
    "spilled": "a puddle gives off what burns all at once",
    "flammable-vapour": "its solvent burns",
    "lights-and-heaters": "a switch lights the vapour",
    "waste-can": "cloths wet with solvent burn",
}
MASK = {
    "solvent-breath": "by reckoning the air of the room does not do, and a dust mask stops no vapour",
    "cartridge-change": "where a mask is worn its cartridges fill up",
}
OILY = {
    **ON_FIRE,
    "oily-cloths": "a drying oil: its cloths catch fire by themselves",
    "oily-cloths-dry": "likewise",
    "oil-in-water-can": "likewise",
    "oily-dust": "it is abraded while it still hardens",
    "waste-can": "cloths leave the building every day",
    "wait-for-cure": "it hardens for weeks",
}
SPRAYED = {
    "spray-booth": "what burns is sprayed",
    "spray-residue": "overspray of lacquer burns",
    "spray-static": "a jet charges itself",
}
SPRAY_MASK = {
    "spray-mask": "it is sprayed, and holds no isocyanate, for which no cartridge mask is named",
    "cartridge-change": "where a mask is worn its cartridges fill up",
}
ISOCYANATE = {
    "isocyanate-mask": "its hardener is an isocyanate, which nobody smells",
    "isocyanate-training": "REACH Annex XVII entry 74",
    "isocyanate-waste": "with water its hardener gives off gas, which bursts what is shut",
    "sensitiser-skin": "isocyanate makes skin and lungs allergic",
}
NEEDED = {
    "lacquer": {**BURNS, **SPRAYED, **SPRAY_MASK},
    "polyurethane-2k": {
        **{code: why for code, why in BURNS.items() if code != "waste-can"},
        **SPRAYED,
        **ISOCYANATE,
        "reactive-dust": "coats of it are abraded before the next",
        "wait-for-cure": "until it has set hardener is free in it",
    },
    "hardwax-oil-2k": {
        **VAPOUR,
        **ISOCYANATE,
        **{code: why for code, why in OILY.items() if code != "oily-dust"},
        "flammable-cleaner": "it holds no solvent, but white spirit cleans the tools",
    },
    "linseed-oil": {
        **VAPOUR,
        **OILY,
        "flammable-cleaner": "it holds hardly any solvent, but white spirit cleans the tools",
    },
    "shellac": BURNS,
    "waterborne-polyurethane": VAPOUR,
    "casein-paint": {
        **BURNS,
        "lime": "it holds lime",
        "lime-dust": "it is abraded between coats",
        "powder": "it is stirred from powder",
    },
    "soap": {},
}
LEAD = {
    "old-paint": "it was built when paint held lead: 40 CFR 745",
    "old-paint-test": "it is tested first",
    "old-paint-containment": "what comes off stays on a sheet",
    "old-paint-wet": "it is sanded wet",
    "old-paint-clean-up": "wet dust is left",
    "old-paint-waste": "so is waste",
}
ROOMS = {"large": "volume: 200 m3, air-changes: 6, fan: 4000 m3/h", "small": "volume: 12 m3, air-changes: 0.5"}


def of(folder: Path, system: str, *, room: str = "large", built: int | None = None) -> list[str]:
    more = "" if built is None else f"refinish: {{built: {built}}}\n"
    plan = plan_with(folder, system, timber="sugar-maple", room=ROOMS[room], more=more)
    return sorted(line.code for line in plan.cautions)


def test_waterborne_in_a_small_room(tmp_path: Path) -> None:
    """It does not burn, and what it gives off is breathed all the same."""
    assert of(tmp_path, "waterborne-polyurethane", room="small") == sorted({**ALWAYS, **BY_MACHINE, **VAPOUR, **MASK})


@pytest.mark.parametrize("system", ["soap", "waterborne-polyurethane"])
def test_what_may_hold_lead(system: str, tmp_path: Path) -> None:
    """No machine sands it; wood that is wetted before the first coat is abraded once more, and may hold traces."""
    wetted = {"old-paint-traces": "the raised grain is abraded"}
    assert of(tmp_path, system, built=1965) == sorted({**ALWAYS, **NEEDED[system], **LEAD, **wetted})


@pytest.mark.parametrize("system", list(NEEDED))
def test_exactly_these(system: str, tmp_path: Path) -> None:
    assert of(tmp_path, system) == sorted({**ALWAYS, **BY_MACHINE, **NEEDED[system]})


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
