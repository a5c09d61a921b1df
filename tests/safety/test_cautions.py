"""Which cautions a system calls for, and which not."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import read_source, together
from finplan.safety import CautionLine, cautions, dangers
from tests.conftest import EXAMPLE


def lines_of(folder: Path, system: str, timber: str = "ash") -> dict[str, CautionLine]:
    file = folder / "piece.yaml"
    file.write_text(
        EXAMPLE.replace("hardwax-oil", system).replace("timber: ash", f"timber: {timber}"), encoding="utf-8"
    )
    source = read_source(file, None)
    found = together([source])[0].treatments
    return {line.code: line for line in cautions(found, source.catalogue)}


def dangers_of(folder: Path, system: str, timber: str = "ash") -> set[str]:
    file = folder / "piece.yaml"
    file.write_text(
        EXAMPLE.replace("hardwax-oil", system).replace("timber: ash", f"timber: {timber}"), encoding="utf-8"
    )
    source = read_source(file, None)
    return set(dangers(together([source])[0].treatments, source.catalogue))


# Why: drying oils heat as they harden (NFPA tip sheet on oily rags); alcohol and hydrocarbon vapour burns (29 CFR
# 1910.94); waterborne finishes do neither; isocyanates sensitise (OSHA letter of 1982-05-06).
CASES = [
    ("linseed-oil", {"self-heating"}, {"isocyanate", "spraying"}),
    ("hardwax-oil", {"self-heating", "flammable"}, {"isocyanate", "spraying"}),
    ("shellac", {"flammable"}, {"self-heating", "isocyanate"}),
    ("waterborne-polyurethane", set(), {"self-heating", "flammable", "isocyanate", "spraying"}),
    ("polyurethane-2k", {"isocyanate", "flammable", "spraying-flammable"}, {"self-heating", "spraying"}),
    ("lacquer", {"flammable", "spraying"}, {"isocyanate"}),
    ("soap", set(), {"self-heating", "flammable", "isocyanate"}),
]


@pytest.mark.parametrize(("system", "there", "not_there"), CASES, ids=[case[0] for case in CASES])
def test_dangers(system: str, there: set[str], not_there: set[str], tmp_path: Path) -> None:
    found = dangers_of(tmp_path, system)
    assert there <= found
    assert not found & not_there
    assert {"always", "sanding"} <= found


def test_rags_are_named_for_oils_alone(tmp_path: Path) -> None:
    oiled = lines_of(tmp_path, "linseed-oil")
    assert oiled["oily-cloths"].rank == 1
    assert oiled["oily-cloths"].because == ("Boiled linseed oil",)
    assert "oily-cloths" not in lines_of(tmp_path, "waterborne-polyurethane")


@pytest.mark.parametrize("system", [case[0] for case in CASES])
def test_rules_and_labels_come_first_always(system: str, tmp_path: Path) -> None:
    line = lines_of(tmp_path, system)["rules-come-first"]
    for words in ("local", "label", "safety data sheet", "licensed"):
        assert words in line.text.lower()


def test_tannin_and_water(tmp_path: Path) -> None:
    assert "tannin-and-water" in dangers_of(tmp_path, "waterborne-polyurethane", "white-oak")
    assert "tannin-and-water" not in dangers_of(tmp_path, "waterborne-polyurethane", "sugar-maple")
    assert "tannin-and-water" not in dangers_of(tmp_path, "oil-varnish", "white-oak")


def test_oily_timber(tmp_path: Path) -> None:
    assert "oily-timber" in dangers_of(tmp_path, "tung-oil", "teak")
    assert "oily-timber" not in dangers_of(tmp_path, "tung-oil", "ash")


def test_the_worst_comes_first(tmp_path: Path) -> None:
    ranks = [line.rank for line in lines_of(tmp_path, "polyurethane-2k").values()]
    assert ranks == sorted(ranks)
