"""Nothing in a shop's or a piece's file switches a caution off."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue, overruled, read_own, with_own
from finplan.catalogue.lost_cautions import unsaid_fire
from finplan.inputs.piece import Head
from finplan.inputs.shop import Shop
from finplan.planning import read_source
from finplan.problems import RefusedError, show_path
from tests.safety.pieces import plan_with, source_with


@pytest.mark.parametrize(
    ("overrides", "wrong"),
    [
        (
            "finishes: {boiled-linseed-oil: {hazards: {self-heating: false}}}",
            "this takes away a caution that applies to 'boiled-linseed-oil'",
        ),
        ("finishes: {shellac: {hazards: {flammable: false}}}", "this takes away a caution that applies to 'shellac'"),
        ("timbers: {ash: {dust: {hardwood: false}}}", "this takes away a caution that applies to 'ash'"),
        ("timbers: {ash: {dust: {sensitiser: 0}}}", "this takes away a caution that applies to 'ash'"),
        (
            "cautions: {oily-cloths: {text: All is well.}}",
            "'oily-cloths' is a record of safety, which no shop changes",
        ),
        ("air-targets: {fire: {share: 90 %}}", "'fire' is a record of safety, which no shop changes"),
        ("mixing: {still: {flow: 9 m3/min}}", "'still' is a record of safety, which no shop changes"),
        ("old-paint: {uk: {until: 1950}}", "'uk' is a record of safety, which no shop changes"),
    ],
)
def test_an_override_that_weakens_is_refused(overrides: str, wrong: str, tmp_path: Path) -> None:
    source_with(tmp_path, "linseed-oil")
    shop = tmp_path / "shop.yaml"
    shop.write_text(f"{shop.read_text(encoding='utf-8')}overrides: {{{overrides}}}\n", encoding="utf-8")
    with pytest.raises(RefusedError) as caught:
        read_source(tmp_path / "piece.yaml", shop)
    assert wrong in [problem.wrong for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("kind", "name", "weaker", "lost"),
    [
        ("finishes", "hardwax-oil", "hazards: {self-heating: false}", ["hazards.self-heating"]),
        (
            "finishes",
            "tung-oil",
            "hazards: {self-heating: false, flammable: false}",
            ["hazards.self-heating", "hazards.flammable"],
        ),
        ("finishes", "tinted-oil-2k", "hazards: {isocyanate: false}", ["hazards.isocyanate"]),
        ("finishes", "oil-varnish", "drying: solvent", ["drying"]),
        ("timbers", "mdf", "sheet: {resin: false}", ["sheet.resin"]),
        ("finishes", "oil-varnish", "hazards: {flammable: false}", ["hazards.flammable"]),
        ("solvents", "turpentine", "sensitiser: false", ["sensitiser"]),
        ("solvents", "white-spirit", "flash-point: 75 degC", ["flash-point"]),
        ("solvents", "white-spirit", "lower-flammable-limit: 5 %", ["lower-flammable-limit"]),
        ("methods", "spray-hvlp", "transfer: null", ["transfer"]),
        ("sanding-methods", "random-orbit-150", "by: hand", ["by"]),
        ("extra-steps", "strip-scrape", "dangers: [sanding]", ["dangers"]),
        ("extra-steps", "strip-scrape", "disturbs-film: false", ["disturbs-film"]),
    ],
)
def test_neither_a_label_nor_a_record_that_is_like_another_takes_a_caution_away(
    kind: str, name: str, weaker: str, lost: list[str], tmp_path: Path
) -> None:
    bundled = bundled_catalogue()
    file = tmp_path / f"{kind}.yaml"
    file.write_text(f"my-own: {{title: My own, basis: label, like: {name}, {weaker}}}\n", encoding="utf-8")
    document = read_own(tmp_path)[kind]
    _, problems = with_own(bundled, {kind: document})
    label = {field: value for field, value in document.data["my-own"].items() if field not in ("title", "like")}
    _, findings = overruled(bundled, {kind: {name: label}})
    wrong = f"this takes away a caution that applies to '{name}'"
    assert [(problem.where, problem.wrong) for problem in problems] == [(f"my-own.{field}", wrong) for field in lost]
    assert [(show_path(one.path), one.wrong) for one in findings] == [
        (f"{kind}.{name}.{field}", wrong) for field in lost
    ]


def test_what_dries_by_oxidation_heats_by_itself_whatever_an_own_record_says(tmp_path: Path) -> None:
    written = {**bundled_catalogue().files.written("finishes")["shellac"], "drying": "oxidation"}
    (tmp_path / "finishes.yaml").write_text(json.dumps({"my-own": written}), encoding="utf-8")
    _, (problem,) = with_own(bundled_catalogue(), read_own(tmp_path))
    assert (problem.where, problem.wrong) == ("my-own.hazards.self-heating", "what dries by oxidation heats by itself")
    assert all(one.hazards.self_heating for one in bundled_catalogue().finishes.values() if one.oxidises)


def test_water_is_not_what_a_finish_gives_off(tmp_path: Path) -> None:
    bundled = bundled_catalogue()
    _, (finding,) = overruled(bundled, {"finishes": {"oil-varnish": {"voc-solvent": "water"}}})
    assert finding.path == ("finishes", "oil-varnish", "voc-solvent")
    written = {**bundled.files.written("finishes")["oil-varnish"], "voc-solvent": "water"}
    (tmp_path / "finishes.yaml").write_text(json.dumps({"my-own": written}), encoding="utf-8")
    _, (problem,) = with_own(bundled, read_own(tmp_path))
    assert problem.where == "my-own.voc-solvent"


def test_what_is_mostly_a_solvent_that_burns_is_not_said_not_to_burn(tmp_path: Path) -> None:
    bundled = bundled_catalogue()
    written = {
        **bundled.files.written("finishes")["waterborne-polyurethane"],
        **{"drying": "solvent", "voc": "650 g/l", "voc-solvent": "toluene"},
    }
    (tmp_path / "finishes.yaml").write_text(json.dumps({"my-own": written}), encoding="utf-8")
    _, problems = with_own(bundled, read_own(tmp_path))
    said = ("my-own.hazards.flammable", "it holds 650 g/l of Toluene, which burns")
    assert said in [(problem.where, problem.wrong) for problem in problems]
    label = {"voc": "650 g/l", "voc-solvent": "toluene"}
    _, findings = overruled(bundled, {"finishes": {"waterborne-polyurethane": label}})
    path = ("finishes", "waterborne-polyurethane", "hazards", "flammable")
    assert path in [finding.path for finding in findings]
    assert unsaid_fire(bundled.finishes, bundled.solvents, bundled.flammability["common"]) == []


def test_an_override_that_adds_a_danger_is_taken(tmp_path: Path) -> None:
    source_with(tmp_path, "waterborne-polyurethane")
    shop = tmp_path / "shop.yaml"
    more = "overrides: {finishes: {waterborne-polyurethane: {hazards: {sensitiser: true}}}}\n"
    shop.write_text(shop.read_text(encoding="utf-8") + more, encoding="utf-8")
    source = read_source(tmp_path / "piece.yaml", shop)
    assert source.catalogue.finishes["waterborne-polyurethane"].hazards.sensitiser


def test_no_field_of_a_file_speaks_of_cautions() -> None:
    for model in (Head, Shop):
        for name in model.model_fields:
            assert not any(word in name for word in ("caution", "safety", "hazard", "warn", "quiet")), name


@pytest.mark.parametrize("room", [None, "volume: 100000 m3, air-changes: 100, fan: 100000 m3/h", "fan: 0 m3/h"])
def test_only_what_is_reckoned_of_air_depends_on_the_room(room: str | None, tmp_path: Path) -> None:
    """What is reckoned of its air asks for a mask or for none; what burns and what harms skin is there in any room."""
    there = {line.code for line in plan_with(tmp_path, "shellac").cautions}
    other = {line.code for line in plan_with(tmp_path, "shellac", room=room).cautions}
    assert other ^ there <= {"solvent-breath", "cartridge-change", "air-near-burning"}
