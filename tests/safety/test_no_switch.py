"""Nothing in a shop's or a piece's file switches a caution off."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.inputs.piece import Head
from finplan.inputs.shop import Shop
from finplan.planning import read_source
from finplan.problems import RefusedError
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
